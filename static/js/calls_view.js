// Showing the call sheet: the five, the occasions, the plays in their order, and why not the others.
import { all, need, needed } from "./dom.js";
import { readyTold, spoken, told, whyNot } from "./calls_words.js";

/**
 * @typedef {import("./calls_five.js").SheetPlay} SheetPlay
 * @typedef {import("./calls_five.js").Filling} Filling
 * @typedef {import("./calls_five.js").OnSquad} OnSquad
 * @typedef {{play: number, occasion: string, call: string, log: string, sign: string, further: string[], board: string}} SheetLine
 * @typedef {{game: number, at: string, players: OnSquad[], out: string[], apart: [number, number][],
 *   units: {name: string, members: number[]}[], floor: number[], logged: boolean, plays: SheetPlay[],
 *   lines: SheetLine[], words: Record<string, string>}} Sheet
 */

/** What the page carries in. Only read where a sheet is open. @type {Sheet} */
export const data = JSON.parse(document.getElementById("calls-data")?.textContent || "null");

/** @param {string} name */
export const part = (name) => need(document, `[data-calls="${name}"]`);

/**
 * @template {HTMLElement} T
 * @param {string} name
 * @param {new () => T} kind
 */
export const partOf = (name, kind) => needed(document, `[data-calls="${name}"]`, kind);

const people = new Map((data?.players ?? []).map((player) => [player.id, player]));
const plays = new Map((data?.plays ?? []).map((play) => [play.id, play]));

/** @param {number | null} id */
export const nameOf = (id) => people.get(id ?? 0)?.name ?? "–";

/** @param {number} id @returns {SheetPlay | undefined} */
export const playOf = (id) => plays.get(id);

/**
 * @param {string} tag
 * @param {string} classes
 * @param {string} text
 */
export const made = (tag, classes, text) => Object.assign(document.createElement(tag), { className: classes, textContent: text });

/**
 * @param {string} text
 * @param {string} classes
 * @param {boolean | null} pressed null for a button that is not switched
 * @param {() => void} act
 */
export const button = (text, classes, pressed, act) => {
  const element = /** @type {HTMLButtonElement} */ (made("button", classes, text));
  element.type = "button";
  if (pressed !== null) element.setAttribute("aria-pressed", String(pressed));
  element.addEventListener("click", act);
  return element;
};

/**
 * Draws a row of buttons anew; the focus stays at its place in it.
 * @param {string} name
 * @param {HTMLElement[]} elements
 */
export const fill = (name, elements) => {
  const at = [...part(name).children].findIndex((each) => each === document.activeElement);
  part(name).replaceChildren(...elements);
  elements[at]?.focus();
};

/**
 * @param {number[]} floor
 * @param {(id: number) => void} act
 */
export const showFloor = (floor, act) => {
  const order = data.players.flatMap(({ id }) => (floor.includes(id) ? [id] : []));
  fill("floor", order.map((id) => button(nameOf(id), "game-person", null, () => act(id))));
};

/**
 * @param {number[]} floor
 * @param {(members: number[]) => void} act
 */
export const showUnits = (floor, act) => {
  part("units").hidden = !data.units.length;
  fill("units", data.units.map(({ name, members }) =>
    button(name, "log-unit", members.every((id) => floor.includes(id)), () => act(members))));
};

/**
 * @param {string} chosen "" for all of them
 * @param {(occasion: string) => void} act
 */
export const showOccasions = (chosen, act) => {
  const occasions = [...new Set(data.lines.map(({ occasion }) => occasion))];
  part("occasions").hidden = occasions.length < 2;
  fill("occasions", occasions.map((each) => button(each, "log-unit", each === chosen, () => act(each === chosen ? "" : each))));
};

/**
 * The plays of these five, under their occasions.
 * @param {Filling[]} order the first to call first
 * @param {string} chosen
 * @param {(line: SheetLine) => void} act
 */
export const showLines = (order, chosen, act) => {
  const shown = data.lines.filter(({ occasion }) => !chosen || occasion === chosen);
  const occasions = [...new Set(shown.map(({ occasion }) => occasion))];
  /** @param {string} occasion */
  const under = (occasion) => order.flatMap((filling) =>
    shown.filter((line) => line.play === filling.play && line.occasion === occasion).map((line) => row(line, filling, act)));
  part("lines").replaceChildren(...occasions.flatMap((occasion) => {
    const rows = under(occasion);
    if (!rows.length) return [];
    const list = made("ul", "plain calls-lines", "");
    list.append(...rows);
    return [made("h2", "game-situation", occasion), list];
  }));
};

/**
 * @param {SheetLine} line
 * @param {Filling} filling
 * @param {(line: SheetLine) => void} act
 */
const row = (line, filling, act) => {
  const item = document.createElement("li");
  const element = button("", "calls-line", null, () => act(line));
  const mark = data.logged && !filling.short ? " mark mark-good" : "";
  const ready = made("span", `calls-ready${mark}`, readyTold(filling, data.logged, data.words));
  element.append(made("strong", "calls-call", callOf(line, filling)), ready);
  const why = playOf(line.play)?.why;
  if (why) element.append(made("span", "calls-why small", why));
  item.append(element);
  return item;
};

/**
 * @param {SheetLine} line
 * @param {Filling} filling
 */
export const callOf = (line, filling) => spoken(line.call, filling.five, data.players, data.words);

/**
 * The plays that these five cannot run, and why; opened where they can run none.
 * @param {Filling[]} not
 */
export const showNot = (not) => {
  part("not").hidden = !not.length;
  partOf("not", HTMLDetailsElement).open = not.length === data.plays.length;
  part("not-count").textContent = String(not.length);
  part("not-lines").replaceChildren(...not.map((filling) => {
    const play = playOf(filling.play);
    const item = document.createElement("li");
    const why = whyNot(filling, play?.thrower ?? null, nameOf, data.words);
    item.append(made("strong", "", play?.name ?? ""), made("span", "faint small", why));
    return item;
  }));
};

/** The paper is of these five too. @param {number[]} floor */
export const showPrint = (floor) => {
  for (const link of all(document, "a[data-print]")) {
    if (!(link instanceof HTMLAnchorElement)) continue;
    const address = new URL(link.href);
    address.searchParams.delete("on");
    for (const id of floor) address.searchParams.append("on", String(id));
    link.href = address.href;
  }
};

/**
 * Sentences of who is who now; hidden where nobody changed roles.
 * @param {string} name of the part
 * @param {string[]} sentences
 */
export const showChanges = (name, sentences) => {
  part(name).hidden = !sentences.length;
  part(`${name}-lines`).replaceChildren(...sentences.map((each) => made("li", "", each)));
};

/**
 * Asks for somebody: those who can come on in the order of the roster, each with what can be run then.
 * @param {string} title
 * @param {number[]} floor who is on already
 * @param {(id: number) => string} hint
 * @param {(id: number) => void} act
 */
export const askWho = (title, floor, hint, act) => {
  part("swap-title").textContent = title;
  const bench = data.players.filter(({ id }) => !floor.includes(id));
  part("people").replaceChildren(...bench.map((player) => {
    const number = player.number ? ` (${player.number})` : "";
    const element = button(`${player.called}${number}`, "log-person", null, () => {
      partOf("swap", HTMLDialogElement).close();
      act(player.id);
    });
    const said = hint(player.id);
    if (said) element.append(made("span", "small", said));
    return element;
  }));
  partOf("swap", HTMLDialogElement).showModal();
};

/**
 * @param {string} key
 * @param {Record<string, string | number>} slots
 */
export const said = (key, slots = {}) => told(data.words[key] ?? key, slots);
