// Drawing: what is near, where a drop lands, and steps that wait for the server.
import assert from "node:assert/strict";
import { test } from "node:test";
import { jumped, nearest, shortOf, snapped, stepped, stretch, tolerance } from "../../static/js/draw_floor.js";
import { sender } from "../../static/js/draw_send.js";

test("a place near a named spot becomes the spot, any other stays", () => {
  const spots = [["nail", 0, 5.8], ["top", 0, 8.75]];
  assert.deepEqual(snapped({ x: 0.3, y: 5.6 }, spots), { x: 0, y: 5.8 });
  assert.deepEqual(snapped({ x: 2.00049, y: 4 }, spots), { x: 2, y: 4 });
});

test("the nearest wins, and on one spot who has nothing to do yet", () => {
  const two = [{ x: 1, y: 1 }, { x: 1, y: 1, idle: true }];
  assert.equal(nearest({ x: 1.1, y: 1 }, two, 0.5), two[1]);
  assert.equal(nearest({ x: 3, y: 1 }, two, 0.5), null);
});

test("arrow keys go a quarter of a metre, with Shift a twentieth", () => {
  assert.deepEqual(stepped({ x: 0, y: 1 }, "ArrowUp", false), { x: 0, y: 0.75 });
  assert.deepEqual(stepped({ x: 0, y: 1 }, "ArrowRight", true), { x: 0.05, y: 1 });
  assert.equal(stepped({ x: 0, y: 1 }, "Home", false), null);
});

test("with Ctrl an arrow goes to the next named place that way, and stays where there is none", () => {
  const spots = [["nail", 0, 5.8], ["elbow", 2.45, 5.8], ["corner", 6.9, 0.5]];
  assert.deepEqual(jumped({ x: -2.45, y: 5.8 }, "ArrowRight", spots), { x: 0, y: 5.8 });
  assert.deepEqual(jumped({ x: 0, y: 5.8 }, "ArrowRight", spots), { x: 2.45, y: 5.8 });
  assert.equal(jumped({ x: 0, y: 5.8 }, "ArrowDown", spots), null);
});

test("a press on a line finds its stretch; a finger reaches farther than a mouse", () => {
  assert.equal(stretch({ x: 1, y: 1.1 }, [[0, 0], [1, 0], [1, 2]], 0.2)?.point, 1);
  assert.equal(stretch({ x: 3, y: 3 }, [[0, 0], [1, 0]], 0.2), null);
  assert.ok(tolerance("touch") > tolerance("mouse"));
});

test("a screener stops short of whom the screen is for", () => {
  assert.deepEqual(shortOf({ x: 4, y: 0 }, { x: 0, y: 0 }), { x: 0.8, y: 0 });
  assert.deepEqual(shortOf({ x: 2, y: 8 }, { x: 2, y: 2 }), { x: 2, y: 2.8 });
  // The rule books owe a step to a defender who stands and cannot see it (FIBA 2024, 33.7).
  assert.deepEqual(shortOf({ x: 2, y: 2 }, { x: 2, y: 6 }), { x: 2, y: 4.3 });
});

/** A door that answers what it is told to, and writes down what happened. */
const door = (answers) => {
  const told = { posted: [], kept: 0, changed: [], gone: 0, refused: [], again: null };
  return { told, door: {
    keep: (waiting) => { told.kept = waiting.steps.length; },
    post: async (step, seen) => { told.posted.push([step.command, seen]); return answers.shift(); },
    opened: () => ({ phase: "2", counter: "switch", phaseId: "then" }),
    done: () => {}, refused: (said) => told.refused.push(said), changed: (said) => told.changed.push(said),
    gone: () => { told.gone += 1; }, away: () => {}, later: (again) => { told.again = again; },
  } };
};
const rest = () => new Promise((done) => { setTimeout(done, 5); });

test("each step is sent on what the one before has made", async () => {
  const { told, door: open } = door([{ kind: "done", seen: "b" }, { kind: "refused", said: "no" }, { kind: "done", seen: "c" }]);
  const queue = sender(open, { base: "", steps: [] });
  for (const command of ["1", "2", "3"]) queue.add({ command }, "a");
  await rest();
  assert.deepEqual(told.posted, [["1", "a"], ["2", "b"], ["3", "b"]]);
  assert.deepEqual(told.refused, ["no"]);
  assert.ok(queue.idle());
});

test("without a connection a step is kept and sent again; a change by others stops all", async () => {
  const { told, door: open } = door([{ kind: "away" }, { kind: "changed", said: "other" }, { kind: "done", seen: "z" }]);
  const queue = sender(open, { base: "", steps: [] });
  queue.add({ command: "1" }, "a");
  await rest();
  assert.equal(told.kept, 1);
  told.again();
  await rest();
  assert.deepEqual(told.changed, ["other"]);
  queue.resume("y", true);
  await rest();
  assert.deepEqual(told.posted.at(-1), ["1", "y"]);
  assert.ok(queue.idle());
});

test("without a connection the newest step that never left is dropped, the one that was tried is not", async () => {
  const { told, door: open } = door([{ kind: "away" }]);
  const queue = sender(open, { base: "", steps: [] });
  queue.add({ command: "1" }, "a");
  queue.add({ command: "2" }, "a");
  await rest();
  assert.ok(queue.drop());
  assert.equal(told.kept, 1);
  assert.ok(!queue.drop()); // its answer may have been lost on the way
  assert.deepEqual(queue.steps().map((each) => each.command), ["1"]);
});

test("what is drawn while a counter is on its way is drawn in it", async () => {
  const { told, door: open } = door([{ kind: "done", seen: "b" }, { kind: "done", seen: "c" }]);
  const queue = sender(open, { base: "", steps: [] });
  const inside = { once: "2", into: "1", phase: "1", counter: "", command: JSON.stringify({ do: "act", phase: "screen" }) };
  queue.add({ once: "1", command: "{}" }, "a");
  queue.add(inside, "a");
  await rest();
  assert.deepEqual(told.posted[1], [JSON.stringify({ do: "act", phase: "then" }), "b"]);
  assert.deepEqual([inside.phase, inside.counter], ["2", "switch"]);
});

test("a counter that is refused takes along what was drawn in it", async () => {
  const { told, door: open } = door([{ kind: "refused", said: "no" }, { kind: "done", seen: "b" }]);
  const queue = sender(open, { base: "", steps: [] });
  queue.add({ once: "1", command: "{}" }, "a");
  queue.add({ once: "2", into: "1", command: "{}" }, "a");
  await rest();
  assert.deepEqual(told.refused, ["no"]);
  assert.equal(told.posted.length, 1);
  assert.ok(queue.idle());
});

test("where the play is gone, steps are kept and nothing is asked again", async () => {
  const { told, door: open } = door([{ kind: "gone" }]);
  const queue = sender(open, { base: "", steps: [] });
  for (const command of ["1", "2"]) queue.add({ command }, "a");
  await rest();
  assert.deepEqual([told.gone, told.posted.length, told.kept, told.again], [1, 1, 2, null]);
});
