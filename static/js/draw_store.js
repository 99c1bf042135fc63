// What this device keeps of a drawing: steps that the server does not have yet, and for the
// sitting the states to go back to.
// @ts-check

/** @typedef {{once: string, command: string, phase: string, counter: string, way: "step" | "back" | "forth"}} Step */
/** @typedef {{base: string, steps: Step[]}} Waiting the content that the first step was made on, and the steps */

/**
 * @param {string} key of the play
 * @param {{local: Storage, session: Storage}} stores
 * @param {() => void} full called when the device takes no more
 */
export function keeper(key, stores, full) {
  const window_ = stores.session.getItem("coachbook-window") ?? crypto.randomUUID();
  const waitingName = `coachbook-draw-${key}-${window_}`;
  const pastName = `coachbook-drawn-${key}`;

  /** @param {Storage} store @param {string} name @param {unknown} value */
  const put = (store, name, value) => {
    try {
      store.setItem(name, JSON.stringify(value));
    } catch {
      full();
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
  return {
    /** @returns {Waiting} */
    waiting: () => take(stores.local, waitingName, { base: "", steps: [] }),
    /** @param {Waiting} waiting */
    keep: (waiting) => {
      if (waiting.steps.length) put(stores.local, waitingName, waiting);
      else stores.local.removeItem(waitingName);
    },
    /** @returns {{back: string[], forth: string[]}} */
    past: () => take(stores.session, pastName, { back: [], forth: [] }),
    /** @param {{back: string[], forth: string[]}} past */
    remember: (past) => put(stores.session, pastName, past),
    /** What windows that were closed have left behind: the newest first gets it. @returns {Waiting | null} */
    left: () => {
      const names = Object.keys(stores.local).filter((name) => name.startsWith(`coachbook-draw-${key}-`) && name !== waitingName);
      const found = names.length ? take(stores.local, names[0], null) : null;
      if (names.length) stores.local.removeItem(names[0]);
      return found;
    },
  };
}
