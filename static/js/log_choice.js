// What is being logged: play, unit, mode, and who stands where. Kept for a reload in the
// session of the tab, as ids only.
import { data } from "./log_view.js";
import { exchanged, standingIn, withSwaps } from "./log_count.js";

/**
 * @typedef {import("./log_view.js").Five} Five
 * @typedef {import("./log_view.js").CarriedPlay} CarriedPlay
 */

export const KEPT = `court-${data?.practice}`;
/** @type {{play: number, call: string | null, unit: string, mode: string, block: number, since: number, swaps: Record<string, Five>,
 *   instead: Record<string, number>}} */
export const state = { play: 0, call: null, unit: "", mode: "", block: -1, since: Date.now(), swaps: {}, instead: {} };

export const isLive = () => state.mode === "live";
const key = () => [state.play, state.unit, isLive()].join("|");
/** @returns {CarriedPlay} */
export const play = () => {
  const found = data.plays.find((each) => each.id === state.play) ?? data.plays[0];
  if (!found) throw new Error("a log without a play");
  return found;
};
/** @returns {Five} */
export const five = () => state.swaps[key()] ?? withSwaps(play().fives[state.unit]?.[isLive() ? 1 : 0] ?? [], state.instead);

export const remember = () => sessionStorage.setItem(KEPT, JSON.stringify(state));
export const recall = () => {
  const wanted = new URLSearchParams(window.location.search);
  Object.assign(state, { play: play().id, mode: "walk_through" });
  if (data.blocks.length) choose(0);
  try {
    Object.assign(state, JSON.parse(sessionStorage.getItem(KEPT) || "{}"));
  } catch {
    sessionStorage.removeItem(KEPT);
  }
  const named = data.plays.find((each) => String(each.id) === wanted.get("play"));
  if (named && named.id !== state.play) Object.assign(state, { play: named.id, call: null, since: Date.now() });
  state.mode = data.modes.find(([value]) => value === wanted.get("mode"))?.[0] ?? state.mode;
  state.unit = wanted.get("unit") ?? state.unit;
  if (!play().fives[state.unit]) state.unit = "";
  state.play = play().id;
  if (!play().calls.some(([value]) => value === state.call)) state.call = null;
};

/** @param {number} index of a block in the plan */
export function choose(index) {
  const block = data.blocks[index];
  if (!block) return;
  Object.assign(state, { block: index, play: block.play, call: null, since: Date.now() });
  state.mode = block.mode || state.mode || "walk_through";
  state.unit = play().fives[String(block.unit)] ? String(block.unit) : "";
}

/**
 * Puts somebody into a role of the five on the court.
 * @param {string} role
 * @param {number} id
 */
export const swapped = (role, id) => {
  const before = five();
  const off = before[Number(role) - 1];
  state.swaps[key()] = exchanged(before, role, id);
  // Who came on for whom holds for the other plays of this practice too, until it is changed.
  if (off && !before.includes(id)) state.instead = standingIn(state.instead, off, id);
};
