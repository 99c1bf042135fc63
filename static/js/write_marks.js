// What is wrong in a line of a text stands beneath that line, so that nobody has to count lines.
// In the line that is being written it comes once the hand rests: half a word is no fault yet.
// @ts-check

import { rowOf } from "./write_field.js";

const REST = 1000; // ms without a key

/** @typedef {import("./write_field.js").LineField} LineField */

/**
 * The line in which a place of a text stands, from 1.
 * @param {string} text
 * @param {number} at
 */
export const lineAt = (text, at) => rowOf(text, at)[0] + 1;

/**
 * What is wrong at each line, by the list that the server wrote; what is only missing yet stays in the list.
 * @param {ParentNode} list
 * @returns {Map<number, string>}
 */
function told(list) {
  const found = new Map();
  for (const each of list.querySelectorAll("[data-line][data-wrong]")) {
    const line = Number(each.getAttribute("data-line"));
    const said = each.parentElement?.querySelector("[data-told]")?.textContent?.trim() ?? "";
    found.set(line, [found.get(line), said].filter(Boolean).join(" "));
  }
  return found;
}

/**
 * Shows at each row what is wrong in it.
 * @param {LineField} field
 * @param {HTMLElement} line tells a screen reader what is wrong in the line at the caret
 */
export function markLines(field, line) {
  let faults = told(document);
  let timer = 0;
  let writing = false;

  const here = () => (document.activeElement === field.element ? lineAt(field.value(), field.caret()) : 0);
  const tell = () => {
    const said = writing ? "" : faults.get(here()) ?? "";
    if (line.textContent !== said) line.textContent = said;
  };
  const show = () => {
    const now = here();
    for (const [index, row] of field.rows().entries()) {
      const said = faults.get(index + 1);
      const waits = writing && index + 1 === now && !row.dataset.fault;
      if (!said) delete row.dataset.fault;
      else if (!waits && row.dataset.fault !== said) row.dataset.fault = said;
    }
    tell();
  };
  const rest = () => {
    writing = false;
    show();
  };
  field.element.addEventListener("input", (event) => {
    clearTimeout(timer);
    writing = true;
    timer = window.setTimeout(rest, REST);
    const { inputType } = /** @type {InputEvent} */ (event);
    const row = field.rows()[here() - 1];
    if (inputType === "insertParagraph" && row) delete row.dataset.fault; // a line cut in two takes it along
  });
  for (const event of ["click", "keyup", "focus"]) field.element.addEventListener(event, tell);
  field.element.addEventListener("blur", rest);
  document.addEventListener("htmx:afterSwap", () => {
    faults = told(document);
    show();
  });
  show();
}
