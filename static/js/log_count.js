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

const TOO_SOON = 400; // ms: a thumb that bounces; nobody runs a play again in that time

/**
 * Tells apart a rep from a thumb that bounced: the same play and result again within 400 ms.
 * @returns {(play: number, clean: boolean, now: number) => boolean} whether it is a bounce
 */
export const bounces = () => {
  /** @type {Map<string, number>} */
  const last = new Map();
  return (play, clean, now) => {
    const key = `${play}|${clean}`;
    const before = last.get(key);
    const bounced = before !== undefined && now - before < TOO_SOON;
    if (!bounced) last.set(key, now);
    return bounced;
  };
};

/**
 * Swaps made in a five, put onto the five of another play: who is off the court stays off, and
 * who came on takes that place wherever it is.
 * @param {import("./log_view.js").Five} five
 * @param {Record<string, number>} instead who stands in for whom, by the one who went off
 * @returns {import("./log_view.js").Five}
 */
export const withSwaps = (five, instead) => {
  const after = [...five];
  Object.entries(instead).forEach(([off, on]) => {
    const at = after.indexOf(Number(off));
    if (at >= 0 && !after.includes(on)) after[at] = on;
  });
  return after;
};

/**
 * Who stands in for whom once somebody goes off for somebody: who comes back is replaced no
 * more, and whoever the one going off stood in for is now replaced by the newcomer.
 * @param {Record<string, number>} instead
 * @param {number} off
 * @param {number} on
 * @returns {Record<string, number>}
 */
export const standingIn = (instead, off, on) => {
  const moved = Object.entries({ ...instead, [off]: on }).map(([who, by]) => /** @type {[string, number]} */ ([who, by === off ? on : by]));
  return Object.fromEntries(moved.filter(([who]) => Number(who) !== on));
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

/**
 * A name with the shirt number, which namesakes carry in their names already.
 * @param {{name: string, number: string}} person
 */
export const withNumber = ({ name, number }) => (name.endsWith(` (${number})`) ? name : `${name} (${number})`);
