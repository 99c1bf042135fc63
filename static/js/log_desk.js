// What every log on a phone does with its taps: into the store first, then sent; what waits is
// said, and what the server does not take leaves as a file. Which taps there are is the page's.
import { keepPage } from "./kept.js";
import { Sender } from "./log_send.js";
import { TapStore } from "./log_store.js";
import { part, partOf, said } from "./log_view.js";

/**
 * @typedef {import("./log_store.js").Tap} Tap
 * @typedef {import("./log_store.js").State} State
 * @typedef {import("./log_store.js").Where} Where
 * @typedef {import("./log_store.js").TapRecord} TapRecord
 * @typedef {import("./log_send.js").Tally} Tally
 */

export class Desk {
  /**
   * @param {HTMLElement} root
   * @param {{where: Where, team: number, asks: string, at: string, tally: Tally, changed: () => unknown}} options
   *   asks: whose counts come back, as a query; at, tally: what the page came with; changed() draws the counts anew
   */
  static async open(root, options) {
    const store = await TapStore.open();
    await store.tidy();
    return new Desk(root, store, options);
  }

  /**
   * @param {HTMLElement} root
   * @param {TapStore} store
   * @param {Parameters<typeof Desk.open>[1]} options
   */
  constructor(root, store, { where, team, asks, at, tally, changed }) {
    this.root = root;
    this.store = store;
    this.where = where;
    this.team = team;
    this.changed = changed;
    this.kept = `court-${where}-tally`;
    // A page that opened without signal is older than what the server said last.
    const last = JSON.parse(sessionStorage.getItem(this.kept) || "null");
    /** @type {Tally} */
    this.tally = last && last.at > at ? last.tally : tally;
    this.writing = 0;
    this.shown = 0;
    /** @type {Promise<void>} */
    this.busy = Promise.resolve();
    this.sender = new Sender(store, {
      address: root.dataset.anyTaps ?? "",
      asks,
      changed,
      counted: (fresh) => {
        this.tally = fresh;
        sessionStorage.setItem(this.kept, JSON.stringify({ at: new Date().toISOString(), tally: fresh }));
      },
    });
  }

  /** Takes over from the page as the server sent it. */
  begin() {
    part("hand-over").addEventListener("click", () => this.handOver());
    part("let-go").addEventListener("click", () => this.letGo());
    partOf("sign-in", HTMLAnchorElement).href = `${this.root.dataset.signIn}?next=${encodeURIComponent(window.location.pathname)}`;
    window.addEventListener("beforeunload", (event) => {
      if (this.store.memory.size) event.preventDefault();
    });
    part("plain").remove();
    this.root.hidden = false;
    part("state").setAttribute("role", "status");
  }

  /** @returns {Promise<TapRecord[]>} what this phone holds of this practice or game */
  records() {
    return this.store.of(this.where);
  }

  /**
   * @param {Tap} tap
   * @param {State} [at]
   */
  put(tap, at = "waiting") {
    return this.inTurn(() => this.write(tap, at));
  }

  /**
   * Within a turn.
   * @param {Tap} tap
   * @param {State} [at]
   */
  write(tap, at = "waiting") {
    return this.store.put({ id: tap.id, team: this.team, practice: this.where, made: Date.now(), state: at, tap });
  }

  // Taps are taken one after the other, so that quick thumbs keep their order. From the tap on
  // it shows as waiting, even before the phone has written it down.
  /** @param {() => Promise<void>} work */
  inTurn(work) {
    this.writing += 1;
    this.showWaiting(this.shown + 1);
    this.busy = this.busy
      .then(work)
      .catch((error) => console.warn(error))
      .then(() => {
        this.writing -= 1;
        return this.changed();
      })
      .then(() => this.sender.kick());
    return this.busy;
  }

  /**
   * Says what waits, from what was read together; why, where something is wrong.
   * @param {TapRecord[]} records
   * @param {number} waits
   * @param {number} unsents
   */
  tell(records, waits, unsents) {
    const still = records.filter((record) => record.state === "open").length + this.writing; // not sent either
    const held = records.filter((record) => record.state === "held").length;
    const [waiting, unsent] = [waits + still, unsents + still];
    if (!waiting) part("state").textContent = held ? said("held", { n: held }) : records.length ? said("logged") : "";
    this.showWaiting(waiting);
    const refused = unsent > waiting;
    const why = this.store.fault || (waiting && this.sender.status) || (refused ? "refused" : "");
    part("let-go").hidden = !(refused || (waiting > 0 && this.sender.stuck.size > 0));
    this.note(why ? said(why) : "");
    part("sign-in").hidden = why !== "signed_out";
    part("hand-over").hidden = !why || !(waiting || refused);
  }

  /** @param {string} sentence */
  note(sentence) {
    part("note").hidden = !sentence;
    part("note-text").textContent = sentence;
  }

  /** @param {number} waiting */
  showWaiting(waiting) {
    this.shown = waiting;
    part("state").dataset.waiting = String(waiting);
    if (waiting) part("state").textContent = said("waiting", { n: waiting });
  }

  async handOver() {
    saveAsFile((await this.store.unsent()).map(({ tap }) => tap));
  }

  // What the server does not take leaves the phone as a file, and then the phone.
  async letGo() {
    const stuck = this.sender.stuck;
    const gone = (await this.store.unsent()).filter(({ id, state }) => state === "refused" || stuck.has(id));
    if (!gone.length) return;
    saveAsFile(gone.map(({ tap }) => tap));
    await this.store.drop(gone.map(({ id }) => id));
    gone.forEach(({ id }) => stuck.delete(id));
    await this.changed();
    this.sender.kick();
  }

  /** Has the worker keep the page and what belongs to it, for when there is no signal. */
  async keepPage() {
    const drawn = [...document.querySelectorAll("img.drill-picture")];
    const pictures = drawn.map((each) => (each instanceof HTMLImageElement ? each.src : ""));
    await keepPage(this.root.dataset.worker ?? "", { pictures });
  }
}

/** @param {Tap[]} taps */
const saveAsFile = (taps) => {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([JSON.stringify({ version: 1, taps }, null, 1)], { type: "application/json" }));
  link.download = `waiting-reps-${new Date().toISOString().slice(0, 16).replace(":", "")}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
};
