// The browser's geometry held to the server's answers, court by court.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { named } from "../../static/js/draw_step.js";
import { nearest, snapped, stepped, stretch, toMetres, toPicture } from "../../static/js/draw_floor.js";

const { courts, arrows } = JSON.parse(readFileSync(new URL("../data/floor.json", import.meta.url), "utf-8"));
const at = ([x, y]) => ({ x, y });

for (const { rules, frame, spots, snaps, shown, people, lines } of courts) {
  const window = { left: Number(frame.left), top: Number(frame.top), scale: Number(frame.scale) };
  test(`${rules}: a drop is taken by the named place that the words would name`, () => {
    for (const [from, to] of snaps) assert.deepEqual(snapped(at(from), spots), at(to), String(from));
  });
  test(`${rules}: a place of the court is where the picture shows it, and back`, () => {
    for (const [from, to] of shown) {
      const there = toPicture(window, at(from));
      assert.ok(Math.hypot(there[0] - to[0], there[1] - to[1]) < 0.01, String(from));
      const again = toMetres(window, there);
      assert.ok(Math.hypot(again.x - from[0], again.y - from[1]) < 1e-6, String(from));
    }
  });
  test(`${rules}: who stands nearest is the same person`, () => {
    for (const { at: place, stand, moving, nearest: role } of people) {
      const others = Object.entries(stand).filter(([each]) => each !== moving)
        .map(([each, where]) => ({ role: each, ...at(where) }));
      assert.equal(nearest(at(place), others, Infinity).role, role);
    }
  });
  test(`${rules}: a press is on the nearest stretch of a line`, () => {
    for (const { at: place, path, point, away } of lines) {
      const found = stretch(at(place), path, Infinity);
      assert.equal(found.point, point);
      assert.ok(Math.abs(found.away - away) < 1e-5);
    }
  });
}

test("arrow keys step in exact decimals", () => {
  for (const { at: from, key, fine, to } of arrows) assert.deepEqual(stepped(at(from), key, fine), at(to));
});

for (const { rules, ground, named: places } of JSON.parse(readFileSync(new URL("../data/ground.json", import.meta.url), "utf-8"))) {
  test(`${rules}: a place without a name is said in the server's words`, () => {
    for (const [from, words] of places) assert.equal(named(at(from), [], ground), words);
  });
}
