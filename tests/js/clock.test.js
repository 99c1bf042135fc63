// Seconds as people read them. Common practice: minutes and seconds, hours only when they are needed.
import assert from "node:assert/strict";
import { test } from "node:test";

import { clock } from "../../static/js/clock.js";

test("minutes and seconds, two figures for the seconds", () => {
  assert.deepEqual([0, 5, 65, 600, 5999].map(clock), ["0:00", "0:05", "1:05", "10:00", "99:59"]);
});

test("from a hundred minutes on hours and minutes", () => {
  assert.deepEqual([6000, 7200, 7265].map(clock), ["1 h 40", "2 h 00", "2 h 01"]);
});

test("what is over stays at nothing", () => {
  assert.equal(clock(-3), "0:00");
});
