// What this device keeps of a drawing: steps that the server does not have yet, what is typed and not
// sent, and for the sitting the states to go back to.
// @ts-check

/** @typedef {{once: string, command: string, phase: string, counter: string, way: "step" | "back" | "forth", into?: string}} Step
 * ``into``: the step that opens the phase or the counter that this one is drawn in */
/** @typedef {import("./draw_past.js").Past} Past */
/** @typedef {{base: string, steps: Step[]}} Waiting the content that the first step was made on, and the steps */

const FEWER = 20; // states to go back to that outlive a reload where the device takes no more

/**
 * @param {string} key of the play
 * @param {{local: Storage, session: Storage}} stores
 * @param {() => void} full called when the device takes no more
 */
export function keeper(key, stores, full) {
  const window_ = stores.session.getItem("coachbook-window") ?? crypto.randomUUID();
  const waitingName = `coachbook-draw-${key}-${window_}`;
  const pastName = `coachbook-drawn-${key}`;
  const typedName = `coachbook-typed-${key}`;

  /** @param {Storage} store @param {string} name @param {unknown} value @returns {boolean} whether it is kept */
  const put = (store, name, value) => {
    try {
      store.setItem(name, JSON.stringify(value));
      return true;
    } catch {
      return false;
    }
  };
  try {
    stores.session.setItem("coachbook-window", window_);
  } catch {
    full();
  }
  /** @param {Storage} store @param {string} name @param {any} otherwise */
  const take = (store, name, otherwise) => {
    try {
      return JSON.parse(store.getItem(name) ?? "null") ?? otherwise;
    } catch {
      return otherwise;
    }
  };
  /** @type {Past} */
  let past = take(stores.session, pastName, { back: [], forth: [] });
  return {
    /** @returns {Waiting} */
    waiting: () => take(stores.local, waitingName, { base: "", steps: [] }),
    /** @param {Waiting} waiting */
    keep: (waiting) => {
      if (waiting.steps.length) {
        if (!put(stores.local, waitingName, waiting)) full();
      } else stores.local.removeItem(waitingName);
    },
    past: () => past,
    /** In this window nothing of it is lost; on a full device the newest states outlive a reload. @param {Past} now */
    remember: (now) => {
      past = now;
      if (put(stores.session, pastName, now)) return;
      put(stores.session, pastName, { back: now.back.slice(-FEWER), forth: now.forth.slice(-FEWER) });
    },
    /** What was typed under a name and not sent. @param {string} name @returns {string | null} */
    typed: (name) => take(stores.session, typedName, {})[name] ?? null,
    /** @param {string} name @param {string | null} text null once it is sent */
    type: (name, text) => {
      const now = take(stores.session, typedName, {});
      if (text === null) delete now[name];
      else now[name] = text;
      if (!put(stores.session, typedName, now)) full();
    },
    /** What windows that were closed have left behind: the newest first gets it. @returns {Waiting | null} */
    left: () => {
      const names = Object.keys(stores.local).filter((name) => name.startsWith(`coachbook-draw-${key}-`) && name !== waitingName);
      const found = names.length ? take(stores.local, names[0], null) : null;
      if (names.length) stores.local.removeItem(names[0]);
      return found;
    },
  };
}
