// What the call sheet says: calls as this five hears them, how ready they are, what changes.
import { ROLES, changes } from "./calls_five.js";

/**
 * @typedef {import("./calls_five.js").OnSquad} OnSquad
 * @typedef {import("./calls_five.js").Five} Five
 * @typedef {import("./calls_five.js").Filling} Filling
 * @typedef {import("./calls_five.js").SheetPlay} SheetPlay
 * @typedef {Record<string, string>} Words
 */

/**
 * A sentence with its slots filled.
 * @param {string} sentence
 * @param {Record<string, string | number>} slots
 */
export const told = (sentence, slots) => sentence.replace(/\{(\w+)\}/g, (all, name) => String(slots[name] ?? all));

/**
 * A list in a sentence.
 * @param {string[]} items
 * @param {Words} words
 */
export const allOf = (items, words) => {
  if (items.length < 2) return items.join("");
  const last = told(words.and ?? "", { first: items.at(-2) ?? "", last: items.at(-1) ?? "" });
  return [...items.slice(0, -2), last].join(", ");
};

/** @param {string} name */
const folded = (name) => name.trim().split(/\s+/).join(" ").toLowerCase();

/**
 * A call with the names of the five in its braces, told apart by number, and by role where that is
 * not enough; a role that nobody fills is called by its number.
 * @param {string} call
 * @param {Five} five
 * @param {OnSquad[]} squad
 * @param {Words} words
 */
export const spoken = (call, five, squad, words) => {
  const people = five.map((id) => squad.find((each) => each.id === id));
  /** @param {string[]} names @param {string} name */
  const shared = (names, name) => names.filter((each) => folded(each) === folded(name)).length > 1;
  const called = people.flatMap((each) => (each ? [each.called] : []));
  const names = people.map((each) => {
    if (!each) return "";
    const name = each.called.trim();
    const apart = shared(called, name) && each.number.trim();
    return apart ? told(words.with_number ?? "", { name, number: each.number.trim() }) : name;
  });
  return call.replace(/\{([^{}]*)\}/g, (all, inside) => {
    const at = ROLES.indexOf(inside.trim());
    if (at < 0) return all;
    const name = names[at] || ROLES[at] || "";
    if (!shared(names.filter(Boolean), name)) return name;
    const bare = people[at]?.number.trim() ?? "";
    const slots = { name: people[at]?.called.trim() ?? "", number: bare, role: ROLES[at] ?? "" };
    return told((bare ? words.with_both : words.with_role) ?? "", slots);
  });
};

/**
 * @param {Filling} filling
 * @param {boolean} logged
 * @param {Words} words
 */
export const readyTold = (filling, logged, words) => {
  if (!logged) return words.no_reps ?? "";
  return filling.short ? told(words.some_ready ?? "", { n: ROLES.length - filling.short }) : words.all_ready ?? "";
};

/**
 * Why the five cannot run a play.
 * @param {Filling} filling
 * @param {string | null} thrower
 * @param {(id: number) => string} nameOf
 * @param {Words} words
 */
export const whyNot = (filling, thrower, nameOf, words) =>
  filling.shortages
    .map(({ roles, players }) => {
      if (!players.length) return told((roles[0] === thrower ? words.nobody_throws : words.nobody) ?? "", { role: roles[0] ?? "" });
      const slots = { roles: allOf(roles, words), players: allOf(players.map(nameOf), words), count: players.length };
      return told((players.length === 1 ? words.one_for_two : words.few) ?? "", slots);
    })
    .join("; ");

/**
 * Who is who now in one play: one sentence for each who takes another role than before.
 * @param {Five} before
 * @param {Five} after
 * @param {string} play
 * @param {(id: number) => string} nameOf
 * @param {Words} words
 */
export const changesTold = (before, after, play, nameOf, words) =>
  changes(before, after).map((each) =>
    told((each.before ? words.changes : words.takes) ?? "", {
      player: nameOf(each.player), role: each.after, before: each.before, plays: play,
    }),
  );
