// Drawing: the bands are asked for once the hand rests, one question at a time.
import assert from "node:assert/strict";
import { test } from "node:test";
import { judge } from "../../static/js/draw_check.js";

const settled = () => new Promise((done) => { setImmediate(done); });

test("a second question waits for the answer of the first, and is about the newest state", async (t) => {
  t.mock.timers.enable({ apis: ["setTimeout"] });
  const asked = [];
  t.mock.method(globalThis, "fetch", () => new Promise((answer) => { asked.push(answer); }));
  globalThis.window = globalThis;
  globalThis.HTMLElement = class { dataset = {}; };
  const part = { dataset: { seen: "a", counter: "" }, querySelector: () => new HTMLElement() };
  const rest = judge("/judged", { drawn: () => part, idle: () => true });
  rest();
  t.mock.timers.tick(600);
  assert.equal(asked.length, 1);
  for (const seen of ["b", "c", "d"]) {
    part.dataset.seen = seen;
    rest();
    t.mock.timers.tick(600);
  }
  assert.equal(asked.length, 1);
  asked[0]({ ok: true, text: async () => "<p></p>" });
  await settled();
  t.mock.timers.tick(600);
  assert.equal(asked.length, 2);
});
