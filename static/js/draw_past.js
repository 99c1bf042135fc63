// Undo and redo: the states of a play to go back to and forth to, newest last.
// @ts-check

/** @typedef {{back: string[], forth: string[]}} Past whole documents as text */
/** @typedef {"step" | "back" | "forth"} Way */

/**
 * The past once a step has been taken: what was before it can be gone back to, and a new step
 * forgets what was undone. A step that changed nothing leaves no trace.
 * @param {Past} past
 * @param {Way} way
 * @param {string} before the document that the step was made on
 * @param {string} after
 * @returns {Past}
 */
export function pastAfter(past, way, before, after) {
  const back = way === "back" ? past.back.slice(0, -1) : [...past.back];
  const forth = way === "forth" ? past.forth.slice(0, -1) : [...past.forth];
  if (before === after) return { back, forth };
  if (way === "back") return { back, forth: [...forth, before] };
  return { back: [...back, before], forth: way === "step" ? [] : forth };
}
