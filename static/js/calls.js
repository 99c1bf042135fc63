// The call sheet: what these five can run, in which order, and the board of a play. All of it is
// worked out on the phone, so that a time-out waits for nobody.
import { changes, fillings, inOrder } from "./calls_five.js";
import { boardOf, showBoard, showFive, showNoBoard, writeNames } from "./calls_board.js";
import { allOf, changesTold, whyNot } from "./calls_words.js";
import {
  askWho, callOf, data, nameOf, part, partOf, playOf, said, showChanges, showFloor, showLines, showNot, showOccasions, showPrint, showUnits,
} from "./calls_view.js";
import { cameOn } from "./game_floor.js";
import { keepPage } from "./kept.js";

/**
 * @typedef {import("./calls_view.js").SheetLine} SheetLine
 * @typedef {import("./calls_five.js").Five} Five
 * @typedef {import("./calls_five.js").Filling} Filling
 */

const SHARED = `court-game-${data?.game}`; // what the game log of this game keeps, its floor among it
const root = data ? part("page") : null;

/** @type {{floor: number[], occasion: string, line: SheetLine | null, now: Map<number, Filling>, was: Map<number, Filling>}} */
const state = { floor: [], occasion: "", line: null, now: new Map(), was: new Map() };

/** @param {Map<number, Filling>} found @returns {Map<number, Five>} */
const rolesOf = (found) => new Map([...found].map(([play, filling]) => [play, filling.five]));
const byCast = () => new Map(data.plays.map((play) => [play.id, play.first]));

/** @param {number[]} floor @param {Map<number, Five>} held */
const worked = (floor, held) => fillings(data.plays, data.players, floor, held);

/** @param {number[]} floor */
const isFive = (floor) => new Set(floor).size === 5 && floor.every((id) => data.players.some((player) => player.id === id));

const recall = () => {
  state.floor = [...data.floor];
  try {
    const kept = JSON.parse(sessionStorage.getItem(SHARED) || "{}");
    if (Array.isArray(kept.floor) && isFive(kept.floor)) state.floor = kept.floor;
  } catch {
    sessionStorage.removeItem(SHARED);
  }
  state.now = worked(state.floor, byCast());
};

/** The log of this game has the same five, and calls the play that is chosen here. @param {object} more */
const share = (more = {}) => {
  const kept = JSON.parse(sessionStorage.getItem(SHARED) || "{}");
  sessionStorage.setItem(SHARED, JSON.stringify({ ...kept, ...more, floor: state.floor }));
};

/** @param {number[]} floor */
const change = (floor) => {
  if (!isFive(floor) || floor.every((id) => state.floor.includes(id))) return;
  state.was = state.now;
  state.floor = floor;
  state.now = worked(floor, rolesOf(state.was));
  share();
  draw();
};

const draw = () => {
  const board = state.line;
  part("sheet").hidden = Boolean(board);
  part("board").hidden = !board;
  if (board) drawBoard(board);
  else drawSheet();
};

const drawSheet = () => {
  showFloor(state.floor, (off) => takeOff(off));
  showUnits(state.floor, change);
  showOccasions(state.occasion, (occasion) => {
    state.occasion = occasion;
    draw();
  });
  const order = inOrder(data.plays, state.now, data.logged);
  showLines(order, state.occasion, open);
  showNot(data.plays.flatMap(({ id }) => state.now.get(id) ?? []).filter(({ can }) => !can));
  showChanges("who", allChanges());
  showPrint(state.floor);
  const pair = data.apart.find((two) => two.every((id) => state.floor.includes(id)));
  part("apart").hidden = !pair;
  part("apart").textContent = pair ? said("apart", { names: pair.map(nameOf).join(", ") }) : "";
};

/** Who goes where since the five before: one sentence a person and change of role, with its plays. */
const allChanges = () => {
  /** @type {Map<string, {before: Five, after: Five, player: number, plays: string[]}>} */
  const found = new Map();
  const run = [...state.now.values()].filter(({ can }) => can).length;
  for (const { id } of data.plays) {
    const [was, now] = [state.was.get(id), state.now.get(id)];
    if (!was || !now?.can) continue;
    for (const each of changes(was.five, now.five)) {
      const key = `${each.player} ${each.before} ${each.after}`;
      const known = found.get(key) ?? { before: was.five, after: now.five, player: each.player, plays: [] };
      known.plays.push(playOf(id)?.name ?? "");
      found.set(key, known);
    }
  }
  return [...found.values()].flatMap(({ before, after, player, plays }) => {
    /** @param {Five} five @returns {Five} */
    const only = (five) => five.map((id) => (id === player ? id : null));
    const where = plays.length > 1 && plays.length === run ? said("every") : allOf(plays, data.words);
    return changesTold(only(before), only(after), where, nameOf, data.words);
  });
};

/** @param {number} off */
const takeOff = (off) => {
  /** @param {number} on what can be run then; on the board first whether its play can */
  const hint = (on) => {
    const then = [...worked(cameOn(state.floor, off, on), rolesOf(state.now)).values()];
    if (then.some(({ play, can }) => play === state.line?.play && !can)) return said("not_this");
    return said("then", { n: then.filter(({ can }) => can).length, all: data.plays.length });
  };
  askWho(said("who_for", { name: nameOf(off) }), state.floor, hint, (on) => change(cameOn(state.floor, off, on)));
};

/** @param {SheetLine} line */
const open = async (line) => {
  history.pushState({ board: data.lines.indexOf(line) }, "");
  await show(line);
};

/** @param {SheetLine} line */
const show = async (line) => {
  state.line = line;
  state.was = new Map();
  part("floor-of").replaceChildren();
  part("views").replaceChildren();
  draw();
  window.scrollTo(0, 0);
  try {
    const drawn = await boardOf(line.board);
    if (state.line === line) showBoard(drawn, state.now.get(line.play)?.five ?? []);
  } catch {
    if (state.line === line) showNoBoard();
  }
  part("call").focus({ preventScroll: true });
};

/** @param {SheetLine} line */
const drawBoard = (line) => {
  const [was, now] = [state.was.get(line.play), state.now.get(line.play)];
  if (!now) return;
  part("call").textContent = callOf(line, now);
  part("sign").textContent = line.sign;
  part("sign").hidden = !line.sign;
  showFive(now, was?.five ?? [], state.floor, takeOff);
  showChanges("board-who", was && now.can ? changesTold(was.five, now.five, playOf(line.play)?.name ?? "", nameOf, data.words) : []);
  const why = whyNot(now, playOf(line.play)?.thrower ?? null, nameOf, data.words);
  part("board-not").hidden = now.can;
  part("board-not").textContent = now.can ? "" : said("cannot", { why });
  writeNames(now.five);
};

const close = () => {
  if (document.fullscreenElement) document.exitFullscreen();
  state.line = null;
  draw();
};

const watch = () => {
  part("back").addEventListener("click", () => history.back());
  window.addEventListener("popstate", (event) => {
    const line = data.lines[event.state?.board ?? -1];
    if (line) show(line);
    else close();
  });
  const whole = partOf("whole", HTMLButtonElement);
  whole.hidden = !document.fullscreenEnabled;
  whole.addEventListener("click", () =>
    document.fullscreenElement ? document.exitFullscreen() : part("board").requestFullscreen().catch(() => undefined));
  part("log-it").addEventListener("click", () => {
    const line = state.line;
    if (line) share({ play: line.play, call: line.log || null, chosen: null, erred: null, five: null });
  });
};

const asOf = () => {
  const at = new Date(data.at);
  const lang = document.documentElement.lang;
  const time = at.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  const isToday = at.toDateString() === new Date().toDateString();
  part("at").textContent = isToday ? time : `${at.toLocaleDateString(lang, { day: "numeric", month: "short" })}, ${time}`;
};

// Every board is fetched once while there is a signal: the page has it then, and so has the phone.
const fetchBoards = async () => {
  for (const { board } of data.lines) await boardOf(board).catch(() => null);
  part("state").hidden = false;
};

const begin = async () => {
  if (!root) return;
  recall();
  asOf();
  watch();
  part("plain").remove();
  root.hidden = false;
  history.replaceState(null, "");
  draw();
  await keepPage(root.dataset.worker ?? "", { pictures: data.lines.map(({ board }) => board) })
    .catch((error) => console.warn(error));
  await fetchBoards();
};

if (data) begin();
