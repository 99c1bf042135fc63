// What the form and the floor say at this moment: what is chosen to be done, and who stands where.
// @ts-check
import { all, need } from "./dom.js";
import { drawn } from "./draw_part.js";
import { holding } from "./draw_step.js";

/** @typedef {import("./draw_hand.js").Hold} Hold */
/** @typedef {import("./draw_step.js").Doing} Doing */

/**
 * @param {(name: string) => HTMLSelectElement | RadioNodeList} field
 * @param {DOMStringMap} words
 * @returns {Doing}
 */
export const doingNow = (field, words) => ({
  kind: field("do").value, cut: field("cut").value, other: field("other").value,
  phase: drawn().dataset.phaseId ?? "", starts: document.querySelector("#drawn .start") !== null,
  through: words.through ?? "",
});

/** Where everybody else stands in the end, and where the discs of those are who go. @param {Hold | null} hold */
export const others = (hold) => all(document, "#drawn .piece")
  .filter((each) => each.dataset.role !== hold?.role)
  .flatMap(({ dataset: { role = "", x, y, outX, outY } }) => [
    { role, x: Number(x), y: Number(y), idle: true },
    ...(outX && outY ? [{ role, x: Number(outX), y: Number(outY) }] : []),
  ]);

/** The look that a tap on a receiver makes, or the last that it takes out. @param {string} role */
export const offerOf = (role) => {
  const offers = all(document, `#drawn [data-receiver="${role}"]`);
  return offers.find((each) => each.getAttribute("aria-pressed") === "false") ?? offers.at(-1);
};

/** Choose the next thing to do, or the one before. @param {HTMLFormElement} form @param {1 | -1} by */
export const turned = (form, by) => {
  const ways = /** @type {HTMLInputElement[]} */ (all(form, "[name=do]"));
  const next = ways[(ways.findIndex((each) => each.checked) + by + ways.length) % ways.length];
  next.checked = true;
  return next;
};

/** What can be taken hold of for somebody, else the floor. @param {Doing} doing @param {string | undefined} role */
export const held = (doing, role) => {
  const same = all(document, `#floor .${holding(doing)}`).find((each) => each.dataset.role === role);
  return same ?? need(document, "#floor");
};

/** The disc or the dot of a hold on the court of the newest answer. @param {Hold} hold */
export const inSight = (hold) => {
  const name = CSS.escape(hold.element.dataset.key ?? "");
  return /** @type {SVGGElement | null} */ (document.querySelector(`#drawn [data-key="${name}"]`));
};
