// Sending what waits: batches, one at a time, again and again until the server has named
// every id. A send that is doubled or cut off does no harm, because ids count once.

const BATCH = 60;
const PATIENCE = 10_000;
const FIRST_PAUSE = 1_000;
const LONGEST_PAUSE = 15_000;

const cookie = (name) =>
  document.cookie.split("; ").find((part) => part.startsWith(`${name}=`))?.slice(name.length + 1) || "";

export class Sender {
  // status: "", "offline", "signed_out" or "refused"; changed() is called after every step.
  constructor(store, { address, practice, changed, counted }) {
    Object.assign(this, { store, address, practice, changed, counted });
    this.status = "";
    this.pause = FIRST_PAUSE;
    this.busy = false;
    this.again = false;
    this.timer = 0;
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
    const waiting = await this.store.waiting();
    if (!waiting.length) {
      this.status = "";
      return false;
    }
    const team = waiting[0].team;
    const batch = waiting.filter((record) => record.team === team).slice(0, BATCH);
    const answer = await this.post(team, batch);
    await this.settle(batch, answer);
    this.status = "";
    await this.changed();
    return true;
  }

  async settle(batch, answer) {
    const bad = answer.faults.map((fault) => batch[Number(fault.place.split("/")[2])]?.id).filter(Boolean);
    await this.store.settle(answer.kept, "kept");
    await this.store.settle(answer.held, "held");
    await this.store.settle(bad, "refused");
    if (answer.tally) this.counted(answer.tally);
    if (!answer.kept.length && !answer.held.length && !bad.length) throw new Error("nothing was answered for");
  }

  async post(team, batch, retried = false) {
    const address = `${this.address.replace("/0/", `/${team}/`)}?practice=${this.practice}`;
    const response = await this.request(address, {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-CSRFToken": cookie("csrftoken") },
      body: JSON.stringify({ version: 1, taps: batch.map((record) => record.tap) }),
    });
    if (response.type === "opaqueredirect") return this.fail("signed_out");
    if (response.status === 403 && !retried) {
      // A new sign-in has changed the token: any page brings the new cookie.
      await this.request(window.location.href, {});
      return this.post(team, batch, true);
    }
    if (response.status === 403 || response.status === 404) return this.fail("refused");
    if (response.status !== 200 && response.status !== 422) return this.fail("offline");
    return response.json();
  }

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

  fail(status) {
    this.status = status;
    throw new Error(status);
  }
}
