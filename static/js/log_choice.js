// What is being logged: play, unit, mode, and who stands where. Kept for a reload in the
// session of the tab, as ids only.
import { data } from "./log_view.js";

export const KEPT = `court-${data?.practice}`;
export const state = { play: 0, unit: "", mode: "", block: -1, since: Date.now(), swaps: {} };

export const isLive = () => state.mode === "live";
const key = () => [state.play, state.unit, isLive()].join("|");
export const play = () => data.plays.find((each) => each.id === state.play) || data.plays[0];
export const five = () => state.swaps[key()] || play().fives[state.unit][Number(isLive())];

export const remember = () => sessionStorage.setItem(KEPT, JSON.stringify(state));
export const recall = () => {
  const wanted = new URLSearchParams(window.location.search);
  Object.assign(state, { play: data.plays[0].id, mode: "walk_through" });
  if (data.blocks.length) choose(0);
  try {
    Object.assign(state, JSON.parse(sessionStorage.getItem(KEPT) || "{}"));
  } catch {
    sessionStorage.removeItem(KEPT);
  }
  const named = data.plays.find((each) => String(each.id) === wanted.get("play"));
  if (named && named.id !== state.play) Object.assign(state, { play: named.id, since: Date.now() });
  if (data.modes.some(([value]) => value === wanted.get("mode"))) state.mode = wanted.get("mode");
  if (!play().fives[state.unit]) state.unit = "";
  state.play = play().id;
};

export function choose(index) {
  const block = data.blocks[index];
  Object.assign(state, { block: index, play: block.play, since: Date.now() });
  state.mode = block.mode || state.mode || "walk_through";
  state.unit = play().fives[String(block.unit)] ? String(block.unit) : "";
}

// Puts somebody into a role; who stood there goes to the place that becomes free.
export const swapped = (role, id) => {
  const after = [...five()];
  const here = Number(role) - 1;
  const there = after.indexOf(id);
  if (there >= 0) after[there] = after[here];
  after[here] = id;
  state.swaps[key()] = after;
};
