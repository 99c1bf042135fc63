// What the device keeps of a drawing, and what it says when it takes no more.
import assert from "node:assert/strict";
import { test } from "node:test";
import { keeper } from "../../static/js/draw_store.js";

/** Storage that takes so many characters in all, as a browser's does. */
const storage = (room = Infinity, kept = {}) => ({
  getItem: (name) => kept[name] ?? null,
  removeItem: (name) => { delete kept[name]; },
  setItem: (name, text) => {
    const others = Object.entries(kept).filter(([each]) => each !== name).map(([, value]) => value.length);
    if (others.reduce((sum, each) => sum + each, text.length) > room) throw new Error("QuotaExceededError");
    kept[name] = text;
  },
  kept,
});
const begin = (local = storage(), session = storage()) => {
  const told = [];
  // Object.keys() of a Storage are its names
  const names = new Proxy(local, {
    ownKeys: () => Object.keys(local.kept),
    getOwnPropertyDescriptor: () => ({ enumerable: true, configurable: true }),
  });
  return { store: keeper("box", { local: names, session }, () => told.push("full")), told, local, session };
};
const step = (command) => ({ once: "1", command, phase: "1", counter: "", way: "step" });

test("a step is on the device before it is sent, and gone once the server has it", () => {
  const { store, local, session } = begin();
  store.keep({ base: "a", steps: [step("x")] });
  assert.deepEqual(begin(local, session).store.waiting(), { base: "a", steps: [step("x")] });
  store.keep({ base: "b", steps: [] });
  assert.deepEqual(Object.keys(local.kept), []);
});

test("a full device is told, and nothing of the sitting is lost in this window", () => {
  const { store, told } = begin(storage(10), storage(4000));
  store.keep({ base: "a", steps: [step("x")] });
  assert.deepEqual(told, ["full"]);
  const back = Array.from({ length: 200 }, (_, n) => `${n}`.padStart(100, "."));
  store.remember({ back, forth: [] });
  assert.equal(store.past().back.length, 200);
});

test("on a full device the newest states outlive a reload", () => {
  const { store, local, session } = begin(storage(), storage(4000));
  const back = Array.from({ length: 200 }, (_, n) => `${n}`.padStart(100, "."));
  store.remember({ back, forth: [] });
  assert.deepEqual(begin(local, session).store.past().back, back.slice(-20));
});

test("what a closed window has left behind goes to the next one, once", () => {
  const { store, local } = begin();
  store.keep({ base: "a", steps: [step("x")] });
  const next = begin(local).store;
  assert.deepEqual(next.left(), { base: "a", steps: [step("x")] });
  assert.equal(next.left(), null);
});

test("what is typed and not sent is there again, until it is sent", () => {
  const { store, local, session } = begin();
  store.type("entry", "Over the to");
  assert.equal(begin(local, session).store.typed("entry"), "Over the to");
  store.type("entry", null);
  assert.equal(store.typed("entry"), null);
});

test("what cannot be read is as good as nothing", () => {
  const session = storage(Infinity, { "coachbook-drawn-box": "{" });
  assert.deepEqual(begin(storage(), session).store.past(), { back: [], forth: [] });
});
