// Names beside people who stand close: none lies on another, and none jumps without need.
import assert from "node:assert/strict";
import { test } from "node:test";
import { areaOf, PLACES, RADIUS, shared, spread } from "../../static/js/calls_names.js";

const ROOM = [0, 0, 310, 290];
const areas = (people, places) => people.map((person, at) => areaOf(person, PLACES[places[at]]));
const met = (list) => list.flatMap((one, at) => list.slice(at + 1).map((other) => shared(one, other)))
  .reduce((sum, each) => sum + each, 0);

test("who stands alone has the name below", () => {
  assert.deepEqual(spread([{ x: 60, y: 60, width: 40 }, { x: 220, y: 200, width: 40 }], [], ROOM), [0, 0]);
});

test("names of people side by side do not meet, and below alone they would", () => {
  const people = [{ x: 150, y: 100, width: 60 }, { x: 175, y: 102, width: 60 }];
  assert.ok(met(areas(people, [0, 0])) > 0);
  assert.equal(met(areas(people, spread(people, [], ROOM))), 0);
});

test("a name does not lie under the disc of who stands below", () => {
  const people = [{ x: 150, y: 100, width: 50 }, { x: 150, y: 123, width: 50 }];
  const [first] = areas(people, spread(people, [], ROOM));
  assert.equal(shared(first, [150 - RADIUS, 123 - RADIUS, 150 + RADIUS, 123 + RADIUS]), 0);
});

test("a name stays in the picture", () => {
  const people = [{ x: 14, y: 280, width: 50 }];
  const [[left, , , bottom]] = areas(people, spread(people, [], ROOM));
  assert.ok(left >= 0 && bottom <= 290);
});

test("a name keeps its place while nothing is in its way", () => {
  assert.deepEqual(spread([{ x: 150, y: 100, width: 50 }], [2], ROOM), [2]);
});

test("four in a pack find a place each", () => {
  const people = [[150, 100], [173, 104], [148, 126], [172, 130]].map(([x, y]) => ({ x, y, width: 44 }));
  assert.equal(met(areas(people, spread(people, [], ROOM))), 0);
});
