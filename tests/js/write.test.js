// Suggestions while a play is written in words.
import assert from "node:assert/strict";
import { test } from "node:test";

const document = { querySelectorAll: () => [], querySelector: () => null, addEventListener: () => undefined };
Object.assign(globalThis, { document, HTMLFormElement: class {} });
const { lineRange, suggestions } = await import("../../static/js/write.js");
const { rowOf } = await import("../../static/js/write_field.js");
const { lineAt } = await import("../../static/js/write_marks.js");

const KNOWN = { verbs: ["cuts", "screens"], places: ["corner", "elbow", "far corner"] };

test("after the role the verbs, after a preposition the places", () => {
  assert.deepEqual(suggestions("2 c", KNOWN).found, ["cuts"].concat(KNOWN.verbs.filter((verb) => verb !== "cuts" && verb.includes("c"))));
  assert.deepEqual(suggestions("2 cuts to the cor", KNOWN).found, ["corner", "far corner"]);
  assert.deepEqual(suggestions("notes", KNOWN).found, []);
});

test("Spanish words are suggested after Spanish words", () => {
  const known = { verbs: ["corta", "continúa"], places: ["esquina izquierda", "codo izquierdo"] };
  assert.deepEqual(suggestions("2 continú", known).found, ["continúa"]);
  for (const said of ["a la es", "en la es", "hacia fuera al es"]) {
    assert.deepEqual(suggestions(`2 corta ${said}`, known).found.slice(0, 1), ["esquina izquierda"]);
  }
});

test("where a line begins and ends", () => {
  assert.deepEqual(lineRange("ab\ncde\nf", 2), [3, 6]);
  assert.deepEqual(lineRange("ab\ncde\nf", 3), [7, 8]);
});

test("the line of a caret, also at both ends of it", () => {
  assert.deepEqual([0, 2, 3, 6, 7].map((at) => lineAt("ab\ncde\nf", at)), [1, 1, 2, 2, 3]);
});

test("a place of the text by its row and how far into it", () => {
  assert.deepEqual([0, 2, 3, 6, 7].map((at) => rowOf("ab\ncde\nf", at)), [[0, 0], [0, 2], [1, 0], [1, 3], [2, 0]]);
});
