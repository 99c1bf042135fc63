// Drawing a play by hand: what is chosen, the steps that follow from it, undo, and the answers.
// @ts-check
import { all, need, needed, token } from "./dom.js";
import { judge } from "./draw_check.js";
import { nearest, shortOf, snapped } from "./draw_floor.js";
import { handle } from "./draw_hand.js";
import { sender } from "./draw_send.js";
import { keeper } from "./draw_store.js";

/** @typedef {import("./draw_hand.js").Hold} Hold */
/** @typedef {import("./draw_store.js").Step} Step */

const AGAIN = 3000; // ms before a lost connection is tried again
const BESIDE = 1.2; // metres from a person that a pass may be dropped
const TO_SOMEBODY = ["pass", "handoff"];
const MET = 0.5; // metres from a person that a screen is meant for them
const NAMED = 0.13; // metres: half a step of the arrow keys
const IN_PLACE = ["hold"];

/** @param {HTMLFormElement} form */
function begin(form) {
  const key = form.dataset.draw ?? "";
  /** @type {import("./draw_floor.js").Spot[]} */
  const spots = JSON.parse(need(document, "#places").textContent ?? "[]");
  const said = need(form, "#said");
  const meanwhile = need(form, "#meanwhile");
  const back = needed(form, "#back", HTMLButtonElement);
  const forth = needed(form, "#forth", HTMLButtonElement);
  const fields = form.elements;
  const store = keeper(key, { local: localStorage, session: sessionStorage }, () => say(said.dataset.full ?? ""));
  const waiting = store.waiting();
  const left = waiting.steps.length ? null : store.left();
  if (left) Object.assign(waiting, left);
  /** @type {Hold | null} */
  let chosen = null;
  let hand = { stop: () => {}, busy: () => false };
  let newest = "";
  let late = ""; // an answer that came while the hand was at work

  const drawn = () => need(document, "#drawn");
  /** @param {string} words */
  const say = (words) => { said.textContent = words; };
  /** @param {string} name */
  const field = (name) => /** @type {HTMLSelectElement | RadioNodeList} */ (fields.namedItem(name)).value;
  /** @param {string} name @param {string} value */
  const set = (name, value) => { /** @type {HTMLSelectElement} */ (fields.namedItem(name)).value = value; };
  const placing = () => field("do") === "place";
  const rerouting = () => field("do") === "way";
  /** What can be taken hold of. */
  const holding = () => (rerouting() ? ".way" : placing() && document.querySelector("#drawn .start") ? ".start" : ".piece");
  const toSomebody = () => TO_SOMEBODY.includes(field("do"));

  /** @param {object} command @param {Step["way"]} [way] */
  const step = (command, way = "step") => {
    const { phase = "1", counter = "", seen = "" } = drawn().dataset;
    choose(null);
    queue.add({ once: crypto.randomUUID(), command: JSON.stringify(command), phase, counter, way }, seen);
  };
  /** @param {Hold | null} hold */
  const choose = (hold) => {
    chosen?.element.setAttribute("aria-pressed", "false");
    chosen = hold;
    hold?.element.setAttribute("aria-pressed", "true");
    set("role", hold?.role ?? "");
    if (hold) say(hold.element.getAttribute("aria-label") ?? "");
    if (hold && !hold.action && IN_PLACE.includes(field("do"))) act(hold.role, null);
  };
  /** @param {string} role @param {{x: number, y: number} | null} to */
  const act = (role, to) => {
    const at = to ? [to.x, to.y] : null;
    if (placing() && !document.querySelector("#drawn .start")) return say(said.dataset.first ?? "");
    if (placing()) return step({ do: "place", role, at });
    if (rerouting()) return say(said.dataset.way ?? "");
    const kind = field("do");
    const cut = kind === "cut" ? field("cut") : null;
    const phase = drawn().dataset.phaseId;
    const other = field("other") || null;
    set("other", "");
    return step({ do: "act", phase, role, kind, at: TO_SOMEBODY.includes(kind) ? null : at, other, cut });
  };
  /** Where everybody else stands. @param {Hold} hold */
  const others = (hold) => all(document, "#drawn .piece")
    .map((each) => ({ role: each.dataset.role ?? "", x: Number(each.dataset.x), y: Number(each.dataset.y) }))
    .filter((each) => each.role !== hold.role);
  /** What a gesture would do if it ended here; the ring shows the same. @param {Hold | null} hold @param {{x: number, y: number}} at */
  const land = (hold, at) => {
    if (toSomebody() && !hold?.action) return at;
    const met = hold && !hold.action && field("do") === "screen" ? nearest(at, others(hold), MET) : null;
    return hold && met ? shortOf(hold, met) : snapped(at, spots);
  };
  /** @param {Hold} hold @param {{x: number, y: number}} to */
  const finish = (hold, to) => {
    if (hold.action) return step({ do: "move", action: hold.action, point: hold.point, at: [to.x, to.y] });
    if (toSomebody()) {
      const other = nearest(to, others(hold), BESIDE);
      if (!other) return say(said.dataset.nobody ?? "");
      set("other", other.role);
    }
    return act(hold.role, to);
  };
  /** Where the ring is, in words if the place has a name. @param {{x: number, y: number}} at */
  const named = (at) => spots.find(([, x, y]) => Math.hypot(x - at.x, y - at.y) < NAMED)?.[0]
    ?? `${at.x.toFixed(2)} ${at.y.toFixed(2)}`;
  const listen = () => {
    hand.stop();
    hand = handle(need(document, "#floor"), {
      land, holding, finish, choose, chosen: () => chosen, drops: toSomebody,
      meets: () => toSomebody() || field("do") === "screen",
      bend: (line, to) => step({ do: "bend", action: line.action, point: line.point, at: [to.x, to.y] }),
      ended: () => {
        const text = late;
        late = "";
        if (text) show(text);
      },
      say: (at) => say(named(at)),
    });
    const name = CSS.escape(chosen?.element.dataset.key ?? "");
    const again = chosen && /** @type {SVGGElement | null} */ (document.querySelector(`#drawn [data-key="${name}"]`));
    if (chosen && again) chosen.element = again;
    else chosen = null;
    chosen?.element.setAttribute("aria-pressed", "true");
    need(document, "#floor").dataset.doing = field("do");
    const past = store.past();
    back.disabled = !past.back.length;
    forth.disabled = !past.forth.length;
  };
  /** @param {string} text a part of the page */
  const show = (text) => {
    const writing = document.activeElement instanceof HTMLInputElement ? document.activeElement.value : null;
    const focused = document.activeElement?.getAttribute("data-key");
    const open = all(document, "#drawn details[open] > summary").map((each) => each.dataset.key);
    const part = new DOMParser().parseFromString(text, "text/html").getElementById("drawn");
    if (!part) return;
    drawn().replaceWith(document.adoptNode(part));
    for (const each of all(document, "#drawn details > summary")) {
      if (open.includes(each.dataset.key)) /** @type {HTMLDetailsElement} */ (each.parentElement).open = true;
    }
    const there = document.querySelector(`[data-key="${CSS.escape(focused ?? "")}"]`);
    if (writing !== null && there instanceof HTMLInputElement) there.value = writing;
    if (focused && there) /** @type {HTMLElement} */ (there).focus({ preventScroll: true });
    listen();
    rest();
  };
  /** @param {string} phase @param {string} counter */
  const fetchPart = async (phase, counter) => {
    const query = new URLSearchParams({ phase, counter });
    const answer = await fetch(`${form.dataset.part}?${query}`, { headers: { "HX-Request": "true" } });
    if (answer.ok) show(await answer.text());
  };
  /** @param {Step} made */
  const remember = (made) => {
    const before = drawn().dataset.document ?? "";
    const after = new DOMParser().parseFromString(newest, "text/html").getElementById("drawn")?.dataset.document ?? "";
    const past = store.past();
    if (made.way === "back") past.back.pop();
    if (made.way === "forth") past.forth.pop();
    if (before !== after) {
      if (made.way === "back") past.forth.push(before);
      else past.back.push(before);
      if (made.way === "step") past.forth.length = 0;
    }
    store.remember(past);
  };

  const queue = sender({
    keep: store.keep,
    post: async (made, seen) => {
      const body = new FormData();
      for (const [name, value] of Object.entries({ ...made, seen, csrfmiddlewaretoken: token() })) body.set(name, value);
      try {
        const answer = await fetch(form.dataset.post ?? "", { method: "POST", body, headers: { "HX-Request": "true" } });
        const text = await answer.text();
        if (answer.status === 409) return { kind: "changed", said: text };
        if (answer.status === 422 || answer.status === 400) return { kind: "refused", said: text };
        if (!answer.ok) return { kind: "away" };
        newest = text;
        const part = new DOMParser().parseFromString(text, "text/html").getElementById("drawn");
        return part ? { kind: "done", seen: part.dataset.seen ?? "" } : { kind: "away" };
      } catch {
        return { kind: "away" };
      }
    },
    done: (made) => {
      remember(made);
      if (hand.busy()) late = newest;
      else show(newest);
      say(said.dataset.saved ?? "");
    },
    refused: say,
    changed: (words) => {
      need(meanwhile, "p").textContent = words;
      meanwhile.hidden = false;
    },
    away: () => say(said.dataset.waiting ?? ""),
    later: (again) => { setTimeout(again, AGAIN); },
  }, waiting);

  const rest = judge(form.dataset.judged ?? "", { drawn, idle: queue.idle });

  /** @param {boolean} withSteps */
  const settle = async (withSteps) => {
    const { phase = "1", counter = "" } = drawn().dataset;
    meanwhile.hidden = true;
    store.remember({ back: [], forth: [] }); // what is undone is one's own only
    await fetchPart(phase, counter);
    queue.resume(drawn().dataset.seen ?? "", withSteps);
  };
  need(meanwhile, "[data-again]").addEventListener("click", () => { void settle(true); });
  need(meanwhile, "[data-drop]").addEventListener("click", () => { void settle(false); });
  window.addEventListener("online", () => { void queue.run(); });

  /** @param {"back" | "forth"} way */
  const go = (way) => {
    const state = store.past()[way].at(-1);
    if (state && queue.idle()) step({ do: "restore", play: JSON.parse(state) }, way);
  };
  back.addEventListener("click", () => go("back"));
  forth.addEventListener("click", () => go("forth"));
  document.addEventListener("keydown", (event) => {
    const inside = event.target instanceof Element && event.target.closest("#drawn");
    if (!inside || !(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
    event.preventDefault();
    go(event.shiftKey ? "forth" : "back");
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const role = field("role");
    const spot = spots[Number(field("place") || -1)];
    if (!role) return;
    set("place", "");
    act(role, spot ? { x: spot[1], y: spot[2] } : null);
  });
  form.addEventListener("change", (event) => {
    if (/** @type {HTMLInputElement} */ (event.target).name === "do") need(document, "#floor").dataset.doing = field("do");
  });
  /** @param {HTMLInputElement} title */
  const rename = (title) => {
    if (title.value.trim()) step({ do: "rename", phase: title.dataset.rename, title: title.value.trim() });
  };
  document.addEventListener("click", (event) => {
    const button = /** @type {Element} */ (event.target).closest("#drawn button");
    if (!(button instanceof HTMLElement)) return;
    const { command, show: phase, answer } = button.dataset;
    const now = drawn().dataset;
    if (button.closest("#judged") && !queue.idle()) return say(said.dataset.waiting ?? "");
    if ("leave" in button.dataset) now.counter = "";
    if (command) step(JSON.parse(command));
    else if (phase) void fetchPart(phase, now.counter ?? "");
    else if (answer !== undefined) void fetchPart(now.phase ?? "1", answer);
    else if (button.dataset.key === "rename") rename(needed(document, "#drawn [data-rename]", HTMLInputElement));
    else if ("nextPhase" in button.dataset) step({ do: "phase", title: said.dataset.next });
  });

  document.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !(event.target instanceof HTMLInputElement) || !event.target.dataset.rename) return;
    event.preventDefault();
    rename(event.target);
  });

  listen();
  needed(form, "#what", HTMLFieldSetElement).disabled = false;
  say(said.dataset.ready ?? "");
  rest();
  if (waiting.steps.length) void queue.run();
}

const form = document.querySelector("form[data-draw]");
if (form instanceof HTMLFormElement) begin(form);
