// Showing the courtside log: what the page carries in, drawn into its elements.

import { need, needed } from "./dom.js";
import { withNumber } from "./log_count.js";

/**
 * @typedef {{id: number, name: string, number: string, away: boolean, limited: boolean, out: boolean}} Person
 * @typedef {(number | null)[]} Five who stands in roles 1 to 5
 * @typedef {[string, string][]} Calls each as a rep keeps it and as it is heard; none where a play has but one
 * @typedef {{id: number, call: string, calls: Calls, revision: number, fives: Record<string, [Five, Five]>}} CarriedPlay
 * @typedef {{play: number, mode: string | null, unit: number | null, drill: string}} Block
 * @typedef {{practice: number, team: number, by: number, at: string, players: Person[], plays: CarriedPlay[],
 *   units: {id: number, name: string}[], blocks: Block[], modes: [string, string][], slips: [string, string][],
 *   words: Record<string, string>, tally: import("./log_send.js").Tally}} Carried
 */

/** What the page carries in. Only read where a log is open. @type {Carried} */
export const data = JSON.parse(document.getElementById("log-data")?.textContent || "null");
/** @param {string} name */
export const part = (name) => need(document, `[data-log="${name}"]`);

/**
 * @template {HTMLElement} T
 * @param {string} name
 * @param {new () => T} kind
 */
export const partOf = (name, kind) => needed(document, `[data-log="${name}"]`, kind);

/**
 * A sentence with its slots filled.
 * @param {string} key
 * @param {Record<string, string | number>} slots
 */
export const said = (key, slots = {}) =>
  Object.entries(slots).reduce((text, [name, value]) => text.replace(`{${name}}`, String(value)), data.words[key] || key);

/** @param {number} index of a block in the plan @returns {string} which one it is, and its drill */
export const whichBlock = (index) => {
  const of = data.blocks.length;
  const drill = data.blocks[index]?.drill;
  if (!of) return said("no_block");
  return drill ? said("block_of_drill", { n: index + 1, of, drill }) : said("block", { n: index + 1 || "–", of });
};

const people = new Map((data?.players || []).map((player) => [player.id, player]));
const MARKS = { open: "…", waiting: "○", kept: "✓", held: "?", refused: "!" };

/** @param {number | null | undefined} id */
export const nameOf = (id) => people.get(id ?? 0)?.name || said("nobody");

/**
 * @param {string} tag
 * @param {string} text
 * @param {Record<string, string>} marks
 */
const made = (tag, text, marks = {}) => {
  const element = document.createElement(tag);
  element.textContent = text;
  for (const [name, value] of Object.entries(marks)) element.setAttribute(name, value);
  return element;
};

/**
 * @param {string} text
 * @param {string} classes
 * @param {boolean | null} pressed null for a button that is not switched
 * @param {() => void} act
 */
export const button = (text, classes, pressed, act) => {
  const element = /** @type {HTMLButtonElement} */ (made("button", text, { type: "button", class: classes }));
  if (pressed !== null) element.setAttribute("aria-pressed", String(pressed));
  element.addEventListener("click", act);
  return element;
};

/**
 * @param {string | number} value
 * @param {string} text
 */
const option = (value, text) => made("option", text, { value: String(value) });

/**
 * Draws a row of buttons anew. The focus stays at its place in the row, where it was in it.
 * @param {string} name
 * @param {HTMLElement[]} buttons
 */
const fill = (name, buttons) => {
  const at = [...part(name).children].findIndex((each) => each === document.activeElement);
  part(name).replaceChildren(...buttons);
  buttons[at]?.focus();
};

export const fillChoices = () => {
  part("play").replaceChildren(...data.plays.map((play) => option(play.id, play.call)));
};

/**
 * @param {string} mode
 * @param {(mode: string) => void} act
 */
export const showModes = (mode, act) =>
  fill("modes", data.modes.map(([value, label]) => button(label, "log-mode", value === mode, () => act(value))));

/**
 * First five, second five and the units, each one tap away.
 * @param {string} unit
 * @param {(unit: string) => void} act
 */
export const showUnits = (unit, act) =>
  fill(
    "unit",
    [["", said("firsts")], ["seconds", said("seconds")], ...data.units.map(({ id, name }) => [String(id), name])].map(
      ([value = "", label = ""]) => button(label, "log-unit", value === unit, () => act(value)),
    ),
  );

/**
 * The calls of a play that has several; pressed again, a call is not said any more.
 * @param {Calls} calls
 * @param {string | null} call
 * @param {(call: string | null) => void} act
 */
export const showCalls = (calls, call, act) => {
  part("calls").hidden = !calls.length;
  fill("calls", calls.map(([value, heard]) => button(heard, "log-unit", value === call, () => act(value === call ? null : value))));
};

/**
 * @param {string} where
 * @param {Five} five
 * @param {(role: string) => void} act
 * @param {string | null} chosen
 */
export const showFive = (where, five, act, chosen = null) =>
  fill(
    where,
    five.map((id, index) => {
      const role = String(index + 1);
      const element = button("", `log-role${id ? "" : " is-empty"}`, chosen === null ? null : chosen === role, () => act(role));
      element.append(made("span", role, { class: "role-disc" }), made("span", nameOf(id), { class: "log-name" }));
      return element;
    }),
  );

/** @param {(slip: string) => void} act */
export const showSlips = (act) =>
  part("slips").replaceChildren(...data.slips.map(([value, label]) => button(label, "button second", null, () => act(value))));

/**
 * Everybody who may stand in a role, those who cannot last; swapping two roles is allowed.
 * @param {string} role
 * @param {Five} five
 * @param {boolean} live
 * @param {(id: number) => void} act
 */
export const showPeople = (role, five, live, act) => {
  part("swap-title").textContent = said("who", { role });
  /** @param {Person} player */
  const order = (player) => Number(player.away) + 2 * Number(player.out);
  part("people").replaceChildren(
    ...[...data.players].sort((a, b) => order(a) - order(b)).map((player) => {
      const place = five.indexOf(player.id);
      const hints = [
        place >= 0 ? said("in_role", { role: place + 1 }) : "",
        player.away ? said("away") : "",
        player.out ? said("out") : "",
        live && player.limited ? said("limited") : "",
      ].filter((hint) => hint !== "");
      const element = button(withNumber(player), "log-person", place === Number(role) - 1, () => act(player.id));
      if (hints.length) element.append(made("span", hints.join(", "), { class: "small" }));
      element.disabled = player.out;
      return element;
    }),
  );
  partOf("swap", HTMLDialogElement).showModal();
};

/** @param {import("./log_store.js").Rep} tap */
const callOf = (tap) => {
  const play = data.plays.find((each) => each.id === tap.play);
  return play?.calls.find(([value]) => value === tap.call)?.[1] ?? play?.call ?? "";
};
/** @param {string | null} value */
const slipOf = (value) => data.slips.find(([key]) => key === value)?.[1] || "";

/**
 * @param {import("./log_store.js").TapRecord[]} records
 * @param {Set<string>} undone
 */
export const showLast = (records, undone) =>
  part("last").replaceChildren(
    ...records.flatMap(({ tap, state }) => (tap.kind === "rep" ? [{ tap, state }] : [])).slice(-4).reverse().map(({ tap, state }) => {
      const details = tap.clean ? "" : ` ${tap.erred ? `${tap.erred} ${nameOf(tap.cast[tap.erred])}` : ""} ${slipOf(tap.slip)}`;
      const line = made("li", "", { class: undone.has(tap.id) ? "is-undone" : "", "data-state": state });
      const word = undone.has(tap.id) ? said("undone") : said(tap.clean ? "clean" : "error");
      line.append(
        made("span", `${MARKS[state]} `, { "aria-hidden": "true" }),
        made("span", word, { class: `mark mark-${undone.has(tap.id) ? "none" : tap.clean ? "good" : "bad"}` }),
        made("span", `${details} · ${callOf(tap)}`, { class: "small" }),
      );
      return line;
    }),
  );

/**
 * The rep that an undo would take back, in words: result, call, minutes and seconds.
 * @param {import("./log_store.js").TapRecord[]} records
 * @param {Set<string>} undone
 */
export const lastTold = (records, undone) => {
  const last = records.flatMap(({ tap }) => (tap.kind === "rep" && !undone.has(tap.id) ? [tap] : [])).pop();
  if (!last) return "";
  const time = new Date(last.at).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  return `${said(last.clean ? "clean" : "error")} · ${callOf(last)} · ${time}`;
};
