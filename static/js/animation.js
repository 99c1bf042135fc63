// A play in motion. The server sends where everybody and the ball are so many times a second,
// and the sentences of what happens; here they are only shown, in between on straight lines.
// Nothing plays by itself, and who asks for less motion goes from moment to moment instead.
import { all, around, need, needed } from "./dom.js";
import { nextTime, placeAt, saidAt } from "./track.js";

/**
 * @typedef {{hz: number, end: number, roles: Record<string, number[]>, ball: number[],
 *   defenders?: Record<string, number[]>, moments: import("./track.js").Moment[]}} Motion
 * @typedef {{shape: Element, track: number[], stride: number}} Mover
 */

const LESS_MOTION = window.matchMedia("(prefers-reduced-motion: reduce)");
const LIFT = 7; // points that a ball rises in the picture for each metre of height
const TENTH = 0.1;

/** @type {WeakMap<Element, Stage>} */
const stages = new WeakMap();

export class Stage {
  /**
   * @param {HTMLElement} box
   * @param {Motion} data
   */
  constructor(box, data) {
    this.box = box;
    this.data = data;
    this.chosen = "";
    this.now = 0;
    /** @type {number | null} the time stamp of the last frame, null while paused */
    this.before = null;
    this.scale = Number(box.dataset.scale);
    /** @type {Mover[]} */
    this.movers = [];
    /** @type {number[]} */
    this.marks = [];
    this.playButton = this.part("play", HTMLButtonElement);
    this.time = this.part("time", HTMLInputElement);
    this.role = this.part("role", HTMLSelectElement);
    this.slow = this.part("slow", HTMLInputElement);
    this.says = this.part("says", HTMLElement);
    this.clock = this.part("clock", HTMLElement);
    this.listen();
    this.part("controls", HTMLElement).hidden = false;
    this.bringOut(this.role.value);
    this.label();
    this.take(data);
  }

  /**
   * Show this motion from its beginning.
   * @param {Motion} data
   */
  take(data) {
    this.data = data;
    this.movers = [
      ...this.things("mover", data.roles, 2),
      ...this.things("guard", data.defenders ?? {}, 2),
      ...this.things("mover", { ball: data.ball }, 3),
    ];
    this.marks = [...new Set(data.moments.map((moment) => moment.at))];
    this.time.max = String(data.end);
    this.go(0);
  }

  /**
   * @template {HTMLElement} T
   * @param {string} name
   * @param {new () => T} kind
   */
  part(name, kind) {
    return needed(this.box, `[data-part="${name}"]`, kind);
  }

  /**
   * @param {string} kind
   * @param {Record<string, number[]>} places
   * @param {number} stride
   * @returns {Mover[]}
   */
  things(kind, places, stride) {
    return Object.entries(places).flatMap(([name, track]) => {
      const shape = this.box.querySelector(`svg [data-${kind}="${name}"]`);
      return shape ? [{ shape, track, stride }] : [];
    });
  }

  listen() {
    this.playButton.addEventListener("click", () => this.toggle());
    this.part("back", HTMLButtonElement).addEventListener("click", () => this.step(-1));
    this.part("forth", HTMLButtonElement).addEventListener("click", () => this.step(1));
    this.time.addEventListener("input", () => this.go(Number(this.time.value)));
    this.role.addEventListener("change", () => this.bringOut(this.role.value));
    const look = this.box.querySelector("[data-part=look]");
    if (look instanceof HTMLSelectElement) look.addEventListener("change", () => this.choose(look.value));
    this.box.addEventListener("keydown", (event) => this.key(event));
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    const on = event.target;
    if (!(on instanceof Element) || on.matches("select") || event.ctrlKey || event.metaKey || event.altKey) return;
    const way = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (event.key === " " && !on.matches("button, [type=checkbox]")) this.toggle();
    else if (event.key === "Home") this.go(0);
    else if (event.key === "End") this.go(this.data.end);
    else if (way && event.shiftKey) this.step(way);
    else if (way) this.go(this.now + way * TENTH);
    else return;
    event.preventDefault();
  }

  /**
   * The play as it goes when this look is thrown; of two choices the later one is shown.
   * @param {string} look its id, "" for the play as it is written
   */
  async choose(look) {
    this.pause();
    this.chosen = look;
    try {
      const data = await motionOf(this.box, look);
      if (this.chosen === look) this.take(data);
    } catch {
      this.says.textContent = this.box.dataset.fault ?? "";
    }
  }

  get playing() {
    return this.before !== null;
  }

  toggle() {
    if (LESS_MOTION.matches) this.step(1);
    else if (this.playing) this.pause();
    else this.start();
  }

  start() {
    if (this.now >= this.data.end - 0.01) this.show(0);
    this.before = performance.now();
    this.says.removeAttribute("aria-live");
    this.label();
    requestAnimationFrame((stamp) => this.frame(stamp));
  }

  pause() {
    this.before = null;
    this.says.setAttribute("aria-live", "polite");
    this.label();
  }

  /** @param {number} stamp */
  frame(stamp) {
    if (this.before === null || !this.box.isConnected) return;
    const speed = this.slow.checked ? 0.5 : 1;
    this.show(this.now + (speed * Math.max(stamp - this.before, 0)) / 1000);
    this.before = stamp;
    if (this.now >= this.data.end) this.pause();
    else requestAnimationFrame((next) => this.frame(next));
  }

  label() {
    const { play, pause, next } = this.box.dataset;
    this.playButton.textContent = (LESS_MOTION.matches ? next : this.playing ? pause : play) ?? "";
  }

  /**
   * To the next moment at which something happens, or back to the one before.
   * @param {number} way 1 or -1
   */
  step(way) {
    this.go(nextTime(this.marks, this.now, way, this.data.end));
  }

  /** @param {number} seconds */
  go(seconds) {
    this.pause();
    this.show(seconds);
  }

  /** @param {number} seconds */
  show(seconds) {
    this.now = Math.min(Math.max(seconds, 0), this.data.end);
    for (const mover of this.movers) this.place(mover);
    const text = saidAt(this.data.moments, this.now);
    if (this.says.textContent !== text) this.says.textContent = text;
    const digits = { minimumFractionDigits: 1, maximumFractionDigits: 1 };
    const clock = `${this.now.toLocaleString(document.documentElement.lang, digits)} s`;
    this.clock.textContent = clock;
    this.time.value = String(this.now);
    this.time.setAttribute("aria-valuetext", clock);
    this.box.dataset.now = this.now.toFixed(2);
    for (const line of all(document, '.strip [data-part="now"]')) {
      line.setAttribute("transform", `translate(${(this.now * Number(line.dataset.unit)).toFixed(1)} 0)`);
    }
  }

  /** @param {Mover} mover */
  place({ shape, track, stride }) {
    const here = placeAt(track, stride, this.data.hz, this.now);
    const [x = 0, y = 0, high = 0] = here.map((value, k) => value - (track[k] ?? 0));
    const [across, down] = [x * this.scale, y * this.scale - high * LIFT];
    shape.setAttribute("transform", `translate(${across.toFixed(2)} ${down.toFixed(2)})`);
  }

  /** @param {string} role "" for everybody alike */
  bringOut(role) {
    this.box.classList.toggle("has-own", role !== "");
    for (const shape of all(this.box, "svg [data-mover], svg [data-guard], svg [data-way]")) {
      const mine = [shape.dataset.mover, shape.dataset.guard, shape.dataset.way].includes(role);
      shape.classList.toggle("is-own", role !== "" && mine);
    }
  }
}

/**
 * @param {HTMLElement} box
 * @param {string} look
 * @returns {Promise<Motion>}
 */
const motionOf = async (box, look) => {
  const address = new URL(box.dataset.motion ?? "", location.href);
  if (look) address.searchParams.set("look", look);
  const answer = await fetch(address, { headers: { Accept: "application/json" } });
  if (!answer.ok) throw new Error(String(answer.status));
  return answer.json();
};

/** @param {HTMLElement} box */
const load = async (box) => {
  box.dataset.ready = "asked";
  try {
    stages.set(box, new Stage(box, await motionOf(box, "")));
    box.dataset.ready = "yes";
  } catch {
    need(box, "[data-part=says]").textContent = box.dataset.fault ?? "";
  }
};

const setUp = () => {
  all(document, ".stage[data-motion]:not([data-ready])").forEach(load);
  for (const button of all(document, ".needs-script[hidden]")) button.hidden = false;
};

// A finding's button shows its moment.
document.addEventListener("click", (event) => {
  const button = around(event, "[data-at]");
  const [box] = all(document, ".stage");
  const stage = box && stages.get(box);
  if (!button || !box || !stage) return;
  stage.go(Number(button.dataset.at));
  box.scrollIntoView({ block: "nearest" });
});
LESS_MOTION.addEventListener("change", () => {
  for (const box of all(document, ".stage")) stages.get(box)?.pause();
});
document.addEventListener("DOMContentLoaded", setUp);
document.addEventListener("htmx:afterSettle", setUp);
