// Where things are on the court that is drawn on: metres and screen, snapping, what is near.
// @ts-check

/** @typedef {{x: number, y: number}} At a place in metres */
/** @typedef {{left: number, top: number, scale: number}} Frame picture points: (metres - corner) * scale */
/** @typedef {[string, number, number]} Spot a named place */

export const REACH = 0.45; // metres within which a named place takes what is dropped near it
const BACK = 0.15; // the same for the place that something was just taken from
export const STEP = 0.25;
export const FINE = 0.05;
const SHORT = 0.8; // metres between a screener and whom the screen is for
const BEHIND = 1.7; // the same behind a back: between them stands the defender, who is owed a step
const BUSY = 0.2; // metres by which somebody who moved already counts as farther away
const MOUSE = 12; // CSS pixels: how near a press must be
const FINGER = 26;

/** @param {string} kind of the pointer */
export const tolerance = (kind) => (kind === "mouse" ? MOUSE : FINGER);

/** @param {number} value */
const millimetres = (value) => Math.round(value * 1000) / 1000 + 0;

/** A place of the court as a point of the picture. @param {Frame} frame @param {At} at @returns {[number, number]} */
export const toPicture = (frame, at) => [(at.x - frame.left) * frame.scale, (at.y - frame.top) * frame.scale];

/** A point of the picture as a place of the court. @param {Frame} frame @param {[number, number]} point @returns {At} */
export const toMetres = (frame, [across, down]) => ({ x: frame.left + across / frame.scale, y: frame.top + down / frame.scale });

/**
 * The named place nearby, else the place itself. Where it was taken from takes it back only where it
 * hardly left: else nothing could be moved by less than the reach of a place.
 * @param {At} at
 * @param {Spot[]} spots
 * @param {At | null} [from]
 * @returns {At}
 */
export function snapped(at, spots, from = null) {
  let best = REACH;
  let found = { x: millimetres(at.x), y: millimetres(at.y) };
  for (const [, x, y] of spots) {
    const away = Math.hypot(x - at.x, y - at.y);
    const own = from !== null && Math.hypot(x - from.x, y - from.y) < BACK;
    if (away < best && !(own && away >= BACK)) {
      best = away;
      found = { x, y };
    }
  }
  return found;
}

/**
 * One press of an arrow key.
 * @param {At} at
 * @param {string} key
 * @param {boolean} fine
 * @returns {At | null}
 */
export function stepped(at, key, fine) {
  const by = fine ? FINE : STEP;
  const ways = /** @type {Record<string, [number, number]>} */ ({
    ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by],
  });
  const way = ways[key];
  return way ? { x: millimetres(at.x + way[0]), y: millimetres(at.y + way[1]) } : null;
}

/**
 * With Ctrl: the next named place that way, within half a right angle of it; null where there is none.
 * @param {At} at
 * @param {string} key
 * @param {Spot[]} spots
 * @returns {At | null}
 */
export function jumped(at, key, spots) {
  const towards = stepped({ x: 0, y: 0 }, key, false);
  if (!towards) return null;
  let best = Infinity;
  let found = null;
  for (const [, x, y] of spots) {
    const along = ((x - at.x) * towards.x + (y - at.y) * towards.y) / STEP;
    const away = Math.hypot(x - at.x, y - at.y);
    if (along >= away * Math.SQRT1_2 && along > FINE && away < best) {
      best = away;
      found = { x, y };
    }
  }
  return found;
}

/**
 * Where a screener stands for somebody who stands there: short of them, on the way. Who comes up from
 * the baseline comes from behind the defender.
 * @param {At} from
 * @param {At} them
 * @returns {At}
 */
export function shortOf(from, them) {
  const way = Math.hypot(from.x - them.x, from.y - them.y);
  const short = them.y - from.y >= Math.abs(them.x - from.x) ? BEHIND : SHORT;
  const share = way > short ? short / way : 1;
  return { x: millimetres(them.x + share * (from.x - them.x)), y: millimetres(them.y + share * (from.y - them.y)) };
}

/**
 * The nearest of several, not the topmost; null where none is within reach. Of those who stand
 * on one spot it is one who has nothing to do yet.
 * @template {At & {idle?: boolean}} T
 * @param {At} at
 * @param {T[]} all
 * @param {number} reach metres
 * @returns {T | null}
 */
export function nearest(at, all, reach) {
  let best = Infinity;
  let found = null;
  for (const each of all) {
    const away = Math.hypot(each.x - at.x, each.y - at.y);
    const counted = away + (each.idle ? 0 : BUSY);
    if (away <= reach && counted < best) {
      best = counted;
      found = each;
    }
  }
  return found;
}

/**
 * The stretch of a line that a press is on: the number of the waypoint at its end.
 * @param {At} at
 * @param {[number, number][]} path from where the person stands
 * @param {number} reach metres
 * @returns {{point: number, away: number} | null}
 */
export function stretch(at, path, reach) {
  let found = null;
  let best = reach;
  for (let n = 1; n < path.length; n += 1) {
    const [ax, ay] = path[n - 1];
    const [bx, by] = path[n];
    const length = (bx - ax) ** 2 + (by - ay) ** 2;
    const share = length ? Math.max(0, Math.min(1, ((at.x - ax) * (bx - ax) + (at.y - ay) * (by - ay)) / length)) : 0;
    const away = Math.hypot(at.x - ax - share * (bx - ax), at.y - ay - share * (by - ay));
    if (away <= best) {
      best = away;
      found = { point: n - 1, away };
    }
  }
  return found;
}
