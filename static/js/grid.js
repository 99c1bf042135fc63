// A grid of one-digit cells: arrow keys go from cell to cell, and a digit goes on to the row
// below, so that a column is filled by the thumb alone. Enter is left to the form, which it sends.
// @ts-check

/** @type {Record<string, [number, number]>} rows down, columns to the right */
const STEPS = { ArrowUp: [-1, 0], ArrowDown: [1, 0], ArrowLeft: [0, -1], ArrowRight: [0, 1] };

/**
 * The place a step leads to in a grid: past the last row it goes on at the top of the next
 * column, and at the edges it stays.
 * @param {[number, number]} from row and column, from 0
 * @param {[number, number]} step
 * @param {[number, number]} size rows and columns
 * @returns {[number, number]}
 */
export function stepped([row, column], [down, right], [rows, columns]) {
  if (row + down >= rows && column + 1 < columns) return [0, column + 1];
  const within = (/** @type {number} */ value, /** @type {number} */ count) => Math.min(Math.max(value, 0), count - 1);
  return [within(row + down, rows), within(column + right, columns)];
}

/** @param {Element} table */
function begin(table) {
  const cells = [...table.querySelectorAll("tbody tr")].map((row) => [...row.querySelectorAll("input[data-grid]")]);
  /** @type {[number, number]} */
  const size = [cells.length, cells[0]?.length ?? 0];

  /** @param {EventTarget | null} cell @param {[number, number]} step */
  const go = (cell, step) => {
    const row = cells.findIndex((each) => each.includes(/** @type {Element} */ (cell)));
    if (row < 0) return;
    const [down, right] = stepped([row, cells[row].indexOf(/** @type {Element} */ (cell))], step, size);
    const next = cells[down][right];
    if (next instanceof HTMLInputElement && next !== cell) {
      next.focus();
      next.select();
    }
  };
  table.addEventListener("keydown", (event) => {
    const { key, target } = /** @type {KeyboardEvent} */ (event);
    if (!(key in STEPS)) return;
    event.preventDefault();
    go(target, STEPS[key]);
  });
  table.addEventListener("input", (event) => {
    if (/^[1-5]$/.test(/** @type {HTMLInputElement} */ (event.target).value)) go(event.target, [1, 0]);
  });
  table.addEventListener("focusin", (event) => {
    if (event.target instanceof HTMLInputElement) event.target.select();
  });
}

if (typeof document !== "undefined") document.querySelectorAll("[data-grid-table]").forEach(begin);
