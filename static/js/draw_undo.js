// Back and forth: one's own steps of this sitting, one after the other.
// @ts-check
import { needed } from "./dom.js";

/** @typedef {"back" | "forth"} Way */

/**
 * @param {HTMLFormElement} form
 * @param {{ past: () => { back: string[], forth: string[] } }} store
 * @param {{ idle: () => boolean, drop: () => boolean }} queue
 * @param {(command: object, way: Way) => void} step
 * @param {() => void} ahead
 */
export function undoing(form, store, queue, step, ahead) {
  const back = needed(form, "#back", HTMLButtonElement);
  const forth = needed(form, "#forth", HTMLButtonElement);
  /** @type {Way | null} */
  let wish = null; // asked for while a step is on its way

  /** @param {Way} way */
  const go = (way) => {
    const state = store.past()[way].at(-1);
    wish = null;
    if (way === "back" && queue.drop()) return ahead();
    if (!queue.idle()) wish = way;
    else if (state) step({ do: "restore", play: JSON.parse(state) }, way);
  };
  back.addEventListener("click", () => go("back"));
  forth.addEventListener("click", () => go("forth"));
  return {
    go,
    /** What was asked for meanwhile, once nothing is on its way. */
    resume: () => {
      if (wish && queue.idle()) go(wish);
    },
    shown: () => {
      back.disabled = !store.past().back.length && queue.idle();
      forth.disabled = !store.past().forth.length;
    },
  };
}
