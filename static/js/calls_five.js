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

/**
 * Every order of some people, in the order of a dictionary.
 * @param {number[]} people
 * @returns {number[][]}
 */
const orders = (people) =>
  people.length < 2
    ? [people]
    : people.flatMap((who, at) => orders([...people.slice(0, at), ...people.slice(at + 1)]).map((rest) => [who, ...rest]));

const ORDERS = orders([0, 1, 2, 3, 4]);

/**
 * The roles of one play: the greatest sum of worth, then as many as can be in the roles of `held`,
 * then whoever stands first in the squad in the lowest role.
 * @param {SheetPlay} play
 * @param {number[]} floor five players in the order of the squad
 * @param {Five} held
 * @returns {Filling}
 */
export const filled = (play, floor, held) => {
  const cells = ROLES.map((role) => floor.map((who) => play.cast.find(([r, , player]) => r === role && player === who)));
  let [best, most, kept] = [/** @type {number[] | null} */ (null), -1, -1];
  for (const order of ORDERS) {
    const seats = order.map((who, at) => cells[at]?.[who]);
    if (!seats.every(Boolean)) continue;
    const sum = seats.reduce((total, cell) => total + (WORTH[cell?.[1] ?? 0] ?? 0), 0);
    const keeps = order.filter((who, at) => held[at] === floor[who]).length;
    if (sum > most || (sum === most && keeps > kept)) [best, most, kept] = [order, sum, keeps];
  }
  if (!best) return { play: play.id, five: ROLES.map(() => null), can: false, short: 0, weakest: 0, shortages: shortages(play, floor) };
  const own = best.map((who, at) => cells[at]?.[who]);
  return {
    play: play.id,
    five: best.map((who) => floor[who] ?? null),
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
  for (const roles of sets()) {
    if (found.some((earlier) => earlier.roles.every((role) => roles.includes(role)))) continue;
    const players = floor.filter((who) => play.cast.some(([role, , player]) => player === who && roles.includes(role)));
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
