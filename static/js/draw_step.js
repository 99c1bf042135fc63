// What a gesture means: where it lands, and the step that follows from it. Nothing here knows a page.
// @ts-check
import { nearest, shortOf, snapped } from "./draw_floor.js";

/** @typedef {import("./draw_floor.js").At} At */
/** @typedef {import("./draw_floor.js").Spot} Spot */
/** @typedef {{role: string, action: string, point: number} & At} Held what was taken hold of */
/** @typedef {{role: string, idle?: boolean} & At} Standing ``idle``: where they are in the end, which wins */
/**
 * The court in words. ``rows`` go up the court in cells, each a list of numbers of ``words``, every one
 * followed by how many cells it goes on for; ``beyond`` is said of what no cell has.
 * @typedef {{left: number, top: number, cell: number, words: string[], rows: number[][], beyond: string}} Ground
 */
/**
 * What is chosen to be done. ``starts``: whether starts can be moved in the phase before their eyes;
 * ``through``: the title of a phase in which somebody runs through a gate.
 * @typedef {{kind: string, cut: string, other: string, phase: string, starts: boolean, through: string}} Doing
 */
/** @typedef {{command: Record<string, unknown>} | {told: "first" | "tap" | "way" | "nobody" | "second"}} Meant
 * a step, or why there is none */

const BESIDE = 1.2; // metres from a person that a pass may be dropped
const MET = 0.5; // metres from a person that a screen is meant for them
const NAMED = 0.13; // metres: half a step of the arrow keys
const TO_SOMEBODY = ["pass", "handoff", "gate"];
const WITHOUT_PLACE = ["hold", "shot"]; // from where they are: whoever goes there first dribbles

/** Whether it ends at a person, not at a place. @param {Doing} doing */
export const toSomebody = (doing) => TO_SOMEBODY.includes(doing.kind);

/** Whether a tap on a second person ends it. @param {Doing} doing */
export const meets = (doing) => toSomebody(doing) || doing.kind === "screen";

/** Whether choosing who does it is all. @param {Doing} doing */
export const inPlace = (doing) => WITHOUT_PLACE.includes(doing.kind);

/** What can be taken hold of. @param {Doing} doing @returns {"way" | "start" | "piece"} */
export const holding = (doing) => {
  if (doing.kind === "way") return "way";
  return doing.kind === "place" && doing.starts ? "start" : "piece";
};

/**
 * What a gesture would do if it ended here; the ring shows the same.
 * @param {Doing} doing
 * @param {Held | null} held
 * @param {At} at
 * @param {Standing[]} others who else stands where
 * @param {Spot[]} spots
 * @returns {At}
 */
export function landing(doing, held, at, others, spots) {
  if (held?.action || !held) return toSomebody(doing) && !held ? at : snapped(at, spots, held);
  if (toSomebody(doing)) return at;
  const met = doing.kind === "screen" ? nearest(at, others, MET) : null;
  return met ? shortOf(held, met) : snapped(at, spots, held);
}

/**
 * The step of a person who was brought to a place, or to a person standing there.
 * @param {Doing} doing
 * @param {Held} held
 * @param {At} to
 * @param {Standing[]} others
 * @param {At} [at] where the hand let go: a screener stands short of whoever is there
 * @returns {Meant}
 */
export function finished(doing, held, to, others, at = to) {
  if (held.action) return { command: { do: "move", action: held.action, point: held.point, at: [to.x, to.y] } };
  if (doing.kind === "screen" && !doing.other) {
    return asked({ ...doing, other: nearest(at, others, MET)?.role ?? "" }, held.role, to);
  }
  if (!toSomebody(doing)) return asked(doing, held.role, to);
  const other = nearest(to, others, BESIDE);
  return other ? asked({ ...doing, other: other.role }, held.role, to) : { told: "nobody" };
}

/**
 * The step of a person who was named, with a place or without.
 * @param {Doing} doing
 * @param {string} role
 * @param {At | null} to
 * @returns {Meant}
 */
export function asked(doing, role, to) {
  const at = to ? [to.x, to.y] : null;
  if (doing.kind === "place") return doing.starts ? { command: { do: "place", role, at } } : { told: "first" };
  if (doing.kind === "look") return { told: "tap" };
  if (doing.kind === "way") return { told: "way" };
  const { kind, phase } = doing;
  if (kind === "gate") return gate(doing, role);
  const cut = kind === "cut" ? doing.cut : null;
  const there = toSomebody(doing) || inPlace(doing) ? null : at;
  return { command: { do: "act", phase, role, kind, at: there, other: doing.other || null, cut } };
}

/**
 * Two people open it; who runs through and how it closes is the server's guess.
 * @param {Doing} doing
 * @param {string} role
 * @returns {Meant}
 */
const gate = ({ phase, other, through }, role) =>
  (other ? { command: { do: "gate", phase, posts: [role, other], title: through } } : { told: "second" });

/** A new waypoint of a line. @param {{action: string, point: number}} line @param {At} to @returns {Meant} */
export const bent = (line, to) => ({ command: { do: "bend", action: line.action, point: line.point, at: [to.x, to.y] } });

/**
 * A place in words: its own name, else those that the server has for the cell that it is in.
 * @param {At} at @param {Spot[]} spots @param {Ground} ground
 */
export function named(at, spots, ground) {
  const own = spots.find(([, x, y]) => Math.hypot(x - at.x, y - at.y) < NAMED);
  if (own) return own[0];
  const row = ground.rows[Math.round((at.y - ground.top) / ground.cell)] ?? [];
  let left = Math.round((at.x - ground.left) / ground.cell);
  for (let n = 0; left >= 0 && n < row.length; n += 2) {
    if (left < row[n + 1]) return ground.words[row[n]];
    left -= row[n + 1];
  }
  return ground.beyond;
}
