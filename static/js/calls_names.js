// Where the names of the five stand beside their discs: below, and where people stand close, wherever
// no other name or disc is. Points of the picture throughout; boxes are [left, top, right, bottom].

/**
 * @typedef {[number, number, number, number]} Area
 * @typedef {{dx: number, dy: number, anchor: "start" | "middle" | "end"}} Beside a name's point, from the middle of its disc
 * @typedef {{x: number, y: number, width: number}} Person the middle of a disc, and how wide the name is
 */

export const RADIUS = 10.5;
const TALL = 11; // letters of the board's size, from their head to below the line
const AIR = 1;

/** @type {Beside} */
const BELOW = { dx: 0, dy: RADIUS + 11, anchor: "middle" };

/** @type {Beside[]} in the order in which they are liked */
export const PLACES = [
  BELOW,
  { dx: 0, dy: -RADIUS - 4, anchor: "middle" },
  { dx: RADIUS + 3, dy: 4, anchor: "start" },
  { dx: -RADIUS - 3, dy: 4, anchor: "end" },
  { dx: RADIUS, dy: RADIUS + 9, anchor: "start" },
  { dx: -RADIUS, dy: RADIUS + 9, anchor: "end" },
  { dx: RADIUS, dy: -RADIUS - 1, anchor: "start" },
  { dx: -RADIUS, dy: -RADIUS - 1, anchor: "end" },
];

/** @param {Person} person @param {Beside} at @returns {Area} */
export const areaOf = ({ x, y, width }, { dx, dy, anchor }) => {
  const left = x + dx - { start: 0, middle: width / 2, end: width }[anchor];
  return [left - AIR, y + dy - TALL + 2, left + width + AIR, y + dy + 3];
};

/** @param {Person} person @returns {Area} */
const discOf = ({ x, y }) => [x - RADIUS, y - RADIUS, x + RADIUS, y + RADIUS];

/** @param {Area} one @param {Area} other how much of the one lies under the other */
export const shared = (one, other) =>
  Math.max(0, Math.min(one[2], other[2]) - Math.max(one[0], other[0]))
  * Math.max(0, Math.min(one[3], other[3]) - Math.max(one[1], other[1]));

/** @param {Area} area @param {Area} room how much of the area is outside */
const outside = (area, room) => (area[2] - area[0]) * (area[3] - area[1]) - shared(area, room);

/**
 * A place for each name. Each keeps the one it had while nothing is in its way, so that names do not
 * jump to and fro while people run.
 * @param {Person[]} people
 * @param {number[]} before numbers of PLACES; all 0 at first
 * @param {Area} room the picture
 * @returns {number[]}
 */
export const spread = (people, before, room) => {
  /** @type {Area[]} */
  const taken = [];
  return people.map((person, at) => {
    const others = people.filter((_, other) => other !== at).map(discOf);
    /** @param {number} place */
    const cost = (place) => {
      const area = areaOf(person, PLACES[place] ?? BELOW);
      const hidden = [...others, ...taken].reduce((sum, each) => sum + shared(area, each), 0);
      return hidden + outside(area, room);
    };
    const liked = [before[at] ?? 0, ...PLACES.keys()];
    const best = liked.reduce((kept, place) => (cost(place) < cost(kept) ? place : kept));
    taken.push(areaOf(person, PLACES[best] ?? BELOW));
    return best;
  });
};
