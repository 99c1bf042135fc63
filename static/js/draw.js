// Drawing a play by hand: what is chosen, the steps that follow from it, undo, and the answers.
// @ts-check
import { need, needed } from "./dom.js";
import { begins, drawAhead, opens } from "./draw_ahead.js";
import { buttons } from "./draw_buttons.js";
import { judge } from "./draw_check.js";
import { jumped } from "./draw_floor.js";
import { doingNow, held, inSight, offerOf, others, turned } from "./draw_form.js";
import { handle } from "./draw_hand.js";
import { meanwhile } from "./draw_meanwhile.js";
import { drawn, fold, openedBy, partOf } from "./draw_part.js";
import { pastAfter } from "./draw_past.js";
import { saying } from "./draw_said.js";
import { sender } from "./draw_send.js";
import { fetchPart, postStep } from "./draw_server.js";
import { showing, turnedTo } from "./draw_show.js";
import { asked, bent, finished, holding, inPlace, landing, meets, named, toSomebody } from "./draw_step.js";
import { stops } from "./draw_stops.js";
import { keeper } from "./draw_store.js";
import { typing } from "./draw_typing.js";
import { undoing } from "./draw_undo.js";

/** @typedef {import("./draw_hand.js").Hold} Hold */
/** @typedef {import("./draw_step.js").Meant} Meant */
/** @typedef {import("./draw_store.js").Step} Step */

const AGAIN = 3000; // ms before a lost connection is tried again

/** @param {HTMLFormElement} form */
function begin(form) {
  /** @type {import("./draw_floor.js").Spot[]} */
  const spots = JSON.parse(need(document, "#places").textContent ?? "[]");
  const { say, tell, words, ...said } = saying(form);
  /** @type {import("./draw_step.js").Ground} */
  const ground = { ...JSON.parse(need(document, "#ground").textContent ?? "{}"), beyond: words.beyond ?? "" };
  const stores = { local: localStorage, session: sessionStorage };
  const store = keeper(form.dataset.draw ?? "", stores, said.full);
  const typed = typing(store);
  const stopped = stops();
  const waiting = store.waiting();
  if (!waiting.steps.length) Object.assign(waiting, store.left());
  /** @type {Hold | null} */
  let chosen = null;
  let hand = { stop: () => {}, busy: () => false };
  let newest = "";
  let stood = drawn().dataset.document ?? ""; // what one's next step is made on, and undo goes back to

  /** @param {string} name */
  const field = (name) => /** @type {HTMLSelectElement | RadioNodeList} */ (form.elements.namedItem(name));
  const doing = () => doingNow(field, words);

  /** @param {object} command @param {Step["way"]} [way] */
  const step = (command, way = "step") => {
    const made = { once: crypto.randomUUID(), command: JSON.stringify(command), ...turnedTo(), way };
    const before = queue.steps().find(opens);
    if (before && said.isBehind()) return tell("opening");
    if (before && opens(made)) return tell("waiting"); // a second tap of the same
    choose(null);
    queue.add(before && begins(before) ? { ...made, into: before.once } : made, court.newest().seen);
    ahead();
  };
  /** What the server does not have yet is drawn here, so that nobody waits for it. */
  const ahead = () => {
    const { phase, counter } = turnedTo();
    const here = queue.steps().filter((each) => each.phase === phase && each.counter === counter);
    drawAhead(need(document, "#floor"), here, spots, ground);
    undo.shown();
  };
  /** @param {Meant} meant */
  const take = (meant) => {
    field("other").value = "";
    if ("command" in meant) {
      step(meant.command);
      field("cut").value = "straight"; // the kind of a cut is chosen for one
    } else tell(meant.told);
  };
  /** Whoever is tapped comes last in the order of the looks, or out of it. @param {string} role */
  const look = (role) => {
    const offer = offerOf(role);
    choose(null);
    if (!offer) tell("unseen");
    else if (!queue.idle()) tell("waiting"); // it was made on an older state
    else step(JSON.parse(offer.dataset.command ?? ""));
  };
  /** @param {Hold | null} hold */
  const choose = (hold) => {
    if (hold) hold.element = inSight(hold) ?? hold.element;
    chosen?.element.setAttribute("aria-pressed", "false");
    chosen = hold;
    hold?.element.setAttribute("aria-pressed", "true");
    field("role").value = hold?.role ?? "";
    if (hold) say(hold.element.getAttribute("aria-label") ?? "");
    if (hold && doing().kind === "look") look(hold.role);
    if (hold && !hold.action && inPlace(doing())) take(asked(doing(), hold.role, null));
  };
  /** The next thing to do, or the one before. @param {1 | -1} by */
  const turn = (by) => {
    const next = turned(form, by);
    const role = document.activeElement instanceof SVGElement ? document.activeElement.dataset.role : "";
    told(); // which may hide what had the focus
    held(doing(), role).focus({ preventScroll: true });
    say(next.labels?.[0].textContent?.trim() ?? "");
  };
  const told = () => { need(document, "#floor").dataset.doing = doing().kind; };
  const listen = () => {
    hand.stop();
    hand = handle(need(document, "#floor"), {
      land: (hold, at) => landing(doing(), hold, at, others(hold), spots),
      holding: () => `.${holding(doing())}`,
      finish: (hold, to, at) => take(finished(doing(), hold, to, others(hold), at)),
      choose, chosen: () => chosen, turn,
      drops: () => toSomebody(doing()), meets: () => meets(doing()),
      bend: (line, to) => take(bent(line, to)),
      ended: court.ended,
      say: (at) => say(named(at, spots, ground)),
      jump: (at, key) => jumped(at, key, spots),
    });
    const again = chosen && inSight(chosen);
    if (chosen && again) chosen.element = again;
    else chosen = null;
    chosen?.element.setAttribute("aria-pressed", "true");
    told();
    stopped();
    typed.restore();
    ahead();
  };
  const court = showing({
    fetch: (phase, counter) => fetchPart(form.dataset.part ?? "", phase, counter),
    busy: () => hand.busy(),
    shown: () => {
      if (queue.idle()) stood = drawn().dataset.document ?? "";
      listen();
      rest();
    },
    away: () => tell("away"),
  });
  const stop = meanwhile(form, say, async (withSteps) => {
    store.remember({ back: [], forth: [] }); // what is undone is one's own only
    await court.turn(turnedTo());
    stood = court.newest().document;
    queue.resume(court.newest().seen, withSteps);
  });

  const queue = sender({
    keep: store.keep,
    post: async (made, seen) => {
      const { answer, text } = await postStep(form.dataset.post ?? "", made, seen);
      if (answer.kind === "done") newest = text;
      return answer;
    },
    opened: () => openedBy(newest),
    done: (made) => {
      said.kept();
      const after = partOf(newest)?.dataset.document ?? "";
      store.remember(pastAfter(store.past(), made.way, stood, after));
      stood = after;
      court.answered(made, newest);
      say(partOf(newest)?.dataset.told || words.saved || "");
      undo.resume();
    },
    refused: (why) => {
      said.caughtUp();
      ahead();
      say(why);
    },
    changed: stop,
    gone: () => stop(words.gone ?? ""),
    away: said.late,
    later: (again) => { setTimeout(again, AGAIN); },
  }, waiting);
  const undo = undoing(form, store, queue, step, () => ahead());
  const rest = judge(form.dataset.judged ?? "", { drawn, idle: queue.idle });
  window.addEventListener("online", () => { void queue.run(); });

  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const spot = spots[Number(field("place").value || -1)];
    field("place").value = "";
    const role = field("role").value;
    if (role && doing().kind === "look") look(role);
    else if (role) take(asked(doing(), role, spot ? { x: spot[1], y: spot[2] } : null));
  });
  form.addEventListener("change", told);
  buttons({
    step, go: undo.go, idle: queue.idle,
    turnTo: (phase, counter) => { void court.turn({ phase, counter }); },
    waiting: () => tell("waiting"), next: words.next ?? "", typing: typed,
  });

  fold(drawn(), null);
  listen();
  needed(form, "#what", HTMLFieldSetElement).disabled = false;
  tell("ready");
  rest();
  if (waiting.steps.length) void queue.run();
}

const form = document.querySelector("form[data-draw]");
if (form instanceof HTMLFormElement) begin(form);
