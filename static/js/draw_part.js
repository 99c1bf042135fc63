// The part of the page that follows every gesture: read from an answer, and put in the old one's place.
// @ts-check
import { all, need } from "./dom.js";

export const drawn = () => need(document, "#drawn");

/** The part in an answer of the server. @param {string} text @returns {HTMLElement | null} */
export const partOf = (text) => new DOMParser().parseFromString(text, "text/html").getElementById("drawn");

/**
 * Puts the part in its place. What is open stays open, what is being typed stays typed, and the
 * focus stays where it was.
 * @param {string} text
 * @returns {boolean} whether there was a part in it
 */
export function exchange(text) {
  const part = partOf(text);
  if (!part) return false;
  const writing = document.activeElement instanceof HTMLInputElement ? document.activeElement.value : null;
  const focused = document.activeElement?.getAttribute("data-key") ?? "";
  const open = all(document, "#drawn details[open] > summary").map((each) => each.dataset.key);
  drawn().replaceWith(document.adoptNode(part));
  for (const each of all(document, "#drawn details > summary")) {
    if (open.includes(each.dataset.key)) /** @type {HTMLDetailsElement} */ (each.parentElement).open = true;
  }
  const there = focused && document.querySelector(`[data-key="${CSS.escape(focused)}"]`);
  if (writing !== null && there instanceof HTMLInputElement) there.value = writing;
  if (there) /** @type {HTMLElement} */ (there).focus({ preventScroll: true });
  return true;
}
