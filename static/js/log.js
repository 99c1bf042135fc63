// The courtside log. A tap becomes a record in the phone's store first, then it is sent.
import { clock } from "./clock.js";
import { KEPT, choose, five, isLive, play, recall, remember, state, swapped } from "./log_choice.js";
import { Sender } from "./log_send.js";
import { bounces, counted, takenBack } from "./log_count.js";
import { newId, TapStore } from "./log_store.js";
import {
  data, fillChoices, lastTold, part, partOf, said, showCalls, showFive, showLast, showModes, showPeople, showSlips, showUnits, whichBlock,
} from "./log_view.js";

/**
 * @typedef {import("./log_store.js").Rep} Rep
 * @typedef {import("./log_store.js").Tap} Tap
 * @typedef {import("./log_store.js").State} State
 * @typedef {import("./log_send.js").Tally} Tally
 */

/** @type {TapStore} */
let store;
/** @type {Sender} */
let sender;
/** @type {Rep | null} the error whose details are being tapped */
let open = null;
/** @type {Tally} */
let tally = {};
/** @type {Promise<void>} */
let busy = Promise.resolve();
let [counts, writing, shown] = [0, 0, 0];
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
  const records = await store.of(data.practice);
  const [waiting, unsent] = [await store.waiting(), await store.unsent()];
  if (turn !== counts) return;
  const known = tally[state.play] ?? { total: 0, clean: 0 };
  const { total, clean, mayUndo, undone } = counted(records, state.play, known);
  part("total").textContent = String(total);
  part("clean-count").textContent = said("count", { clean, total });
  partOf("undo", HTMLButtonElement).disabled = !mayUndo;
  showLast(records, undone);
  part("undoes").textContent = lastTold(records, undone);
  const still = records.filter((record) => record.state === "open").length; // not sent either
  const held = records.filter((record) => record.state === "held").length;
  tell(waiting.length + still + writing, unsent.length + still + writing, held, records.length);
};

/**
 * @param {number} waiting
 * @param {number} unsent
 * @param {number} held
 * @param {number} all
 */
const tell = (waiting, unsent, held, all) => {
  if (!waiting) part("state").textContent = held ? said("held", { n: held }) : all ? said("logged") : "";
  showWaiting(waiting);
  const refused = unsent > waiting;
  const why = store.fault || (waiting && sender.status) || (refused ? "refused" : "");
  part("let-go").hidden = !(refused || (waiting > 0 && sender.stuck.size > 0));
  part("note").hidden = !why;
  part("note-text").textContent = why ? said(why) : "";
  part("sign-in").hidden = why !== "signed_out";
  part("hand-over").hidden = !why || !(waiting || refused);
};

// A page that opened without signal is older than what the server said last.
const newerTally = () => {
  const last = JSON.parse(sessionStorage.getItem(`${KEPT}-tally`) || "null");
  return last && last.at > data.at ? last.tally : data.tally;
};

// Taps are taken one after the other, so that quick thumbs keep their order. From the tap on
// it shows as waiting, even before the phone has written it down.
/** @param {() => Promise<void>} work */
const inTurn = (work) => {
  writing += 1;
  showWaiting(shown + 1);
  busy = busy
    .then(work)
    .catch((error) => console.warn(error))
    .then(() => {
      writing -= 1;
      return count();
    })
    .then(() => sender.kick());
  return busy;
};

/** @param {number} waiting */
const showWaiting = (waiting) => {
  shown = waiting;
  part("state").dataset.waiting = String(waiting);
  if (waiting) part("state").textContent = said("waiting", { n: waiting });
};

/**
 * @param {Tap} tap
 * @param {State} at
 */
const record = (tap, at) => ({ id: tap.id, team: data.team, practice: data.practice, made: Date.now(), state: at, tap });

/** @param {boolean} clean */
const logRep = (clean) => {
  if (isBounce(state.play, clean, performance.now())) return undefined;
  const cast = Object.fromEntries(five().flatMap((id, index) => (id ? [[String(index + 1), id]] : [])));
  if (Object.keys(cast).length < 5) {
    part("note").hidden = false;
    part("note-text").textContent = said("empty");
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
  return inTurn(() => store.put(record(tap, clean ? "waiting" : "open")));
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
    inTurn(() => store.put(record({ ...tap }, "open")));
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
  return inTurn(() => store.put(record(tap, "waiting")));
};

const undo = () => {
  finish(); // an error whose details were being tapped is one rep like any other
  return inTurn(async () => {
    const records = await store.of(data.practice);
    const undone = takenBack(records);
    const last = records.filter(({ tap }) => tap.kind === "rep" && !undone.has(tap.id)).pop();
    if (!last) return;
    /** @type {Tap} */
    const tap = { kind: "undo", id: newId(), rep: last.id, at: new Date().toISOString(), by: data.by };
    await store.put(record(tap, "waiting"));
  });
};

const handOver = async () => saveAsFile((await store.unsent()).map(({ tap }) => tap));

// What the server does not take leaves the phone as a file, and then the phone.
const letGo = async () => {
  const gone = (await store.unsent()).filter(({ id, state: at }) => at === "refused" || sender.stuck.has(id));
  if (!gone.length) return;
  saveAsFile(gone.map(({ tap }) => tap));
  await store.drop(gone.map(({ id }) => id));
  gone.forEach(({ id }) => sender.stuck.delete(id));
  await count();
  sender.kick();
};

/** @param {Tap[]} taps */
const saveAsFile = (taps) => {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([JSON.stringify({ version: 1, taps }, null, 1)], { type: "application/json" }));
  link.download = `waiting-reps-${new Date().toISOString().slice(0, 16).replace(":", "")}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
};

const tick = () => {
  part("clock").textContent = clock(Math.floor((Date.now() - state.since) / 1000));
};

/** @param {number} index */
const toBlock = (index) => {
  choose(index);
  return draw();
};

/** @param {HTMLElement} root */
const watch = (root) => {
  const played = partOf("play", HTMLSelectElement);
  played.addEventListener("change", () => change({ play: Number(played.value), call: null, since: Date.now() }));
  part("before").addEventListener("click", () => toBlock(state.block - 1));
  part("next").addEventListener("click", () => toBlock(state.block + 1));
  part("clean").addEventListener("click", () => logRep(true));
  part("error").addEventListener("click", () => logRep(false));
  part("enough").addEventListener("click", () => finish());
  part("undo").addEventListener("click", undo);
  part("hand-over").addEventListener("click", handOver);
  part("let-go").addEventListener("click", letGo);
  partOf("sign-in", HTMLAnchorElement).href = `${root.dataset.signIn}?next=${encodeURIComponent(window.location.pathname)}`;
  window.addEventListener("beforeunload", (event) => {
    if (store.memory.size) event.preventDefault();
  });
  setInterval(tick, 1000);
};

/** @param {HTMLElement} root */
const work = async (root) => {
  if (!("serviceWorker" in navigator)) return;
  await navigator.serviceWorker.register(root.dataset.worker ?? "");
  const ready = await navigator.serviceWorker.ready;
  const files = performance.getEntriesByType("resource").map((entry) => entry.name);
  const own = files.filter((name) => new URL(name).pathname.startsWith("/static/"));
  const pictures = [...document.querySelectorAll("img.drill-picture")].map((each) => each instanceof HTMLImageElement ? each.src : "");
  ready.active?.postMessage({ keep: { page: window.location.href, files: own, pictures } });
};

const begin = async () => {
  const root = part("page");
  store = await TapStore.open();
  await store.tidy();
  tally = newerTally();
  sender = new Sender(store, {
    address: root.dataset.anyTaps ?? "",
    practice: data.practice,
    changed: count,
    counted: (fresh) => {
      tally = fresh;
      sessionStorage.setItem(`${KEPT}-tally`, JSON.stringify({ at: new Date().toISOString(), tally }));
    },
  });
  fillChoices();
  recall();
  watch(root);
  part("plain").remove();
  root.hidden = false;
  part("state").setAttribute("role", "status");
  await draw();
  tick();
  sender.start();
  work(root).catch((error) => console.warn(error));
};

if (data) begin();
