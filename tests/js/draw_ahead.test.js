// Drawing: what the device shows of steps that the server does not have yet.
import assert from "node:assert/strict";
import { test } from "node:test";
import { opens, trails } from "../../static/js/draw_ahead.js";

const step = (command) => ({ once: "x", phase: "1", counter: "", way: "step", command: JSON.stringify(command) });
const standing = { 1: { x: 7.8, y: 8 }, 2: { x: 2, y: 5 }, 3: { x: -2, y: 5 }, "2-cut 0": { x: 0, y: 8 } };

test("who moves twice starts the second time where the first one ended", () => {
  const moves = [[0, 8], [3, 1]].map((at) => step({ do: "act", role: "2", kind: "cut", at }));
  assert.deepEqual(trails(moves, standing), [
    { role: "2", from: { x: 2, y: 5 }, to: { x: 0, y: 8 } },
    { role: "2", from: { x: 0, y: 8 }, to: { x: 3, y: 1 } },
  ]);
});

test("a throw goes to where the catcher was brought; nobody moves with it", () => {
  const steps = [
    step({ do: "act", role: "2", kind: "cut", at: [0, 8] }),
    step({ do: "act", role: "1", kind: "pass", at: null, other: "2" }),
    step({ do: "gate", posts: ["2", "3"], title: "Through" }),
  ];
  const found = trails(steps, standing).slice(1);
  assert.deepEqual(found.map(({ role, from, to }) => [role, from.x, to.x]), [["", 7.8, 0], ["", 0, -2]]);
});

test("a dot of a line goes along, and what has no way is not drawn", () => {
  const moved = step({ do: "move", action: "2-cut", point: 0, at: [1, 1] });
  assert.deepEqual(trails([moved], standing), [{ role: "", from: { x: 0, y: 8 }, to: { x: 1, y: 1 } }]);
  assert.deepEqual(trails([step({ do: "act", role: "3", kind: "hold", at: null }), step({ do: "cue" })], standing), []);
});

test("only a step that leads to another picture stops the hand", () => {
  assert.ok(opens(step({ do: "phase", title: "Then" })));
  assert.ok(!opens(step({ do: "act", role: "2", kind: "cut", at: [0, 8] })));
});
