// Counting reps on the phone: the server's counts, and what it has not counted yet.
import assert from "node:assert/strict";
import { test } from "node:test";

import { bounces, counted, exchanged, standingIn, takenBack, withSwaps, withNumber } from "../../static/js/log_count.js";

/**
 * @param {string} id
 * @param {import("../../static/js/log_store.js").State} state
 * @param {{clean?: boolean, play?: number}} more
 * @returns {import("../../static/js/log_store.js").TapRecord}
 */
const rep = (id, state, { clean = true, play = 7 } = {}) => ({
  id, team: 1, practice: 2, made: 0, state,
  tap: {
    kind: "rep", id, practice: 2, play, mode: "live", at: "2026-01-05T18:00:00Z", by: 1, cast: {},
    clean, erred: null, slip: null, unit: null, revision: 3,
  },
});

/**
 * @param {string} of
 * @param {import("../../static/js/log_store.js").State} state
 * @returns {import("../../static/js/log_store.js").TapRecord}
 */
const undo = (of, state) => ({
  id: `undo-${of}`, team: 1, practice: 2, made: 0, state,
  tap: { kind: "undo", id: `undo-${of}`, rep: of, at: "2026-01-05T18:00:09Z", by: 1 },
});

const KNOWN = { total: 10, clean: 6 };

test("what waits is added to what the server knows, what it keeps is not added twice", () => {
  const found = counted([rep("a", "waiting"), rep("b", "open", { clean: false }), rep("c", "kept")], 7, KNOWN);
  assert.deepEqual([found.total, found.clean, found.mayUndo], [12, 7, true]);
});

test("another play's reps are not counted here, but may be taken back", () => {
  const found = counted([rep("a", "waiting", { play: 8 })], 7, KNOWN);
  assert.deepEqual([found.total, found.clean, found.mayUndo], [10, 6, true]);
});

test("a rep taken back before it was sent never counted", () => {
  const found = counted([rep("a", "waiting"), undo("a", "waiting")], 7, KNOWN);
  assert.deepEqual([found.total, found.clean, found.mayUndo], [10, 6, false]);
});

test("a rep that the server counts is gone as soon as its undo waits, and once only", () => {
  const found = counted([rep("a", "kept"), undo("a", "waiting")], 7, KNOWN);
  assert.deepEqual([found.total, found.clean], [9, 5]);
  assert.equal(counted([rep("a", "kept"), undo("a", "kept")], 7, KNOWN).total, 10);
});

test("refused and held reps are not counted", () => {
  assert.equal(counted([rep("a", "refused"), rep("b", "held")], 7, KNOWN).total, 10);
});

test("the reps that are taken back", () => {
  assert.deepEqual(takenBack([rep("a", "kept"), undo("a", "kept")]), new Set(["a"]));
});

test("somebody from the bench takes a role, and two on the court change places", () => {
  assert.deepEqual(exchanged([1, 2, 3, 4, 5], "2", 9), [1, 9, 3, 4, 5]);
  assert.deepEqual(exchanged([1, 2, 3, 4, 5], "2", 5), [1, 5, 3, 4, 2]);
  assert.deepEqual(exchanged([1, null, 3, 4, 5], "2", 5), [1, 5, 3, 4, null]);
});

test("the same play and result within 400 ms is a thumb that bounced; another is not", () => {
  const isBounce = bounces();
  assert.deepEqual(
    [[7, true, 0], [7, true, 399], [7, false, 399], [8, true, 399], [7, true, 400]].map(([play, clean, now]) =>
      isBounce(Number(play), Boolean(clean), Number(now))),
    [false, true, false, false, false],
  );
});

test("who came on for somebody stands in for them in the next play too", () => {
  assert.deepEqual(withSwaps([1, 2, 3, 4, 5], { 2: 9 }), [1, 9, 3, 4, 5]);
  assert.deepEqual(withSwaps([1, 2, 9, 4, 5], { 2: 9 }), [1, 2, 9, 4, 5]);
  assert.deepEqual(withSwaps([1, 3, 4, 5, 6], { 2: 9 }), [1, 3, 4, 5, 6]);
});

test("a swap lasts until it is changed: who comes back plays, and the next newcomer takes over", () => {
  const once = standingIn({}, 5, 2);
  assert.deepEqual(once, { 5: 2 });
  assert.deepEqual(standingIn(once, 2, 9), { 2: 9, 5: 9 });
  assert.deepEqual(standingIn(once, 2, 5), { 2: 5 });
});

test("a shirt number stands once behind a name", () => {
  assert.equal(withNumber({ name: "Noor", number: "4" }), "Noor (4)");
  assert.equal(withNumber({ name: "Ida (7)", number: "7" }), "Ida (7)");
  assert.equal(withNumber({ name: "Ida (7)", number: "12" }), "Ida (7) (12)");
});
