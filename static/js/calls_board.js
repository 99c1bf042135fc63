// The board of a time-out: one play large, in motion or phase by phase, with the names of the five.
import { Stage } from "./animation.js";
import { all } from "./dom.js";
import { ROLES } from "./calls_five.js";
import { PLACES, spread } from "./calls_names.js";
import { button, fill, made, nameOf, part, partOf } from "./calls_view.js";

/**
 * @typedef {import("./calls_five.js").Five} Five
 * @typedef {{svg: string, scale: number, motion: import("./animation.js").Motion, phases: {title: string, svg: string}[]}} Drawn
 */

const LONGEST = 11; // letters of a name under a disc

/** @type {Five} who was last said to be on the floor */
let named = [];

/** A stage on which the names make room for each other. */
class NamedStage extends Stage {
  /** @param {number} seconds */
  show(seconds) {
    super.show(seconds);
    placeNames(this.box);
  }
}

/** @type {WeakMap<Element, number[]>} where the names of a stage stand, numbers of PLACES */
const standing = new WeakMap();

/** @param {Element} box */
const placeNames = (box) => {
  const svg = box.querySelector("svg");
  if (!(svg instanceof SVGSVGElement) || !svg.isConnected) return;
  const people = ROLES.flatMap((role) => {
    const shape = svg.querySelector(`[data-mover="${role}"]`);
    const disc = shape?.querySelector("circle");
    const text = shape && [...shape.querySelectorAll("text")].at(-1);
    if (!(shape instanceof SVGGElement) || !disc || !(text instanceof SVGTextElement)) return [];
    const moved = shape.transform.baseVal.consolidate()?.matrix;
    const still = { x: Number(disc.getAttribute("cx")), y: Number(disc.getAttribute("cy")) };
    const width = text.getComputedTextLength();
    return [{ text, still, x: still.x + (moved?.e ?? 0), y: still.y + (moved?.f ?? 0), width }];
  });
  const { x, y, width, height } = svg.viewBox.baseVal;
  const now = spread(people, standing.get(box) ?? [], [x, y, x + width, y + height]);
  standing.set(box, now);
  for (const [at, { text, still }] of people.entries()) {
    const place = PLACES[now[at] ?? 0];
    if (!place) continue;
    text.setAttribute("x", (still.x + place.dx).toFixed(2));
    text.setAttribute("y", (still.y + place.dy).toFixed(2));
    text.setAttribute("text-anchor", place.anchor);
  }
};

/** @type {Map<string, Promise<Drawn>>} */
const boards = new Map();

/**
 * A board, from where it is kept: the page, the phone, the server. One that failed is asked for anew.
 * @param {string} address
 * @returns {Promise<Drawn>}
 */
export const boardOf = (address) => {
  const known = boards.get(address);
  if (known) return known;
  const asked = fetch(address, { headers: { Accept: "application/json" } }).then((answer) => {
    if (!answer.ok || answer.redirected) throw new Error(String(answer.status));
    return answer.json();
  });
  boards.set(address, asked);
  asked.catch(() => boards.delete(address));
  return asked;
};

/**
 * The play on the floor, and its phases as they are drawn, one tap away.
 * @param {Drawn} drawn
 * @param {Five} five
 */
export const showBoard = (drawn, five) => {
  const box = stageOf(drawn);
  part("floor-of").replaceChildren(box);
  new NamedStage(box, drawn.motion);
  box.dataset.ready = "yes";
  const still = drawn.phases.map((phase) => {
    const figure = made("figure", "calls-still", "");
    figure.append(svgOf(phase.svg));
    return figure;
  });
  const titles = [partOf("stage", HTMLTemplateElement).dataset.moving ?? "", ...drawn.phases.map(({ title }, n) => `${n + 1}. ${title}`)];
  /** @param {number} chosen */
  const choose = (chosen) => {
    const shown = chosen ? still[chosen - 1] : box;
    if (shown) part("floor-of").replaceChildren(shown);
    writeNames(named);
    fill("views", titles.map((title, n) => button(title, "log-unit", n === chosen, () => choose(n))));
  };
  named = five;
  choose(0);
};

/**
 * A board that is neither here nor to be had.
 */
export const showNoBoard = () => {
  part("views").replaceChildren();
  part("floor-of").replaceChildren(made("p", "note note-warning", partOf("stage", HTMLTemplateElement).dataset.fault ?? ""));
};

/** @param {Drawn} drawn */
const stageOf = (drawn) => {
  const copy = partOf("stage", HTMLTemplateElement).content.cloneNode(true);
  const box = copy instanceof DocumentFragment ? copy.querySelector(".stage") : null;
  if (!(box instanceof HTMLElement)) throw new Error("no stage");
  box.dataset.scale = String(drawn.scale);
  box.querySelector("figure")?.append(svgOf(drawn.svg));
  return box;
};

/**
 * Our own server's markup, without anything that runs.
 * @param {string} markup
 */
const svgOf = (markup) => {
  const read = new DOMParser().parseFromString(markup, "text/html").body.firstElementChild;
  return document.importNode(read ?? made("p", "", ""), true);
};

/**
 * The names of the five under their discs.
 * @param {Five} five
 */
export const writeNames = (five) => {
  named = five;
  for (const [at, role] of ROLES.entries()) {
    const [shape] = all(part("floor-of"), `svg [data-mover="${role}"]`);
    const text = shape && [...shape.querySelectorAll("text")].at(-1);
    const name = five[at] ? nameOf(five[at] ?? null) : "";
    if (text) text.textContent = name.length > LONGEST ? `${name.slice(0, LONGEST - 1)}…` : name;
  }
  for (const box of all(part("floor-of"), ".stage")) placeNames(box);
};

/**
 * Who is who, large enough to be read from the floor; a tap takes somebody off.
 * @param {{five: Five, can: boolean}} now where the five cannot run the play nobody has a role
 * @param {Five} before roles that changed are marked
 * @param {number[]} floor
 * @param {(id: number) => void} act
 */
export const showFive = ({ five, can }, before, floor, act) =>
  fill("five", floor.map((someone, at) => {
    const id = can ? five[at] ?? someone : someone;
    const isNew = can && before.length > 0 && before[at] !== id;
    const element = button("", `log-role${can ? "" : " is-empty"}${isNew ? " is-new" : ""}`, null, () => act(id));
    element.append(made("span", "role-disc", can ? ROLES[at] ?? "" : "–"), made("span", "log-name", nameOf(id)));
    return element;
  }));
