// The phone's answers held to the server's: who does what, why not, in which order, and the words.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { changes, fillings, inOrder } from "../../static/js/calls_five.js";
import { allOf, changesTold, readyTold, spoken, told, whyNot } from "../../static/js/calls_words.js";

const { words, squads } = JSON.parse(readFileSync(new URL("../data/calls.json", import.meta.url), "utf-8"));

squads.forEach((squad, number) => {
  const { players, plays, steps, logged, heard } = squad;
  const nameOf = (id) => players.find((player) => player.id === id).name;
  test(`squad ${number}: roles, reasons, order and changes are the server's`, () => {
    let held = new Map(plays.map((play) => [play.id, play.first]));
    for (const step of steps) {
      const found = fillings(plays, players, step.five, held);
      for (const [at, expected] of step.fillings.entries()) {
        const own = found.get(expected.play);
        assert.deepEqual(own.five, expected.five, `${step.five} in ${expected.play}`);
        assert.equal(whyNot(own, plays[at].thrower, nameOf, words), expected.why);
        assert.deepEqual(heard.map((call) => spoken(call, own.five, players, words)), step.calls[at]);
      }
      const order = inOrder(plays, found, logged);
      assert.deepEqual(order.map((filling) => [filling.play, readyTold(filling, logged, words)]), step.order);
      const moved = [...found].flatMap(([play, filling]) =>
        changes(held.get(play) ?? [], filling.five).map(({ player, before, after }) => [play, player, before, after]));
      assert.deepEqual(sorted(moved), sorted(step.moves));
      held = new Map([...found].map(([play, filling]) => [play, filling.five]));
    }
  });
});

const sorted = (rows) => rows.map((row) => row.join()).sort();

test("a change of roles is one sentence a person", () => {
  const said = changesTold([1, 2, 3, 4, 5], [2, 9, 3, 4, 5], "Tide", (id) => `P${id}`, words);
  assert.deepEqual(said, ["P2 goes from role 2 to role 1 in Tide.", "P9 takes role 2 in Tide."]);
});

test("lists and slots are filled, and what is no slot stays", () => {
  assert.deepEqual(["", "a", "a and b", "a, b and c"], [[], ["a"], ["a", "b"], ["a", "b", "c"]].map((each) => allOf(each, words)));
  assert.equal(told("{a} {b}", { a: 0 }), "0 {b}");
});

test("fewer than five can run nothing, and nothing breaks", () => {
  const [{ players, plays }] = squads;
  for (const floor of [[], players.slice(0, 4).map(({ id }) => id), [999, 998, 997, 996, 995]]) {
    const found = fillings(plays, players, floor, new Map());
    assert.ok([...found.values()].every(({ can, shortages }) => !can && shortages.length));
    assert.deepEqual(inOrder(plays, found, true), []);
  }
});
