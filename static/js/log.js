// The courtside log. A tap becomes a record in the phone's store first, then it is sent.
import { KEPT, choose, five, isLive, play, recall, remember, state, swapped } from "./log_choice.js";
import { Sender } from "./log_send.js";
import { newId, TapStore } from "./log_store.js";
import { data, fillChoices, part, said, showFive, showLast, showModes, showPeople, showSlips } from "./log_view.js";

const root = part("page");
let store, sender, open, tally;
let busy = Promise.resolve();
let [counts, writing, shown] = [0, 0, 0];

const draw = () => {
  part("play").value = state.play;
  part("unit").value = state.unit;
  const blocks = data.blocks.length;
  part("block").textContent = blocks ? said("block", { n: state.block + 1 || "–", of: blocks }) : said("no_block");
  part("before").disabled = !(state.block > 0);
  part("next").disabled = !(state.block < blocks - 1);
  showModes(state.mode, (mode) => change({ mode }));
  showFive("five", five(), (role) => showPeople(role, five(), isLive(), (id) => swap(role, id)));
  remember();
  return count();
};

const change = (what) => {
  Object.assign(state, what);
  return draw();
};

const swap = (role, id) => {
  swapped(role, id);
  part("swap").close();
  draw();
};

// The server's counts, and what it has not counted yet.
// Only the count that began last is shown, so that an old "all logged" never covers a new tap.
const count = async () => {
  const turn = ++counts;
  const records = await store.of(data.practice);
  const [waiting, unsent] = [await store.waiting(), await store.unsent()];
  if (turn !== counts) return;
  const undone = new Set(records.filter((record) => record.tap.kind === "undo").map((record) => record.tap.rep));
  const fresh = records.filter(
    ({ tap, state: at }) => tap.kind === "rep" && tap.play === state.play && (at === "waiting" || at === "open") && !undone.has(tap.id),
  );
  // A rep that the server counts and whose undo still waits here is gone for who looks.
  const late = records.filter(({ tap, state: at }) => tap.kind === "undo" && at === "waiting");
  const back = late.map((undo) => records.find((record) => record.id === undo.tap.rep)).filter((record) => record?.state === "kept" && record.tap.play === state.play);
  const known = tally[state.play] || { total: 0, clean: 0 };
  const total = known.total + fresh.length - back.length;
  const clean = known.clean + fresh.filter(({ tap }) => tap.clean).length - back.filter(({ tap }) => tap.clean).length;
  part("total").textContent = total;
  part("clean-count").textContent = said("count", { clean, total });
  part("undo").disabled = !records.some((record) => record.tap.kind === "rep" && !undone.has(record.id));
  showLast(records, undone);
  const still = records.filter((record) => record.state === "open").length; // not sent either
  tell(waiting.length + still + writing, unsent.length + still + writing, records.filter((record) => record.state === "held").length, records.length);
};

const tell = (waiting, unsent, held, all) => {
  if (!waiting) part("state").textContent = held ? said("held", { n: held }) : all ? said("logged") : "";
  showWaiting(waiting);
  const refused = unsent > waiting;
  const why = store.fault || (waiting && sender.status) || (refused ? "refused" : "");
  part("let-go").hidden = !(refused || (waiting && sender.stuck.size));
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

const showWaiting = (waiting) => {
  shown = waiting;
  part("state").dataset.waiting = waiting;
  if (waiting) part("state").textContent = said("waiting", { n: waiting });
};

const record = (tap, at) => ({ id: tap.id, team: data.team, practice: data.practice, made: Date.now(), state: at, tap });

const logRep = (clean) => {
  const cast = Object.fromEntries(five().map((id, index) => [String(index + 1), id]).filter(([, id]) => id));
  if (Object.keys(cast).length < 5) {
    part("note").hidden = false;
    part("note-text").textContent = said("empty");
    return undefined;
  }
  const tap = {
    kind: "rep", id: newId(), practice: data.practice, play: state.play, mode: state.mode, at: new Date().toISOString(),
    cast, clean, erred: null, slip: null, unit: state.unit ? Number(state.unit) : null, by: data.by, revision: play().revision,
  };
  if (navigator.vibrate) navigator.vibrate(clean ? 15 : [15, 40, 15]);
  if (!clean) ask(tap);
  return inTurn(() => store.put(record(tap, clean ? "waiting" : "open")));
};

const ask = (tap) => {
  open = tap;
  part("result").hidden = true;
  part("slip").hidden = false;
  showErred();
  showSlips((slip) => finish({ slip }));
};

const showErred = () =>
  showFive("erred", [1, 2, 3, 4, 5].map((role) => open.cast[role]), (role) => {
    open.erred = role;
    showErred();
    inTurn(() => store.put(record({ ...open }, "open")));
  }, open.erred || "");

const finish = (more = {}) => {
  const tap = { ...open, ...more };
  open = null;
  part("slip").hidden = true;
  part("result").hidden = false;
  return inTurn(() => store.put(record(tap, "waiting")));
};

const undo = () =>
  inTurn(async () => {
    const records = await store.of(data.practice);
    const undone = new Set(records.filter(({ tap }) => tap.kind === "undo").map(({ tap }) => tap.rep));
    const last = records.filter(({ tap }) => tap.kind === "rep" && !undone.has(tap.id)).pop();
    if (!last) return;
    const tap = { kind: "undo", id: newId(), rep: last.id, at: new Date().toISOString(), by: data.by };
    await store.put(record(tap, "waiting"));
  });

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

const saveAsFile = (taps) => {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([JSON.stringify({ version: 1, taps }, null, 1)], { type: "application/json" }));
  link.download = `waiting-reps-${new Date().toISOString().slice(0, 16).replace(":", "")}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
};

const tick = () => {
  const seconds = Math.max(0, Math.floor((Date.now() - state.since) / 1000));
  part("clock").textContent = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
};

const watch = () => {
  part("play").addEventListener("change", (event) => change({ play: Number(event.target.value), since: Date.now() }));
  part("unit").addEventListener("change", (event) => change({ unit: event.target.value }));
  part("before").addEventListener("click", () => choose(state.block - 1) || draw());
  part("next").addEventListener("click", () => choose(state.block + 1) || draw());
  part("clean").addEventListener("click", () => logRep(true));
  part("error").addEventListener("click", () => logRep(false));
  part("enough").addEventListener("click", () => finish());
  part("undo").addEventListener("click", undo);
  part("hand-over").addEventListener("click", handOver);
  part("let-go").addEventListener("click", letGo);
  part("sign-in").href = `${root.dataset.signIn}?next=${encodeURIComponent(window.location.pathname)}`;
  window.addEventListener("beforeunload", (event) => store.memory.size && event.preventDefault());
  setInterval(tick, 1000);
};

const work = async () => {
  if (!("serviceWorker" in navigator)) return;
  await navigator.serviceWorker.register(root.dataset.worker);
  const ready = await navigator.serviceWorker.ready;
  const files = performance.getEntriesByType("resource").map((entry) => entry.name);
  const own = files.filter((name) => new URL(name).pathname.startsWith("/static/"));
  ready.active.postMessage({ keep: { page: window.location.href, files: own } });
};

const begin = async () => {
  store = await TapStore.open();
  await store.tidy();
  tally = newerTally();
  sender = new Sender(store, {
    address: root.dataset.anyTaps,
    practice: data.practice,
    changed: count,
    counted: (fresh) => {
      tally = fresh;
      sessionStorage.setItem(`${KEPT}-tally`, JSON.stringify({ at: new Date().toISOString(), tally }));
    },
  });
  fillChoices();
  recall();
  watch();
  part("plain").remove();
  root.hidden = false;
  part("state").setAttribute("role", "status");
  await draw();
  tick();
  sender.start();
  work().catch((error) => console.warn(error));
};

if (data) begin();
