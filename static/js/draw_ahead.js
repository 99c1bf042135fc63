// What the server does not have yet is drawn by the device: without a signal the people move all the same.
// @ts-check
import { all } from "./dom.js";
import { toPicture } from "./draw_floor.js";
import { named } from "./draw_step.js";

/** @typedef {import("./draw_floor.js").At} At */
/** @typedef {import("./draw_floor.js").Spot} Spot */
/** @typedef {import("./draw_step.js").Ground} Ground */
/** @typedef {import("./draw_store.js").Step} Step */
/** @typedef {{role: string, from: At, to: At}} Trail somebody on their way; ``role`` is empty for a ball or a dot of a line */

const SVG = "http://www.w3.org/2000/svg";
const RADIUS = 11; // picture points
const DISC = 13;
const OPENING = ["phase", "counter", "restore", "remove_phase", "remove_counter"];
const BEGINNING = ["phase", "counter"];
const MOVING = ["act", "place"];
const BETWEEN = ["pass", "handoff", "gate"];

/** Whether a step begins a phase or a counter, where what is drawn next belongs. @param {Step} step */
export const begins = (step) => BEGINNING.includes(JSON.parse(step.command).do);

/** Whether a step leads to a page that only the server can draw. @param {Step} step */
export const opens = (step) => OPENING.includes(JSON.parse(step.command).do);

/**
 * Where the steps lead, in their order, from where everybody stands. What has no way is not in it.
 * @param {Step[]} steps of one phase
 * @param {Record<string, At>} standing by role, and the dots of lines by action and number ("2-cut 0")
 * @returns {Trail[]}
 */
export function trails(steps, standing) {
  const now = { ...standing };
  /** @type {Trail[]} */
  const found = [];
  /** @param {string} role @param {string} key @param {[number, number]} at */
  const go = (role, key, [x, y]) => {
    if (now[key]) found.push({ role, from: now[key], to: { x, y } });
    now[key] = { x, y };
  };
  for (const each of steps) {
    const { do: what, role, kind, at, other, posts, action, point } = JSON.parse(each.command);
    const [from, to] = [now[posts?.[0] ?? role], now[posts?.[1] ?? other]];
    if (at && MOVING.includes(what)) go(role, role, at);
    else if (what === "move") go("", `${action} ${point}`, at);
    else if (what === "bend") found.push({ role: "", from: { x: at[0], y: at[1] }, to: { x: at[0], y: at[1] } });
    else if (from && to && [kind, what].some((one) => BETWEEN.includes(one))) found.push({ role: "", from, to });
  }
  return found;
}

/** @param {string} name @param {Record<string, string | number>} values @param {string} text */
const shape = (name, values, text = "") => {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(values)) made.setAttribute(key, String(value));
  made.textContent = text;
  return made;
};

/**
 * Draws the trails over the court and takes along what can be taken hold of. The court is one that the
 * server has just drawn, or that was drawn on before: then it is put back first.
 * @param {HTMLElement} floor
 * @param {Step[]} steps of the phase before their eyes
 * @param {Spot[]} spots
 * @param {Ground} ground
 */
export function drawAhead(floor, steps, spots, ground) {
  const frame = { left: Number(floor.dataset.left), top: Number(floor.dataset.top), scale: Number(floor.dataset.scale) };
  /** @param {HTMLElement} hand @param {At} to @param {string} label */
  const put = (hand, to, label) => {
    const [cx, cy] = toPicture(frame, to);
    Object.assign(hand.dataset, { x: String(to.x), y: String(to.y) });
    hand.setAttribute("aria-label", label);
    for (const [name, value] of Object.entries({ cx, cy })) hand.querySelector("circle")?.setAttribute(name, String(value));
  };
  const people = all(floor, ".piece, .start");
  for (const hand of people) {
    const { x = "", y = "", home = JSON.stringify([Number(x), Number(y), hand.getAttribute("aria-label")]) } = hand.dataset;
    hand.dataset.home = home;
    const [homeX, homeY, label] = JSON.parse(home);
    put(hand, { x: homeX, y: homeY }, label);
  }
  /** @type {Record<string, At>} */
  const standing = {};
  for (const { dataset } of all(floor, ".way, .start, .piece")) {
    const name = dataset.action ? `${dataset.action} ${dataset.point}` : dataset.role ?? "";
    standing[name] = { x: Number(dataset.x), y: Number(dataset.y) };
  }
  const layer = /** @type {SVGGElement} */ (floor.querySelector(".ahead"));
  layer.replaceChildren();
  for (const { role, from, to } of trails(steps, standing)) {
    const [[x0, y0], [x2, y2]] = [toPicture(frame, from), toPicture(frame, to)];
    const clear = Math.min(1, DISC / (Math.hypot(x2 - x0, y2 - y0) || 1)); // the line begins outside the number
    const [x1, y1] = [x0 + clear * (x2 - x0), y0 + clear * (y2 - y0)];
    layer.append(shape("line", { x1, y1, x2, y2 }), shape("circle", { cx: x2, cy: y2, r: role ? RADIUS : 4 }));
    if (role) layer.append(shape("text", { x: x2, y: y2 }, role));
    for (const hand of people) if (role && hand.dataset.role === role) put(hand, to, `${role}: ${named(to, spots, ground)}`);
  }
}
