// The court under mouse, finger, pen and keyboard: what is taken hold of, and where it goes.
// Every gesture ends in one place, and only a finished one becomes a step.
// @ts-check
import { nearest, snapped, stepped, stretch, tolerance } from "./draw_floor.js";

/** @typedef {import("./draw_floor.js").At} At */
/** @typedef {{x: number, y: number, role: string, action: string, point: number, element: SVGGElement}} Hold */
/** @typedef {{hold: Hold | null, line: {action: string, point: number} | null, from: At, to: At, id: number, moved: boolean}} Press */

const STILL = 6; // CSS pixels that a press may wander and still be a tap
const SVG = "http://www.w3.org/2000/svg";

/**
 * @param {HTMLElement} floor
 * @param {{
 *   spots: import("./draw_floor.js").Spot[],
 *   placing: () => boolean,
 *   chosen: () => Hold | null,
 *   choose: (hold: Hold | null) => void,
 *   finish: (hold: Hold, to: At) => void,
 *   bend: (line: {action: string, point: number}, to: At) => void,
 *   drops: () => boolean,
 *   say: (at: At) => void,
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
    const { x, y, role, action, point } = /** @type {SVGGElement} */ (element).dataset;
    return { x: Number(x), y: Number(y), role: role ?? "", action: action ?? "", point: Number(point), element: /** @type {SVGGElement} */ (element) };
  };
  const holds = () => [...hands.querySelectorAll(door.placing() && hands.querySelector(".start") ? ".start" : ".piece, .way")].map(hold);
  const perPixel = () => wide / (hands.getBoundingClientRect().width || wide) / frame.scale;
  /** @param {PointerEvent} event @returns {At} */
  const metres = (event) => {
    const box = hands.getBoundingClientRect();
    return { x: frame.left + (event.clientX - box.left) * perPixel(), y: frame.top + (event.clientY - box.top) * perPixel() };
  };
  /** @param {At} at @returns {[number, number]} */
  const shown = (at) => [(at.x - frame.left) * frame.scale, (at.y - frame.top) * frame.scale];

  /** @param {At} from @param {At} to */
  const draw = (from, to) => {
    const [ax, ay] = shown(from);
    const [bx, by] = shown(to);
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
    const to = door.drops() ? last.to : snapped(last.to, door.spots);
    if (last.moved && last.hold) door.finish(last.hold, to);
    else if (last.moved && last.line) door.bend(last.line, to);
    else if (!last.moved) tap(last, to, chosen);
  };
  /** @param {Press} last @param {At} to @param {Hold | null} chosen */
  const tap = (last, to, chosen) => {
    if (last.hold && chosen && door.drops() && last.hold.role !== chosen.role) door.finish(chosen, last.to);
    else if (last.hold) door.choose(chosen && chosen.element === last.hold.element ? null : last.hold);
    else if (chosen) door.finish(chosen, to);
  };

  hands.addEventListener("pointerdown", (event) => {
    if (press) return end(false); // a second finger is for the page: it zooms
    if (event.button !== 0) return;
    const at = metres(event);
    const reach = Math.max(tolerance(event.pointerType) * perPixel(), event.pointerType === "mouse" ? 0.6 : 0);
    const found = nearest(at, holds(), reach);
    /** @type {{action: string, point: number, away: number} | null} */
    let line = null;
    for (const each of found ? [] : hands.querySelectorAll("[data-line]")) {
      const data = /** @type {SVGGElement} */ (each).dataset;
      const on = stretch(at, JSON.parse(data.path || "[]"), reach);
      if (on && (!line || on.away < line.away)) line = { action: data.line ?? "", point: on.point, away: on.away };
    }
    press = { hold: found, line, from: found ?? at, to: at, id: event.pointerId, moved: false };
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
    if (press.hold || press.line) draw(press.from, door.drops() ? at : snapped(at, door.spots));
  });
  hands.addEventListener("pointerup", (event) => { if (event.pointerId === press?.id) end(true); });
  hands.addEventListener("pointercancel", () => end(false));
  hands.addEventListener("lostpointercapture", () => end(false));

  const forget = () => {
    target = null;
    ghost.replaceChildren();
    door.ended();
  };
  floor.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const element = /** @type {Element} */ (event.target).closest("[data-key]");
    const here = element ? hold(element) : null;
    if (event.key === "Escape") {
      end(false);
      forget();
      door.choose(null);
    } else if (/^[1-5]$/.test(event.key)) {
      const other = holds().find((each) => each.role === event.key && !each.action);
      const chosen = door.chosen();
      forget();
      if (other && chosen && door.drops() && other.role !== chosen.role) door.finish(chosen, other);
      else if (other) {
        other.element.focus();
        door.choose(other);
      }
    } else if (event.key.startsWith("Arrow") && here) {
      const from = door.chosen() ?? here;
      if (!door.chosen()) door.choose(here);
      target = stepped(target ?? from, event.key, event.shiftKey);
      if (target) draw(from, target);
      if (target) door.say(target);
    } else if ((event.key === "Enter" || event.key === " ") && here) {
      const chosen = door.chosen();
      const to = target;
      forget();
      if (chosen && to) door.finish(chosen, to);
      else if (chosen && door.drops() && here.role !== chosen.role) door.finish(chosen, here);
      else door.choose(chosen?.element === here.element ? null : here);
    } else return;
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
