// Who of five people does which role of each play, which plays they can run, and in what order a
// coach looks through them: pure, without a page. The same as practice/core/calls and
// roster/core/coverage compute; tests/data/calls.json holds it to them.

/**
 * @typedef {[role: string, depth: number, player: number, ready: number, hundredths: number]} Known
 * @typedef {{id: number, name: string, called: string, number: string}} OnSquad
 * @typedef {{id: number, name: string, cast: Known[], first: (number | null)[], thrower: string | null,
 *   chance: number, why: string}} SheetPlay
 * @typedef {(number | null)[]} Five who stands in roles 1 to 5
 * @typedef {{roles: string[], players: number[]}} Shortage
 * @typedef {{play: number, five: Five, can: boolean, short: number, weakest: number, shortages: Shortage[]}} Filling
 */

export const ROLES = ["1", "2", "3", "4", "5"];
const WORTH = [0, 100, 80, 60]; // by depth, in hundredths: one for the first, as the server has it

/** @type {WeakMap<SheetPlay, Map<string, Known>>} a play's cells by role and player */
const cellsOf = new WeakMap();

/** @param {SheetPlay} play */
const cells = (play) => {
  const known = cellsOf.get(play) ?? new Map(play.cast.map((cell) => [`${cell[0]} ${cell[2]}`, cell]));
  cellsOf.set(play, known);
  return known;
};

/**
 * The roles of one play: the greatest sum of worth, then as many as can be in the roles of `held`,
 * then whoever stands first in the squad in the lowest role.
 * @param {SheetPlay} play
 * @param {number[]} floor five players in the order of the squad
 * @param {Five} held
 * @returns {Filling}
 */
export const filled = (play, floor, held) => {
  const known = cells(play);
  const able = ROLES.map((role) => floor.map((who) => known.get(`${role} ${who}`)));
  const best = { order: /** @type {number[]} */ ([]), sum: -1, keeps: -1 };
  /**
   * Tries the roles in turn, whoever stands first in the squad first.
   * @param {number[]} order
   * @param {number} sum
   * @param {number} keeps
   */
  const seek = (order, sum, keeps) => {
    const at = order.length;
    if (at === ROLES.length) {
      if (sum > best.sum || (sum === best.sum && keeps > best.keeps)) Object.assign(best, { order, sum, keeps });
      return;
    }
    floor.forEach((who, place) => {
      const cell = able[at]?.[place];
      if (cell && !order.includes(place)) seek([...order, place], sum + (WORTH[cell[1]] ?? 0), keeps + Number(held[at] === who));
    });
  };
  seek([], 0, 0);
  const none = { play: play.id, five: ROLES.map(() => null), can: false, short: 0, weakest: 0 };
  if (best.sum < 0) return { ...none, shortages: shortages(play, floor) };
  const own = best.order.map((place, at) => able[at]?.[place]);
  return {
    play: play.id,
    five: best.order.map((place) => floor[place] ?? null),
    can: true,
    short: own.filter((cell) => !cell?.[3]).length,
    weakest: Math.min(...own.map((cell) => cell?.[4] ?? 0)),
    shortages: [],
  };
};

/**
 * The smallest sets of roles that too few of the five know.
 * @param {SheetPlay} play
 * @param {number[]} floor
 * @returns {Shortage[]}
 */
export const shortages = (play, floor) => {
  /** @type {Shortage[]} */
  const found = [];
  const known = cells(play);
  for (const roles of SETS) {
    if (found.some((earlier) => earlier.roles.every((role) => roles.includes(role)))) continue;
    const players = floor.filter((who) => roles.some((role) => known.has(`${role} ${who}`)));
    if (players.length < roles.length) found.push({ roles, players });
  }
  return found;
};

/** Every set of roles, the smaller ones first, in the order of a dictionary. */
const sets = () => {
  /** @type {string[][]} */
  const all = [];
  /** @param {string[]} begun @param {number} from */
  const grow = (begun, from) => {
    if (begun.length) all.push(begun);
    for (let at = from; at < ROLES.length; at++) grow([...begun, ROLES[at] ?? ""], at + 1);
  };
  grow([], 0);
  return all.sort((a, b) => a.length - b.length || a.join().localeCompare(b.join()));
};
const SETS = sets();

/**
 * Every play for five people; `held` are the roles that they had before.
 * @param {SheetPlay[]} plays
 * @param {OnSquad[]} squad
 * @param {number[]} floor
 * @param {Map<number, Five>} held by play
 */
export const fillings = (plays, squad, floor, held) => {
  const five = squad.map(({ id }) => id).filter((id) => floor.includes(id));
  return new Map(plays.map((play) => [play.id, filled(play, five, held.get(play.id) ?? [])]));
};

/**
 * The plays that can be run, the first to call first: most of the five ready, then the better
 * chance of a look, then the readier of the least ready, then as the package has them.
 * @param {SheetPlay[]} plays
 * @param {Map<number, Filling>} found
 * @param {boolean} logged whether any rep is
 * @returns {Filling[]}
 */
export const inOrder = (plays, found, logged) => {
  const chance = new Map(plays.map((play) => [play.id, play.chance]));
  const can = plays.flatMap(({ id }) => found.get(id) ?? []).filter((each) => each.can);
  /** @param {Filling} a @param {Filling} b */
  const compare = (a, b) =>
    (logged ? a.short - b.short : 0) ||
    (chance.get(b.play) ?? -1) - (chance.get(a.play) ?? -1) ||
    (logged ? b.weakest - a.weakest : 0);
  return can.sort(compare); // it keeps the order of equals
};

/**
 * Who takes another role than before in one play; somebody who comes on has none before.
 * @param {Five} before
 * @param {Five} after
 * @returns {{player: number, before: string, after: string}[]}
 */
export const changes = (before, after) =>
  after.flatMap((player, at) => {
    const was = before.indexOf(player);
    if (player === null || was === at) return [];
    return [{ player, before: ROLES[was] ?? "", after: ROLES[at] ?? "" }];
  });
