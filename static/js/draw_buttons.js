// The buttons beside the court: each carries a step or a phase to turn to; and the keys of undo.
// @ts-check
import { needed } from "./dom.js";
import { drawn } from "./draw_part.js";

/**
 * @param {{
 *   step: (command: object) => void,
 *   turnTo: (phase: string, counter: string) => void,
 *   go: (way: "back" | "forth") => void,
 *   idle: () => boolean,
 *   waiting: () => void,
 *   next: string,
 *   typing: {sent: (field: HTMLInputElement) => void},
 * }} door ``waiting`` says that steps are still on their way; ``next`` is the title of a new phase
 */
export function buttons(door) {
  /** @param {HTMLInputElement} title */
  const rename = (title) => {
    if (!title.value.trim()) return;
    door.typing.sent(title);
    door.step({ do: "rename", phase: title.dataset.rename, title: title.value.trim() });
  };
  document.addEventListener("click", (event) => {
    const button = /** @type {Element} */ (event.target).closest("#drawn button");
    if (!(button instanceof HTMLElement)) return;
    const { command, show: phase, answer } = button.dataset;
    const now = drawn().dataset;
    if (button.closest("#judged") && !door.idle()) return door.waiting(); // it was made on an older state
    if ("leave" in button.dataset) now.counter = "";
    if (command) door.step(JSON.parse(command));
    else if (phase) door.turnTo(phase, now.counter ?? "");
    else if (answer !== undefined) door.turnTo(now.phase ?? "1", answer);
    else if (button.dataset.key === "rename") rename(needed(document, "#drawn [data-rename]", HTMLInputElement));
    else if ("nextPhase" in button.dataset) door.step({ do: "phase", title: door.next });
  });
  document.addEventListener("keydown", (event) => {
    const field = event.target instanceof HTMLInputElement ? event.target : null;
    if (field?.dataset.rename && event.key === "Enter") {
      event.preventDefault();
      rename(field);
    } else if (undoes(event) && field?.type !== "text") { // a text field undoes its own typing
      event.preventDefault();
      door.go(event.shiftKey ? "forth" : "back");
    }
  });
}

/** @param {KeyboardEvent} event */
const undoes = (event) => {
  const inside = event.target instanceof Element && event.target.closest("#drawn, #doing");
  return Boolean(inside) && (event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z";
};
