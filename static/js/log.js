// The courtside log. A tap becomes a record in the phone's store first, then it is sent.
import { clock } from "./clock.js";
import { choose, five, isLive, play, recall, remember, state, swapped } from "./log_choice.js";
import { bounces, counted, takenBack } from "./log_count.js";
import { Desk } from "./log_desk.js";
import { newId } from "./log_store.js";
import {
  data, fillChoices, lastTold, part, partOf, said, showCalls, showFive, showLast, showModes, showPeople, showSlips, showUnits, whichBlock,
} from "./log_view.js";

/**
 * @typedef {import("./log_store.js").Rep} Rep
 * @typedef {import("./log_store.js").Tap} Tap
 */

/** @type {Desk} */
let desk;
/** @type {Rep | null} the error whose details are being tapped */
let open = null;
let counts = 0;
const isBounce = bounces();

const draw = () => {
  partOf("play", HTMLSelectElement).value = String(state.play);
  showUnits(state.unit, (unit) => change({ unit }));
  showCalls(play().calls, state.call, (call) => change({ call }));
  const blocks = data.blocks.length;
  part("block").textContent = whichBlock(state.block);
  partOf("before", HTMLButtonElement).disabled = !(state.block > 0);
  partOf("next", HTMLButtonElement).disabled = !(state.block < blocks - 1);
  showModes(state.mode, (mode) => change({ mode }));
  showFive("five", five(), (role) => showPeople(role, five(), isLive(), (id) => swap(role, id)));
  remember();
  return count();
};

/** @param {Partial<typeof state>} what */
const change = (what) => {
  Object.assign(state, what);
  return draw();
};

/**
 * @param {string} role
 * @param {number} id
 */
const swap = (role, id) => {
  swapped(role, id);
  partOf("swap", HTMLDialogElement).close();
  draw();
};

// The server's counts, and what it has not counted yet.
// Only the count that began last is shown, so that an old "all logged" never covers a new tap.
const count = async () => {
  const turn = ++counts;
  const records = await desk.records();
  const [waiting, unsent] = [await desk.store.waiting(), await desk.store.unsent()];
  if (turn !== counts) return;
  const known = desk.tally[state.play] ?? { total: 0, clean: 0 };
  const { total, clean, mayUndo, undone } = counted(records, state.play, known);
  part("total").textContent = String(total);
  part("clean-count").textContent = said("count", { clean, total });
  partOf("undo", HTMLButtonElement).disabled = !mayUndo;
  showLast(records, undone);
  part("undoes").textContent = lastTold(records, undone);
  desk.tell(records, waiting.length, unsent.length);
};

/** @param {boolean} clean */
const logRep = (clean) => {
  if (isBounce(state.play, clean, performance.now())) return undefined;
  const cast = Object.fromEntries(five().flatMap((id, index) => (id ? [[String(index + 1), id]] : [])));
  if (Object.keys(cast).length < 5) {
    desk.note(said("empty"));
    return undefined;
  }
  /** @type {Rep} */
  const tap = {
    kind: "rep", id: newId(), practice: data.practice, play: state.play, mode: state.mode, at: new Date().toISOString(),
    cast, clean, erred: null, slip: null, unit: Number(state.unit) || null, by: data.by, revision: play().revision,
    ...(state.call === null ? {} : { call: state.call }),
  };
  if (navigator.vibrate) navigator.vibrate(clean ? 15 : [15, 40, 15]);
  if (!clean) ask(tap);
  return desk.put(tap, clean ? "waiting" : "open");
};

/** @param {Rep} tap */
const ask = (tap) => {
  open = tap;
  const focused = part("result").contains(document.activeElement);
  part("result").hidden = true;
  part("slip").hidden = false;
  showErred(tap);
  showSlips((slip) => finish({ slip }));
  if (focused) part("erred").querySelector("button")?.focus();
};

/** @param {Rep} tap */
const showErred = (tap) =>
  showFive("erred", [1, 2, 3, 4, 5].map((role) => tap.cast[role] ?? null), (role) => {
    tap.erred = role;
    showErred(tap);
    desk.put({ ...tap }, "open");
  }, tap.erred ?? "");

/** @param {Partial<Rep>} more */
const finish = (more = {}) => {
  if (!open) return undefined;
  const tap = { ...open, ...more };
  open = null;
  const focused = part("slip").contains(document.activeElement);
  part("slip").hidden = true;
  part("result").hidden = false;
  if (focused) part("error").focus();
  return desk.put(tap);
};

const undo = () => {
  finish(); // an error whose details were being tapped is one rep like any other
  return desk.inTurn(async () => {
    const records = await desk.records();
    const undone = takenBack(records);
    const last = records.filter(({ tap }) => tap.kind === "rep" && !undone.has(tap.id)).pop();
    if (!last) return;
    /** @type {Tap} */
    const tap = { kind: "undo", id: newId(), rep: last.id, at: new Date().toISOString(), by: data.by };
    await desk.write(tap);
  });
};

const tick = () => {
  part("clock").textContent = clock(Math.floor((Date.now() - state.since) / 1000));
};

/** @param {number} index */
const toBlock = (index) => {
  choose(index);
  return draw();
};

const watch = () => {
  const played = partOf("play", HTMLSelectElement);
  played.addEventListener("change", () => change({ play: Number(played.value), call: null, since: Date.now() }));
  part("before").addEventListener("click", () => toBlock(state.block - 1));
  part("next").addEventListener("click", () => toBlock(state.block + 1));
  part("clean").addEventListener("click", () => logRep(true));
  part("error").addEventListener("click", () => logRep(false));
  part("enough").addEventListener("click", () => finish());
  part("undo").addEventListener("click", undo);
  setInterval(tick, 1000);
};

const begin = async () => {
  const root = part("page");
  const { practice, team, at, tally } = data;
  desk = await Desk.open(root, { where: practice, team, at, tally, asks: `practice=${practice}`, changed: count });
  fillChoices();
  recall();
  watch();
  desk.begin();
  await draw();
  tick();
  desk.sender.start();
  desk.keepPage().catch((error) => console.warn(error));
};

if (data) begin();
