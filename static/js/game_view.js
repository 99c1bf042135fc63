// Showing the game log: plays to call, the defence, the looks, the five, and what was called last.
import { withNumber } from "./log_count.js";
import { button, data as carried, nameOf, part, partOf, said } from "./log_view.js";

/**
 * @typedef {import("./log_view.js").Person} Person
 * @typedef {import("./log_view.js").Calls} Calls
 * @typedef {import("./log_store.js").Called} Called
 * @typedef {{id: number, call: string, calls: Calls, revision: number, situation: string,
 *   cast: import("./game_floor.js").Cast, looks: [string, string][]}} GamePlay
 * @typedef {[result: string, points: number | null, label: string]} Result
 * @typedef {{game: number, team: number, by: number, at: string, players: Person[], plays: GamePlay[], floor: number[],
 *   units: {id: number, name: string, members: number[]}[], defences: [string, string][], first_defences: number,
 *   takes: [string, string][], results: Result[], words: Record<string, string>,
 *   tally: import("./log_send.js").Tally}} GameCarried
 */

/** @type {GameCarried} */
export const data = /** @type {any} */ (carried);

/**
 * Draws a row of buttons anew; the focus stays at its place in it.
 * @param {string} name
 * @param {HTMLElement[]} elements
 */
const fill = (name, elements) => {
  const at = [...part(name).children].findIndex((each) => each === document.activeElement);
  part(name).replaceChildren(...elements);
  if (elements[at] instanceof HTMLButtonElement) elements[at].focus();
};

/** @param {string} text */
const heading = (text) => {
  const made = document.createElement("h2");
  made.className = "game-situation";
  made.textContent = text;
  return made;
};

/**
 * Plays to tap: those called before first, the others under their situation.
 * @param {{before: GamePlay[], others: GamePlay[]}} likely
 * @param {(play: number) => void} act
 */
export const showPlays = ({ before, others }, act) => {
  /** @param {GamePlay} play */
  const tile = (play) => button(play.call, "game-play", null, () => act(play.id));
  const by = grouped(others);
  const again = before.length ? [heading(said("again")), ...before.map(tile)] : [];
  fill("plays", [...again, ...[...by].flatMap(([situation, plays]) => [heading(situation), ...plays.map(tile)])]);
};

/** @param {GamePlay[]} plays */
const grouped = (plays) => {
  /** @type {Map<string, GamePlay[]>} */
  const by = new Map();
  for (const play of plays) by.set(play.situation, [...(by.get(play.situation) ?? []), play]);
  return by;
};

/**
 * @param {string | null} chosen
 * @param {boolean} all
 * @param {(defence: string) => void} act
 * @param {() => void} more
 */
export const showDefences = (chosen, all, act, more) => {
  const shown = data.defences.filter(([value], index) => all || index < data.first_defences || value === chosen);
  fill("defences", [
    ...shown.map(([value, label]) => button(label, "log-unit", value === chosen, () => act(value))),
    button(said(all ? "fewer_defences" : "more_defences"), "log-unit game-more", null, more),
  ]);
};

/**
 * The looks of a play, then none taken and broken.
 * @param {GamePlay} play
 * @param {{taken: string, look: string | null} | null} chosen
 * @param {(taken: string, look: string | null) => void} act
 */
export const showLooks = (play, chosen, act) =>
  fill("looks", [
    ...play.looks.map(([id, told], index) => {
      const element = button("", "game-look", chosen?.look === id, () => act("look", id));
      const number = document.createElement("span");
      number.className = "game-number";
      number.textContent = String(index + 1);
      number.setAttribute("aria-hidden", "true");
      element.append(number, told);
      return element;
    }),
    ...data.takes.map(([value, label]) => button(label, "game-look", chosen?.taken === value, () => act(value, null))),
  ]);

/**
 * @param {boolean} ready
 * @param {(result: string, points: number | null) => void} act
 */
export const showResults = (ready, act) =>
  fill("results", data.results.map(([result, points, label]) => {
    const element = button(label, `button game-result game-${result}`, null, () => act(result, points));
    element.disabled = !ready;
    return element;
  }));

/**
 * Who is on the floor, without roles: a tap takes somebody off.
 * @param {number[]} floor
 * @param {(id: number) => void} act
 */
export const showFloor = (floor, act) =>
  fill("floor", floor.map((id) => button(nameOf(id), "game-person", null, () => act(id))));

/**
 * @param {(members: number[]) => void} act
 * @param {number[]} floor
 */
export const showGameUnits = (floor, act) => {
  const whole = data.units.filter(({ members }) => members.length === 5);
  part("units").hidden = !whole.length;
  fill("units", whole.map(({ name, members }) =>
    button(name, "log-unit", members.every((id) => floor.includes(id)), () => act(members))));
};

/**
 * Who may come on for somebody: those on the floor last, those who cannot play not at all.
 * @param {string} title
 * @param {number[]} floor
 * @param {(id: number) => void} act
 */
export const askWho = (title, floor, act) => {
  part("swap-title").textContent = title;
  /** @param {Person} player */
  const order = (player) => Number(floor.includes(player.id)) + 2 * Number(player.away) + 4 * Number(player.out);
  part("people").replaceChildren(
    ...[...data.players].sort((a, b) => order(a) - order(b)).map((player) => {
      const hints = [
        floor.includes(player.id) ? said("on_floor") : "",
        player.away ? said("away") : "",
        player.out ? said("out") : "",
      ].filter((hint) => hint !== "");
      const element = button(withNumber(player), "log-person", floor.includes(player.id), () => act(player.id));
      if (hints.length) {
        const small = document.createElement("span");
        small.className = "small";
        small.textContent = hints.join(", ");
        element.append(small);
      }
      element.disabled = player.out;
      return element;
    }),
  );
  partOf("swap", HTMLDialogElement).showModal();
};

/** @param {number} id */
export const callOf = (id) => data.plays.find((play) => play.id === id)?.call ?? "";

/** @param {Called} tap */
export const resultOf = (tap) => {
  const shot = tap.result === "points" ? tap.points : null;
  return data.results.find(([result, points]) => result === tap.result && points === shot)?.[2] ?? "";
};

/** @param {Called} tap */
const takenOf = (tap) => {
  const play = data.plays.find((each) => each.id === tap.play);
  const at = play?.looks.findIndex(([id]) => id === tap.look) ?? -1;
  if (tap.taken === "look") return at >= 0 ? said("look", { n: at + 1 }) : "";
  return data.takes.find(([value]) => value === tap.taken)?.[1] ?? "";
};

/**
 * A possession in one line: how it ended, the call, what was taken.
 * @param {Called} tap
 */
export const calledTold = (tap) => [resultOf(tap), callOf(tap.play), takenOf(tap)].filter(Boolean).join(" · ");
