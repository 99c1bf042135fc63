// Drawing: what a finished gesture asks for, and what undo goes back to.
import assert from "node:assert/strict";
import { test } from "node:test";
import { pastAfter } from "../../static/js/draw_past.js";
import { asked, bent, finished, holding, landing, named } from "../../static/js/draw_step.js";

const doing = (kind, more = {}) => ({ kind, cut: "curl", other: "", phase: "entry", starts: true, through: "Through", ...more });
const two = { role: "2", action: "", point: NaN, x: 4, y: 0 };
const others = [{ role: "3", x: 0, y: 0 }];
const spots = [["nail", 0, 5.8]];

test("a person brought to a place does there what is chosen", () => {
  assert.deepEqual(finished(doing("cut"), two, { x: 0, y: 5.8 }, others), {
    command: { do: "act", phase: "entry", role: "2", kind: "cut", at: [0, 5.8], other: null, cut: "curl" },
  });
  assert.equal(finished(doing("dribble"), two, { x: 0, y: 5 }, others).command.cut, null);
});

test("a pass ends at whoever stands there, and nowhere else", () => {
  const { command } = finished(doing("pass"), two, { x: 1, y: 0 }, others);
  assert.deepEqual([command.other, command.at], ["3", null]);
  assert.deepEqual(finished(doing("pass"), two, { x: 1.3, y: 0 }, others), { told: "nobody" });
});

test("a gate is one step over two people, whichever way they are chosen", () => {
  const command = { do: "gate", phase: "entry", posts: ["2", "3"], title: "Through" };
  assert.deepEqual(finished(doing("gate"), two, { x: 0.9, y: 0.4 }, others), { command });
  assert.deepEqual(asked(doing("gate", { other: "3" }), "2", null), { command });
  assert.deepEqual(asked(doing("gate"), "2", { x: 1, y: 1 }), { told: "second" });
});

test("a start is moved in the first phase alone, and a waypoint is no person", () => {
  assert.deepEqual(asked(doing("place"), "2", { x: 1, y: 2 }), { command: { do: "place", role: "2", at: [1, 2] } });
  assert.deepEqual(asked(doing("place", { starts: false }), "2", { x: 1, y: 2 }), { told: "first" });
  assert.deepEqual(asked(doing("way"), "2", { x: 1, y: 2 }), { told: "way" });
  assert.deepEqual([holding(doing("place")), holding(doing("place", { starts: false })), holding(doing("way"))],
    ["start", "piece", "way"]);
});

test("a shot is taken from where the person is, wherever the hand lets go", () => {
  const { command } = finished(doing("shot"), two, { x: 0, y: 1.5 }, others);
  assert.deepEqual([command.kind, command.at], ["shot", null]);
});

test("a dot of a line moves, and a press on the line makes a new one", () => {
  const dot = { role: "2", action: "2-cut", point: 1, x: 0, y: 0 };
  assert.deepEqual(finished(doing("way"), dot, { x: 1, y: 1 }, others).command, { do: "move", action: "2-cut", point: 1, at: [1, 1] });
  assert.deepEqual(bent(dot, { x: 1, y: 1 }).command, { do: "bend", action: "2-cut", point: 1, at: [1, 1] });
});

test("a screen dropped on somebody is for them, one dropped between people for whom the server says", () => {
  const met = finished(doing("screen"), two, { x: 0.8, y: 0 }, others, { x: 0.2, y: 0.1 }).command;
  assert.deepEqual([met.other, met.at], ["3", [0.8, 0]]);
  assert.equal(finished(doing("screen"), two, { x: 2, y: 0 }, others).command.other, null);
  assert.equal(finished(doing("screen", { other: "4" }), two, { x: 0.8, y: 0 }, others, { x: 0.2, y: 0.1 }).command.other, "4");
});

test("where somebody is in the end wins over the disc of one who has gone", () => {
  const both = [{ role: "3", x: 0, y: 0 }, { role: "4", x: 0, y: 0, idle: true }];
  assert.equal(finished(doing("pass"), two, { x: 0.1, y: 0 }, both).command.other, "4");
});

test("the ring shows where it will be: on the spot, short of the person, or just there", () => {
  assert.deepEqual(landing(doing("cut"), two, { x: 0.2, y: 5.7 }, others, spots), { x: 0, y: 5.8 });
  assert.deepEqual(landing(doing("screen"), two, { x: 0.2, y: 0.1 }, others, spots), { x: 0.8, y: 0 });
  assert.deepEqual(landing(doing("pass"), two, { x: 0.2, y: 5.7 }, others, spots), { x: 0.2, y: 5.7 });
});

test("a place is told by its name where it has one", () => {
  const ground = { left: -0.5, top: 5.5, cell: 0.25, words: ["left of it", "at it"], rows: [[0, 2, 1, 3], [1, 5]], beyond: "off" };
  assert.equal(named({ x: 0.1, y: 5.8 }, spots, ground), "nail");
  assert.equal(named({ x: -0.3, y: 5.45 }, spots, ground), "left of it");
  assert.equal(named({ x: 0.02, y: 5.45 }, spots, ground), "at it");
  assert.equal(named({ x: 0.5, y: 5.8 }, spots, ground), "at it");
  for (const [x, y] of [[0.7, 5.5], [-0.7, 5.5], [0, 4.9], [0, 6.2]]) assert.equal(named({ x, y }, spots, ground), "off");
});

test("undo goes back one state, redo brings it again, a new step forgets what was undone", () => {
  let past = pastAfter({ back: [], forth: [] }, "step", "a", "b");
  past = pastAfter(past, "step", "b", "c");
  assert.deepEqual(past, { back: ["a", "b"], forth: [] });
  past = pastAfter(past, "back", "c", "b");
  assert.deepEqual(past, { back: ["a"], forth: ["c"] });
  assert.deepEqual(pastAfter(past, "forth", "b", "c"), { back: ["a", "b"], forth: [] });
  assert.deepEqual(pastAfter(past, "step", "b", "d"), { back: ["a", "b"], forth: [] });
  assert.deepEqual(pastAfter(past, "step", "b", "b"), past);
});

test("a small drag off a named place is not taken back by it, and hardly any is", () => {
  const dot = { role: "2", action: "2-cut", point: 0, x: 0, y: 5.8 };
  assert.deepEqual(landing(doing("way"), dot, { x: 0.3, y: 5.8 }, [], spots), { x: 0.3, y: 5.8 });
  assert.deepEqual(landing(doing("way"), dot, { x: 0.1, y: 5.8 }, [], spots), { x: 0, y: 5.8 });
  assert.deepEqual(landing(doing("way"), { ...dot, x: 2 }, { x: 0.3, y: 5.8 }, [], spots), { x: 0, y: 5.8 });
});
