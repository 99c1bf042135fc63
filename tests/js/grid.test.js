// Where a step leads in a grid of ratings.
import assert from "node:assert/strict";
import { test } from "node:test";

const { stepped } = await import("../../static/js/grid.js");

test("down goes on at the top of the next column, the rest stays at the edges", () => {
  assert.deepEqual(stepped([0, 0], [1, 0], [3, 2]), [1, 0]);
  assert.deepEqual(stepped([2, 0], [1, 0], [3, 2]), [0, 1]);
  assert.deepEqual(stepped([2, 1], [1, 0], [3, 2]), [2, 1]);
  assert.deepEqual(stepped([0, 0], [-1, 0], [3, 2]), [0, 0]);
  assert.deepEqual(stepped([1, 1], [0, 1], [3, 2]), [1, 1]);
  assert.deepEqual(stepped([1, 1], [0, -1], [3, 2]), [1, 0]);
});
