import assert from "node:assert/strict";
import { test } from "node:test";
import { calledOf, calledTotal, cameOn, likely, rolesFor } from "../../static/js/game_floor.js";

/** @type {import("../../static/js/game_floor.js").Cast} */
const CAST = [["1", 1, 11], ["2", 1, 12], ["3", 1, 13], ["4", 1, 14], ["5", 1, 15], ["1", 2, 16], ["2", 2, 11], ["5", 3, 12]];

test("the first five stand where the cast has them, however they are listed", () => {
  assert.deepEqual(rolesFor(CAST, [15, 13, 11, 14, 12]), [11, 12, 13, 14, 15]);
});

test("who comes on takes a role they know, and the others move to roles they know", () => {
  assert.deepEqual(rolesFor(CAST, [16, 11, 13, 14, 15]), [16, 11, 13, 14, 15]);
  assert.deepEqual(rolesFor(CAST, [11, 12, 13, 14, 99]), [11, 12, 13, 14, 99]); // a newcomer takes what is left
});

test("no order of the five keeps more of the cast: by trying all of them", () => {
  const worth = [0, 109, 103, 101];
  const value = (/** @type {(number | null)[]} */ five) => five.reduce((/** @type {number} */ sum, who, at) =>
    sum + (worth[CAST.find(([role, , player]) => role === String(at + 1) && player === who)?.[1] ?? 0] ?? 0), 0);
  const floor = [12, 16, 15, 11, 13];
  const best = value(rolesFor(CAST, floor));
  const swaps = floor.flatMap((_, a) => floor.map((__, b) => {
    const other = [...rolesFor(CAST, floor)];
    [other[a], other[b]] = [other[b] ?? null, other[a] ?? null];
    return value(other);
  }));
  assert.ok(Math.max(...swaps) <= best);
});

test("fewer than five leave roles empty, and somebody named twice stands once", () => {
  assert.deepEqual(rolesFor(CAST, [13, 13]), [null, null, 13, null, null]);
  assert.deepEqual(rolesFor(CAST, []), [null, null, null, null, null]);
});

test("somebody comes on for somebody, and nobody twice", () => {
  assert.deepEqual(cameOn([1, 2, 3, 4, 5], 2, 9), [1, 9, 3, 4, 5]);
  assert.deepEqual(cameOn([1, 2, 3, 4, 5], 2, 5), [1, 2, 3, 4, 5]);
});

test("the play called last comes first, then those before it, then the rest as they come", () => {
  const plays = [1, 2, 3, 4].map((id) => ({ id }));
  const { before, others } = likely(plays, [3, 1, 3, 2, 3]);
  assert.deepEqual(before.map(({ id }) => id), [3, 2, 1]);
  assert.deepEqual(others.map(({ id }) => id), [4]);
});

const record = (/** @type {string} */ id, /** @type {any} */ state, /** @type {any} */ more = {}) =>
  ({ id, team: 1, practice: "game 1", made: 0, state, tap: { kind: "called", id, play: 1, ...more } });

test("a possession is counted once, on its way to the server and back", () => {
  const known = { 1: { total: 2 } };
  const waits = record("a", "waiting");
  assert.equal(calledTotal([waits], new Set(), known), 3);
  assert.equal(calledTotal([{ ...waits, state: "kept" }], new Set(), known), 2);
  assert.equal(calledTotal([{ ...waits, state: "held" }], new Set(), known), 2);
  assert.equal(calledTotal([waits], new Set(["a"]), known), 2);
  const undo = record("u", "waiting", { kind: "undo", rep: "a" });
  assert.equal(calledTotal([{ ...waits, state: "kept" }, undo], new Set(["a"]), known), 1);
  assert.deepEqual(calledOf([waits, undo], new Set(["a"])), []);
  assert.equal(calledOf([waits, undo], new Set()).length, 1);
});
