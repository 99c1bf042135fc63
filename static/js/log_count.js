// Counting what the phone holds, and who stands where: pure, so that it can be checked without a page.

/**
 * @typedef {import("./log_store.js").TapRecord} TapRecord
 * @typedef {{total: number, clean: number, waiting: number, held: number, mayUndo: boolean,
 *   undone: Set<string>}} Counted
 */

/**
 * The reps that a record on the phone takes back.
 * @param {TapRecord[]} records
 * @returns {Set<string>}
 */
export const takenBack = (records) => new Set(records.flatMap(({ tap }) => (tap.kind === "undo" ? [tap.rep] : [])));

/**
 * The server's counts of a play, and what it has not counted yet.
 * @param {TapRecord[]} records all of one practice on this phone
 * @param {number} play
 * @param {{total: number, clean: number}} known what the server counted last
 */
export const counted = (records, play, known) => {
  const undone = takenBack(records);
  const reps = records.flatMap(({ tap, state }) => (tap.kind === "rep" ? [{ tap, state }] : []));
  const ours = reps.filter(({ tap }) => tap.play === play);
  const fresh = ours.filter(({ tap, state }) => (state === "waiting" || state === "open") && !undone.has(tap.id));
  // A rep that the server counts and whose undo still waits here is gone for who looks.
  const late = takenBack(records.filter(({ state }) => state === "waiting"));
  const back = ours.filter(({ tap, state }) => state === "kept" && late.has(tap.id));
  /** @param {typeof ours} some */
  const clean = (some) => some.filter(({ tap }) => tap.clean).length;
  return {
    total: known.total + fresh.length - back.length,
    clean: known.clean + clean(fresh) - clean(back),
    mayUndo: reps.some(({ tap }) => !undone.has(tap.id)),
    undone,
  };
};

/**
 * A five with somebody put into a role; who stood there goes to the place that becomes free.
 * @param {import("./log_view.js").Five} five
 * @param {string} role
 * @param {number} id
 * @returns {import("./log_view.js").Five}
 */
export const exchanged = (five, role, id) => {
  const after = [...five];
  const here = Number(role) - 1;
  const there = after.indexOf(id);
  if (there >= 0) after[there] = after[here] ?? null;
  after[here] = id;
  return after;
};
