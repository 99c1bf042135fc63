// The part of the page that follows every gesture: read from an answer, and put in the old one's place.
// @ts-check
import { all, need } from "./dom.js";

const WIDE = "(min-width: 60rem)";

export const drawn = () => need(document, "#drawn");

/** The part in an answer of the server. @param {string} text @returns {HTMLElement | null} */
export const partOf = (text) => new DOMParser().parseFromString(text, "text/html").getElementById("drawn");

/** The phase and the counter that an answer of the server shows. @param {string} text */
export const openedBy = (text) => {
  const { phase = "1", counter = "", phaseId = "" } = partOf(text)?.dataset ?? {};
  return { phase, counter, phaseId };
};

/**
 * What the check has said of the same state already stays: turning a phase asks for nothing.
 * @param {HTMLElement} before @param {HTMLElement} after
 */
function keepJudged(before, after) {
  const same = before.dataset.seen === after.dataset.seen && before.dataset.counter === after.dataset.counter;
  const judged = same && before.querySelector("#judged[data-banded]");
  if (judged) after.querySelector("#judged")?.replaceWith(judged);
}

/**
 * What somebody opened or closed stays so; a section that is new is open where it stands beside the court.
 * @param {HTMLElement} after @param {HTMLElement | null} before
 */
export function fold(after, before) {
  /** @param {HTMLElement | null} part */
  const folds = (part) => (part ? all(part, "details > summary[data-key]") : [])
    .map((each) => /** @type {const} */ ([each.dataset.key, /** @type {HTMLDetailsElement} */ (each.parentElement)]));
  const known = new Map(folds(before).map(([key, each]) => [key, each.open]));
  for (const [key, each] of folds(after)) each.open = known.get(key) ?? ("fold" in each.dataset && matchMedia(WIDE).matches);
}

/**
 * Puts another element in the place of one; the focus stays at what has the same key.
 * @param {HTMLElement} before @param {HTMLElement} after
 */
export function replace(before, after) {
  const writing = document.activeElement instanceof HTMLInputElement ? document.activeElement.value : null;
  const focused = document.activeElement?.getAttribute("data-key") ?? "";
  const inside = before.contains(document.activeElement);
  fold(after, before);
  before.replaceWith(document.adoptNode(after));
  const same = focused && document.querySelector(`[data-key="${CSS.escape(focused)}"]`);
  const there = same || (inside && after.querySelector("#floor")); // what was pressed is gone: on with the court
  if (writing !== null && there instanceof HTMLInputElement) there.value = writing;
  if (there) /** @type {HTMLElement} */ (there).focus({ preventScroll: true });
}

/**
 * Puts the part in its place. What is open stays open, what is being typed stays typed, and the
 * focus stays where it was.
 * @param {string} text
 * @returns {boolean} whether there was a part in it
 */
export function exchange(text) {
  const part = partOf(text);
  if (!part) return false;
  keepJudged(drawn(), part);
  replace(drawn(), part);
  return true;
}
