// The court under mouse, finger, pen and keyboard: what is taken hold of, and where it goes.
// Every gesture ends in one place, and only a finished one becomes a step.
// @ts-check
import { nearest, stepped, stretch, toMetres, tolerance, toPicture } from "./draw_floor.js";

/** @typedef {import("./draw_floor.js").At} At */
/** @typedef {{x: number, y: number, role: string, action: string, point: number, idle: boolean, element: SVGGElement}} Hold */
/** @typedef {{hold: Hold} & At} Disc a person's disc as it is drawn, before they go */
/** @typedef {{hold: Hold | null, line: {action: string, point: number} | null, from: At, to: At, id: number, moved: boolean}} Press */

const DISC = 13; // picture points: the radius of a person's disc
const STILL = 6; // CSS pixels that a press may wander and still be a tap
/** @type {Record<string, 1 | -1>} */
const PAGES = { PageUp: -1, PageDown: 1 }; // through what they do
const SVG = "http://www.w3.org/2000/svg";

/** Whether two are the same disc or dot, whichever answer drew them. @param {Hold | null} one @param {Hold} other */
const same = (one, other) => one?.element.dataset.key === other.element.dataset.key;

/** Whether a key with Alt or Ctrl is the browser's. @param {KeyboardEvent} event */
const leftAlone = (event) => event.altKey || ((event.ctrlKey || event.metaKey) && !event.key.startsWith("Arrow"));

/**
 * @param {HTMLElement} floor
 * @param {{
 *   land: (hold: Hold | null, at: At) => At,
 *   holding: () => string,
 *   chosen: () => Hold | null,
 *   choose: (hold: Hold | null) => void,
 *   finish: (hold: Hold, to: At, at?: At) => void,
 *   bend: (line: {action: string, point: number}, to: At) => void,
 *   drops: () => boolean,
 *   meets: () => boolean,
 *   say: (at: At) => void,
 *   jump: (at: At, key: string) => At | null,
 *   turn: (by: 1 | -1) => void,
 *   ended: () => void,
 * }} door
 * @returns {{stop: () => void, busy: () => boolean}} ends whatever is under way; whether anything is
 */
export function handle(floor, door) {
  const hands = /** @type {SVGSVGElement} */ (floor.querySelector("svg.hands"));
  const ghost = /** @type {SVGGElement} */ (hands.querySelector(".ghost"));
  const frame = { left: Number(floor.dataset.left), top: Number(floor.dataset.top), scale: Number(floor.dataset.scale) };
  const wide = hands.viewBox.baseVal.width;
  /** @type {Press | null} */
  let press = null;
  /** @type {At | null} */
  let target = null;

  /** @param {Element} element @returns {Hold} */
  const hold = (element) => {
    const one = /** @type {SVGGElement} */ (element);
    const { x, y, role = "", action = "", point } = one.dataset;
    return { x: Number(x), y: Number(y), role, action, point: Number(point), idle: "idle" in one.dataset, element: one };
  };
  const holds = () => [...hands.querySelectorAll(door.holding())].map(hold);
  /** Who has gone elsewhere is drawn where they come from: their disc takes hold of them, too. @returns {Disc[]} */
  const discs = () => holds().flatMap((each) => {
    const { outX, outY } = each.element.dataset;
    return outX && outY ? [{ x: Number(outX), y: Number(outY), hold: each }] : [];
  });
  /** @param {At} at @param {number} reach metres */
  const taken = (at, reach) => nearest(at, holds(), reach) ?? nearest(at, discs(), DISC / frame.scale)?.hold ?? null;
  /** The stretch of a line that is nearest. @param {At} at @param {number} reach metres */
  const lineAt = (at, reach) => {
    /** @type {{action: string, point: number, away: number} | null} */
    let line = null;
    for (const each of hands.querySelectorAll("[data-line]")) {
      const data = /** @type {SVGGElement} */ (each).dataset;
      const on = stretch(at, JSON.parse(data.path || "[]"), reach);
      if (on && (!line || on.away < line.away)) line = { action: data.line ?? "", point: on.point, away: on.away };
    }
    return line;
  };
  const perPixel = () => wide / (hands.getBoundingClientRect().width || wide) / frame.scale;
  /** @param {PointerEvent} event @returns {At} */
  const metres = (event) => {
    const box = hands.getBoundingClientRect();
    const zoom = wide / (box.width || wide); // picture points in a CSS pixel
    return toMetres(frame, [(event.clientX - box.left) * zoom, (event.clientY - box.top) * zoom]);
  };

  /** @param {At} from @param {At} to */
  const draw = (from, to) => {
    const [ax, ay] = toPicture(frame, from);
    const [bx, by] = toPicture(frame, to);
    const line = document.createElementNS(SVG, "line");
    const ring = document.createElementNS(SVG, "circle");
    for (const [name, value] of Object.entries({ x1: ax, y1: ay, x2: bx, y2: by })) line.setAttribute(name, String(value));
    for (const [name, value] of Object.entries({ cx: bx, cy: by, r: 9 })) ring.setAttribute(name, String(value));
    ghost.replaceChildren(line, ring);
  };

  /** The one end of every gesture: up, cancel, Escape, a lost pointer, a replaced court. @param {boolean} counts */
  const end = (counts) => {
    const last = press;
    if (!last) return;
    press = null;
    if (hands.hasPointerCapture(last.id)) hands.releasePointerCapture(last.id);
    ghost.replaceChildren();
    const chosen = door.chosen();
    door.ended();
    if (!counts) return;
    const to = door.land(last.moved ? last.hold : chosen, last.to);
    if (last.moved && last.hold) door.finish(last.hold, to, last.to);
    else if (last.moved && last.line) door.bend(last.line, to);
    else if (!last.moved) tap(last, to, chosen);
  };
  /** @param {Press} last @param {At} to @param {Hold | null} chosen */
  const tap = (last, to, chosen) => {
    if (last.hold && chosen && door.meets() && last.hold.role !== chosen.role) door.finish(chosen, to, last.to);
    else if (last.hold) door.choose(same(chosen, last.hold) ? null : last.hold);
    else if (chosen) door.finish(chosen, to);
  };

  hands.addEventListener("pointerdown", (event) => {
    if (press) return end(false); // a second finger is for the page: it zooms
    if (event.button !== 0) return;
    const at = metres(event);
    const reach = Math.max(tolerance(event.pointerType) * perPixel(), event.pointerType === "mouse" ? 0.6 : 0);
    const found = taken(at, reach);
    press = { hold: found, line: found ? null : lineAt(at, reach), from: found ?? at, to: at, id: event.pointerId, moved: false };
    hands.setPointerCapture(event.pointerId);
    found?.element.focus({ preventScroll: true });
    event.preventDefault();
  });
  hands.addEventListener("pointermove", (event) => {
    if (!press || event.pointerId !== press.id) return;
    const at = metres(event);
    press.moved ||= Math.hypot(at.x - press.to.x, at.y - press.to.y) > STILL * perPixel();
    if (!press.moved) return;
    press.to = at;
    if (press.hold || press.line) draw(press.from, door.land(press.hold, at));
  });
  hands.addEventListener("pointerup", (event) => { if (event.pointerId === press?.id) end(true); });
  hands.addEventListener("pointercancel", () => end(false));
  hands.addEventListener("lostpointercapture", () => end(false));

  const forget = () => {
    target = null;
    ghost.replaceChildren();
    door.ended();
  };
  /** @param {string} role */
  const digit = (role) => {
    const other = holds().find((each) => each.role === role);
    const chosen = door.chosen();
    forget();
    if (other && chosen && door.drops() && other.role !== chosen.role) return door.finish(chosen, other);
    if (!other) return;
    door.choose(other); // finds them on the court of the newest answer
    other.element.focus();
  };
  /** @param {KeyboardEvent} event @param {Hold} here */
  const arrow = (event, here) => {
    const from = door.chosen() ?? here;
    if (!door.chosen()) door.choose(here);
    const at = target ?? { x: from.x, y: from.y };
    const far = event.ctrlKey || event.metaKey;
    target = far ? door.jump(at, event.key) ?? at : stepped(at, event.key, event.shiftKey);
    if (!target) return;
    draw(from, target);
    door.say(target);
  };
  /** @param {Hold} here */
  const enter = (here) => {
    const chosen = door.chosen();
    const to = target;
    forget();
    if (chosen && to) return door.finish(chosen, to);
    if (chosen && door.drops() && here.role !== chosen.role) return door.finish(chosen, here);
    return door.choose(same(chosen, here) ? null : here);
  };
  const leave = () => {
    end(false);
    forget();
    door.choose(null);
  };
  floor.addEventListener("keydown", (event) => {
    if (leftAlone(event)) return;
    const element = /** @type {Element} */ (event.target).closest("[data-key]");
    if (event.key === "Escape") leave();
    else if (/^[1-5]$/.test(event.key)) digit(event.key);
    else if (event.key in PAGES) door.turn(PAGES[event.key]);
    else if (event.key.startsWith("Arrow") && element) arrow(event, hold(element));
    else if ((event.key === "Enter" || event.key === " ") && element) enter(hold(element));
    else return;
    event.preventDefault();
  });
  return {
    stop: () => {
      end(false);
      forget();
    },
    busy: () => press !== null || target !== null,
  };
}
