// Ids of taps. RFC 9562, 5.4: version 4 in the seventh byte, variant 10 in the ninth.
import assert from "node:assert/strict";
import { test } from "node:test";

import { idOf, newId } from "../../static/js/log_store.js";

test("sixteen bytes become a version 4 id", () => {
  assert.equal(idOf(new Uint8Array(16)), "00000000-0000-4000-8000-000000000000");
  assert.equal(idOf(new Uint8Array(16).fill(255)), "ffffffff-ffff-4fff-bfff-ffffffffffff");
});

test("ids differ", () => {
  assert.equal(new Set(Array.from({ length: 100 }, newId)).size, 100);
});
