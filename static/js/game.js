// The game log: the play, the defence, the look and the result, by one thumb. The tap on the result
// is the possession: it is written to the phone's store first, then it is sent.
import { takenBack } from "./log_count.js";
import { calledOf, calledTotal, cameOn, likely, rolesFor } from "./game_floor.js";
import {
  askWho, calledTold, data, showDefences, showFloor, showGameUnits, showLooks, showPlays, showResults,
} from "./game_view.js";
import { Desk } from "./log_desk.js";
import { keepBeside } from "./kept.js";
import { newId } from "./log_store.js";
import { nameOf, part, partOf, said, showCalls, showFive } from "./log_view.js";

/**
 * @typedef {import("./log_store.js").Called} Called
 * @typedef {import("./log_store.js").Undo} Undo
 */

const LAST_PERIOD = 9;
const KEPT = `court-game-${data?.game}`;
/** @type {{play: number | null, call: string | null, defence: string | null, all: boolean,
 *   chosen: {taken: string, look: string | null} | null, erred: string | null, period: number, floor: number[],
 *   five: (number | null)[] | null}} */
const state = { play: null, call: null, defence: null, all: false, chosen: null, erred: null, period: 0, floor: [], five: null };

/** @type {Desk} */
let desk;
let counts = 0;
/** @type {number[]} the plays called on this phone, the oldest first */
let called = [];
let logged = -Infinity;

const TOO_SOON = 400; // ms: the thumb that has just logged a possession means no play with its bounce
const bounced = () => performance.now() - logged < TOO_SOON;

const play = () => data.plays.find((each) => each.id === state.play) ?? null;
const five = () => state.five ?? rolesFor(play()?.cast ?? [], state.floor);

const draw = () => {
  const now = play();
  part("choose").hidden = Boolean(now);
  part("run").hidden = !now;
  part("results").hidden = !now;
  part("period").textContent = state.period ? said("period", { n: state.period }) : said("no_period");
  if (now) drawRun(now);
  else drawChoice();
  sessionStorage.setItem(KEPT, JSON.stringify(state));
  return count();
};

const drawChoice = () => {
  showPlays(likely(data.plays, called), (id) => {
    if (!bounced()) change({ play: id, call: null, chosen: null, erred: null, five: null });
  });
  showFloor(state.floor, (off) => askWho(said("who_for", { name: nameOf(off) }), state.floor, (on) => {
    partOf("swap", HTMLDialogElement).close();
    change({ floor: cameOn(state.floor, off, on) });
  }));
  showGameUnits(state.floor, (members) => change({ floor: [...members] }));
};

/** @param {import("./game_view.js").GamePlay} now */
const drawRun = (now) => {
  part("called").textContent = now.call;
  showCalls(now.calls, state.call, (call) => change({ call }));
  showDefences(
    state.defence, state.all,
    (defence) => change({ defence: defence === state.defence ? null : defence, all: false }),
    () => change({ all: !state.all }),
  );
  showLooks(now, state.chosen, (taken, look) => change({ chosen: { taken, look }, erred: null }));
  const broken = state.chosen?.taken === "broken";
  part("five-says").hidden = !broken;
  /** @param {string} role */
  const act = (role) => (broken ? change({ erred: role === state.erred ? null : role }) : swap(role));
  showFive("five", five(), act, broken ? state.erred ?? "" : null);
  showResults(Boolean(state.chosen), log);
};

/** @param {Partial<typeof state>} what */
const change = (what) => {
  Object.assign(state, what);
  return draw();
};

/**
 * Who does a role: one of the floor changes places, anybody else comes on.
 * @param {string} role
 */
const swap = (role) => {
  const before = five();
  askWho(said("who", { role }), state.floor, (id) => {
    partOf("swap", HTMLDialogElement).close();
    const at = Number(role) - 1;
    const off = before[at] ?? null;
    const after = before.map((who, index) => (index === at ? id : who === id ? off : who));
    const isNew = !before.includes(id);
    const floor = !isNew ? state.floor : off ? cameOn(state.floor, off, id) : [...state.floor, id];
    change({ five: after, floor });
  });
};

// The server's counts, and what it has not counted yet. Only the count that began last is shown.
const count = async () => {
  const turn = ++counts;
  const records = await desk.records();
  const [waiting, unsent] = [await desk.store.waiting(), await desk.store.unsent()];
  if (turn !== counts) return;
  const undone = takenBack(records);
  const ours = calledOf(records, undone);
  called = ours.map((tap) => tap.play);
  const last = ours[ours.length - 1];
  part("total").textContent = said("count", { total: calledTotal(records, undone, desk.tally) });
  partOf("undo", HTMLButtonElement).disabled = !last;
  part("undoes").textContent = last ? calledTold(last) : "";
  desk.tell(records, waiting.length, unsent.length);
};

/**
 * @param {string} result
 * @param {number | null} points
 */
const log = (result, points) => {
  const now = play();
  if (!now || !state.chosen || bounced()) return undefined;
  const cast = Object.fromEntries(five().flatMap((id, index) => (id ? [[String(index + 1), id]] : [])));
  /** @type {Called} */
  const tap = {
    kind: "called", id: newId(), game: data.game, play: now.id, at: new Date().toISOString(), by: data.by,
    defence: state.defence, ...state.chosen, result, points, cast, erred: state.erred,
    period: state.period || null, clock: null, revision: now.revision, ...(state.call === null ? {} : { call: state.call }),
  };
  logged = performance.now();
  if (navigator.vibrate) navigator.vibrate(15);
  const written = desk.put(tap);
  called = [...called, now.id];
  // The defence stays as it was seen last, and so does who is on the floor.
  change({ play: null, call: null, chosen: null, erred: null, five: null, all: false });
  for (const each of [window, part("plays")]) each.scrollTo(0, 0);
  return written;
};

const undo = () =>
  desk.inTurn(async () => {
    const records = await desk.records();
    const last = calledOf(records, takenBack(records)).pop();
    if (!last) return;
    /** @type {Undo} */
    const tap = { kind: "undo", id: newId(), rep: last.id, at: new Date().toISOString(), by: data.by };
    await desk.write(tap);
  });

const recall = () => {
  state.floor = [...data.floor];
  try {
    Object.assign(state, JSON.parse(sessionStorage.getItem(KEPT) || "{}"));
  } catch {
    sessionStorage.removeItem(KEPT);
  }
  const known = new Set(data.players.map((player) => player.id));
  state.floor = state.floor.filter((id) => known.has(id));
  if (!play()) Object.assign(state, { play: null, chosen: null, five: null });
};

const watch = () => {
  part("back").addEventListener("click", () => change({ play: null, chosen: null, erred: null, five: null }));
  part("period").addEventListener("click", () => change({ period: (state.period + 1) % (LAST_PERIOD + 1) }));
  part("undo").addEventListener("click", undo);
};

const begin = async () => {
  const { game, team, at, tally } = data;
  desk = await Desk.open(part("page"), { where: `game ${game}`, team, at, tally, asks: `game=${game}`, changed: count });
  recall();
  watch();
  desk.begin();
  await draw();
  if (!play()) drawChoice(); // once more, with what was called on this phone before
  desk.sender.start();
  desk.keepPage()
    .then(() => keepBeside(part("page").dataset.worker ?? "", part("page").dataset.beside ?? ""))
    .catch((error) => console.warn(error));
};

if (data) begin();
