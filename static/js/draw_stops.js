// Where Tab and F6 stop: one stop for the people on the court, and from part to part (WAI-ARIA authoring
// practices: a widget of several is one stop for Tab; F6 goes on to the next pane).
// @ts-check
import { all } from "./dom.js";

const PEOPLE = [".piece", ".start"];
const WAY = ":is(summary, a[href], button, input)";
const PARTS = ["#floor", ".drawn-words", "[data-end]"]; // the court, the words, on to the whole play

/** Who has the focus is the one stop among their like; 1 to 5 go from one to another. @param {Element | null} now */
const rove = (now) => {
  for (const kind of PEOPLE) {
    const people = all(document, `#floor ${kind}`);
    const stop = people.find((each) => each === now) ?? people.find(({ tabIndex }) => tabIndex === 0) ?? people[0];
    for (const each of people) each.tabIndex = each === stop ? 0 : -1;
  }
};

/** @param {string} part */
const stopIn = (part) => {
  if (part === "[data-end]") return document.querySelector(part);
  const found = all(document, part === "#floor" ? "#floor [tabindex='0']" : `${part} ${WAY}`);
  return found.find((each) => each.getBoundingClientRect().width > 0) ?? document.querySelector(part);
};

/** @param {KeyboardEvent} event */
function onward(event) {
  if (event.key !== "F6" || event.altKey || event.ctrlKey || event.metaKey) return;
  const here = document.activeElement;
  const now = PARTS.findLastIndex((part) => here?.closest(part));
  const next = PARTS[now + (event.shiftKey ? -1 : 1)];
  const stop = next && stopIn(next);
  if (!stop) return; // the browser's own panes come next
  event.preventDefault();
  /** @type {HTMLElement} */ (stop).focus();
}

/** Begins to listen; what it returns is called for every new court. @returns {() => void} */
export function stops() {
  document.addEventListener("keydown", onward);
  document.addEventListener("focusin", ({ target }) => {
    if (target instanceof Element && target.closest("#floor")) rove(target);
  });
  return () => rove(document.activeElement);
}
