// A play in motion: straight lines between samples, whole at the samples, still after the last.
import assert from "node:assert/strict";
import { test } from "node:test";

import { nextTime, placeAt, saidAt } from "../../static/js/track.js";

const WALK = [0, 0, 2, 4, 2, 10]; // three samples of x and y

test("at a sample exactly that sample", () => {
  assert.deepEqual(placeAt(WALK, 2, 10, 0), [0, 0]);
  assert.deepEqual(placeAt(WALK, 2, 10, 0.1), [2, 4]);
});

test("between two samples on the line between them", () => {
  assert.deepEqual(placeAt(WALK, 2, 10, 0.05), [1, 2]);
  assert.deepEqual(placeAt(WALK, 2, 10, 0.15), [2, 7]);
});

test("after the last sample still", () => {
  assert.deepEqual(placeAt(WALK, 2, 10, 9), [2, 10]);
});

test("one sample is everywhere, three numbers are the ball", () => {
  assert.deepEqual(placeAt([1, 2, 3], 3, 10, 5), [1, 2, 3]);
});

const MOMENTS = [
  { at: 0, says: "Ready." },
  { at: 0.8, says: "3 cuts." },
  { at: 0.82, says: "5 screens." },
];

test("the latest moment is said, with what is a blink before it", () => {
  assert.equal(saidAt(MOMENTS, 0.5), "Ready.");
  assert.equal(saidAt(MOMENTS, 0.81), "3 cuts.");
  assert.equal(saidAt(MOMENTS, 2), "3 cuts. 5 screens.");
  assert.equal(saidAt([], 2), "");
});

test("from moment to moment, to the end and back to the start", () => {
  const times = [0, 0.8, 1.5];
  assert.equal(nextTime(times, 0, 1, 4), 0.8);
  assert.equal(nextTime(times, 0.8, 1, 4), 1.5);
  assert.equal(nextTime(times, 1.5, 1, 4), 4);
  assert.equal(nextTime(times, 1.5, -1, 4), 0.8);
  assert.equal(nextTime(times, 0, -1, 4), 0);
});
