// Sending what waits: batches, one at a time, again and again until the server has named
// every id. A send that is doubled or cut off does no harm, because ids count once. A batch that
// the server chokes on is halved until the one tap is found that does it: the others go through.

const BATCH = 60;
const PATIENCE = 10_000;
const FIRST_PAUSE = 1_000;
const LONGEST_PAUSE = 15_000;
const MOST_STUCK = 3; // so many without one that goes through: then it is the server

/**
 * @typedef {import("./log_store.js").TapRecord} TapRecord
 * @typedef {Record<string, {total: number, clean: number}>} Tally the server's counts by play
 * @typedef {{kept: string[], held: string[], refused?: Record<string, unknown>, faults: {place: string}[],
 *   tally?: Tally}} Answer
 * @typedef {Pick<import("./log_store.js").TapStore, "waiting" | "settle">} Waiting
 */

/** @param {string} name */
const cookie = (name) =>
  document.cookie.split("; ").find((part) => part.startsWith(`${name}=`))?.slice(name.length + 1) || "";

export class Sender {
  // status: "", "offline", "signed_out", "refused" or "stuck"; changed() comes after every step.
  /**
   * @param {Waiting} store
   * @param {{address: string, asks: string, changed: () => unknown, counted: (tally: Tally) => void}} options
   *   asks: whose counts come back, as a query
   */
  constructor(store, { address, asks, changed, counted }) {
    this.store = store;
    this.address = address;
    this.asks = asks;
    this.changed = changed;
    this.counted = counted;
    this.status = "";
    this.pause = FIRST_PAUSE;
    this.busy = false;
    this.again = false;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.timer = undefined;
    this.size = BATCH;
    this.passed = 0; // batches that went through in this round
    /** @type {Set<string>} */
    this.stuck = new Set(); // ids that the server cannot take now; tried again in the next round
  }

  start() {
    window.addEventListener("online", () => this.kick());
    document.addEventListener("visibilitychange", () => document.hidden || this.kick());
    this.kick();
  }

  kick() {
    if (this.busy) {
      this.again = true;
      return;
    }
    clearTimeout(this.timer);
    this.run();
  }

  async run() {
    this.busy = true;
    this.again = false;
    let sent = true;
    this.stuck.clear();
    this.passed = 0;
    try {
      while (sent) sent = await this.sendSome();
      this.pause = FIRST_PAUSE;
    } catch {
      this.status = this.status || "offline";
      this.timer = setTimeout(() => this.kick(), this.pause);
      this.pause = Math.min(LONGEST_PAUSE, this.pause * 2);
      this.again = false;
    }
    this.busy = false;
    await this.changed();
    if (this.again) this.kick();
  }

  // One batch of one team; false when nothing waits. Throws when it has to be tried again.
  async sendSome() {
    const waiting = (await this.store.waiting()).filter((record) => !this.stuck.has(record.id));
    const [first] = waiting;
    if (!first) {
      if (this.stuck.size) this.fail("stuck");
      this.status = "";
      return false;
    }
    const { team } = first;
    const batch = waiting.filter((record) => record.team === team).slice(0, this.size);
    const answer = await this.post(team, batch);
    if (!answer || !(await this.settle(batch, answer))) {
      this.halve(batch);
      return true;
    }
    this.passed += 1;
    this.size = BATCH;
    this.status = "";
    await this.changed();
    return true;
  }

  /**
   * The half of a batch comes next; a single tap steps aside for this round.
   * @param {TapRecord[]} batch
   */
  halve(batch) {
    if (batch.length > 1) {
      this.size = Math.ceil(batch.length / 2);
      return;
    }
    for (const { id } of batch) this.stuck.add(id);
    if (this.stuck.size >= MOST_STUCK && !this.passed) this.fail("offline");
  }

  /**
   * False where the answer names none of the batch.
   * @param {TapRecord[]} batch
   * @param {Answer} answer
   */
  async settle(batch, answer) {
    const bad = answer.faults.flatMap((fault) => batch[Number(fault.place.split("/")[2])]?.id ?? []);
    await this.store.settle(answer.kept, "kept");
    await this.store.settle(answer.held, "held");
    const refused = [...bad, ...Object.keys(answer.refused || {})];
    await this.store.settle(refused, "refused");
    if (answer.tally) this.counted(answer.tally);
    return answer.kept.length + answer.held.length + refused.length > 0;
  }

  /**
   * @param {number} team
   * @param {TapRecord[]} batch
   * @returns {Promise<Answer | null>} null where something in the batch is not to be taken
   */
  async post(team, batch, retried = false) {
    const address = `${this.address.replace("/0/", `/${team}/`)}?${this.asks}`;
    const response = await this.request(address, {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-CSRFToken": cookie("__Host-csrftoken") || cookie("csrftoken") },
      body: JSON.stringify({ version: 1, taps: batch.map((record) => record.tap) }),
    });
    if (response.type === "opaqueredirect") return this.fail("signed_out");
    if (response.status === 403 && !retried) {
      // A new sign-in has changed the token: any page brings the new cookie.
      await this.request(window.location.href, {});
      return this.post(team, batch, true);
    }
    if (response.status === 403 || response.status === 404) return this.fail("refused");
    if ([400, 413, 500].includes(response.status)) return null; // something in the batch
    if (response.status !== 200 && response.status !== 422) return this.fail("offline");
    return response.json();
  }

  /**
   * @param {string} address
   * @param {RequestInit} options
   */
  async request(address, options) {
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), PATIENCE);
    try {
      return await fetch(address, { ...options, redirect: "manual", cache: "no-store", signal: stop.signal });
    } catch (error) {
      this.status = "offline";
      throw error;
    } finally {
      clearTimeout(timer);
    }
  }

  /**
   * @param {string} status
   * @returns {never}
   */
  fail(status) {
    this.status = status;
    throw new Error(status);
  }
}
