// Who on the floor does which role of a play, and what was called last: pure, without a page.

/**
 * @typedef {import("./log_store.js").TapRecord} TapRecord
 * @typedef {import("./log_store.js").Called} Called
 * @typedef {[role: string, depth: number, player: number][]} Cast
 */

const ROLES = ["1", "2", "3", "4", "5"];
const BY_DEPTH = [0, 109, 103, 101]; // a role that is known outweighs every depth, then a first two seconds

/**
 * Every order of some people.
 * @param {number[]} people
 * @returns {number[][]}
 */
const orders = (people) =>
  people.length < 2
    ? [people]
    : people.flatMap((who, at) => orders([...people.slice(0, at), ...people.slice(at + 1)]).map((rest) => [who, ...rest]));

/**
 * Roles 1 to 5 filled with who is on the floor: so that the cast is kept as far as it goes.
 * @param {Cast} cast
 * @param {number[]} floor
 * @returns {(number | null)[]}
 */
export const rolesFor = (cast, floor) => {
  const depth = new Map(cast.map(([role, at, who]) => [`${role}|${who}`, at]));
  const people = [...new Set(floor)].slice(0, ROLES.length);
  const seats = [...people, ...Array(ROLES.length - people.length).fill(0)];
  /** @param {number[]} order */
  const worth = (order) =>
    order.reduce((sum, who, at) => sum + (BY_DEPTH[depth.get(`${ROLES[at]}|${who}`) ?? 0] ?? 0), 0);
  let best = seats;
  for (const order of orders(seats)) if (worth(order) > worth(best)) best = order;
  return best.map((who) => who || null);
};

/**
 * The floor with somebody on for somebody; who is on already changes nothing.
 * @param {number[]} floor
 * @param {number} off
 * @param {number} on
 */
export const cameOn = (floor, off, on) => (floor.includes(on) ? floor : floor.map((who) => (who === off ? on : who)));

/**
 * The possessions on this phone that nobody took back, the oldest first.
 * @param {TapRecord[]} records
 * @param {Set<string>} undone
 * @returns {Called[]}
 */
export const calledOf = (records, undone) =>
  records.flatMap(({ tap }) => (tap.kind === "called" && !undone.has(tap.id) ? [tap] : []));

/**
 * Plays in the order in which they are likely to be called: those of this game first, the last one
 * before the others; the rest as they come.
 * @template {{id: number}} P
 * @param {P[]} plays
 * @param {number[]} called ids, the oldest first
 * @returns {{before: P[], others: P[]}}
 */
export const likely = (plays, called) => {
  const order = [...new Set([...called].reverse())];
  const before = order.flatMap((id) => plays.find((play) => play.id === id) ?? []);
  return { before, others: plays.filter((play) => !order.includes(play.id)) };
};

/**
 * How many possessions: the server's, and what it has not counted yet.
 * @param {TapRecord[]} records
 * @param {Set<string>} undone what a record on the phone takes back
 * @param {Record<string, {total: number}>} known
 */
export const calledTotal = (records, undone, known) => {
  const sent = Object.values(known).reduce((sum, { total }) => sum + total, 0);
  const fresh = records.filter(({ tap, state }) => tap.kind === "called" && state === "waiting" && !undone.has(tap.id));
  const late = new Set(records.flatMap(({ tap, state }) => (tap.kind === "undo" && state === "waiting" ? [tap.rep] : [])));
  const back = records.filter(({ tap, state }) => tap.kind === "called" && state === "kept" && late.has(tap.id));
  return sent + fresh.length - back.length;
};
