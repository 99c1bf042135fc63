// The one line beside the court: what is said in it, and that steps are on this device alone.
// @ts-check
import { need } from "./dom.js";

/** @param {HTMLFormElement} form */
export function saying(form) {
  const line = need(form, "#said");
  const behind = need(form, "#behind");
  let full = false; // said for as long as a step is on the device alone
  /** @param {string} words */
  const say = (words) => { if (line.textContent !== words) line.textContent = words; };
  /** A sentence that the page brought along. @param {string} key */
  const tell = (key) => say(line.dataset[key] ?? "");
  const caughtUp = () => { behind.hidden = true; };
  return {
    say, tell, words: line.dataset, caughtUp,
    isBehind: () => !behind.hidden,
    full: () => {
      full = true;
      tell("full");
    },
    late: () => {
      behind.hidden = false;
      tell(full ? "full" : "waiting");
    },
    kept: () => {
      full = false;
      caughtUp();
    },
  };
}
