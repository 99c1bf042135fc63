// Sending: a batch that is answered for is settled; a batch that chokes the server is halved.
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

import { Sender } from "../../static/js/log_send.js";

/** @type {string[][]} the ids of each batch that was sent */
let sent = [];
/** @type {Map<string, string>} */
let states = new Map();

/** @param {(ids: string[]) => Response} answer */
const serve = (answer) => {
  globalThis.fetch = async (_, options) => {
    const ids = JSON.parse(String(options?.body)).taps.map((/** @type {{id: string}} */ tap) => tap.id);
    sent.push(ids);
    return answer(ids);
  };
};

/** @param {string[]} ids */
const senderOf = (ids) => {
  states = new Map(ids.map((id) => [id, "waiting"]));
  const record = (/** @type {string} */ id) => /** @type {import("../../static/js/log_store.js").TapRecord} */ (
    /** @type {unknown} */ ({ id, team: 1, tap: { id } })
  );
  return new Sender({
    waiting: async () => ids.filter((id) => states.get(id) === "waiting").map(record),
    settle: async (settled, state) => settled.forEach((id) => states.set(id, state)),
  }, { address: "/taps/0/", asks: "practice=2", changed: () => undefined, counted: () => undefined });
};

beforeEach(() => {
  sent = [];
  Object.assign(globalThis, { document: { cookie: "csrftoken=abc" } });
});

test("what the server keeps is settled", async () => {
  serve((ids) => Response.json({ kept: ids, held: [], faults: [] }));
  const sender = senderOf(["a", "b"]);
  await sender.run();
  assert.deepEqual([...states.values()], ["kept", "kept"]);
  assert.equal(sender.status, "");
});

test("one tap that chokes the server steps aside, the others go through", async () => {
  serve((ids) => (ids.includes("c") ? new Response("", { status: 500 }) : Response.json({ kept: ids, held: [], faults: [] })));
  const sender = senderOf(["a", "b", "c", "d"]);
  await sender.run();
  clearTimeout(sender.timer);
  assert.deepEqual(Object.fromEntries(states), { a: "kept", b: "kept", c: "waiting", d: "kept" });
  assert.deepEqual([...sender.stuck], ["c"]);
  assert.equal(sender.status, "stuck");
});

test("a tap that cannot be read is refused, by its place in the batch", async () => {
  serve((ids) => Response.json({ kept: ids.slice(1), held: [], faults: [{ place: "/taps/0/mode" }] }, { status: 422 }));
  const sender = senderOf(["a", "b"]);
  await sender.run();
  assert.deepEqual(Object.fromEntries(states), { a: "refused", b: "kept" });
});
