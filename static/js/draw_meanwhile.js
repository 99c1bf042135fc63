// What somebody else did to the draft meanwhile: steps wait until it is chosen what is done with them.
// @ts-check
import { need } from "./dom.js";

/**
 * Gives what tells of it. `settle` hears whether one's own steps are made once more, or dropped.
 * @param {HTMLFormElement} form
 * @param {(words: string) => void} say
 * @param {(withSteps: boolean) => Promise<void>} settle
 */
export function meanwhile(form, say, settle) {
  const box = need(form, "#meanwhile");
  /** @param {boolean} withSteps */
  const choose = (withSteps) => {
    box.hidden = true;
    void settle(withSteps);
  };
  need(box, "[data-again]").addEventListener("click", () => choose(true));
  need(box, "[data-drop]").addEventListener("click", () => choose(false));
  /** @param {string} words */
  return (words) => {
    say("");
    need(box, "p").textContent = words;
    box.hidden = false;
  };
}
