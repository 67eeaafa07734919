import assert from "node:assert/strict";
import { test } from "node:test";
import { ask } from "../asks.js";

test("a wish is sent as the program wants it", async () => {
  const sent = [];
  const send = async (address, wish) => {
    sent.push({ address, ...wish });
    return { status: 202 };
  };
  assert.equal(await ask("hold", undefined, send), null);
  assert.deepEqual(sent, [
    {
      address: "api/hold",
      method: "POST",
      headers: { "Content-Type": "application/json", "X-Scenespan": "1" },
      body: "{}",
    },
  ]);
});

test("what a wish is about goes with it", async () => {
  const sent = [];
  await ask("mark", { file: "A.JPG", mark: "keep", note: "" }, async (address, { body }) => {
    sent.push([address, JSON.parse(body)]);
    return { status: 202 };
  });
  assert.deepEqual(sent, [["api/mark", { file: "A.JPG", mark: "keep", note: "" }]]);
});

test("why a wish was not taken is told", async () => {
  const rows = [
    [async () => ({ status: 403, json: async () => ({ error: "not from here" }) }), "not from here"],
    [async () => ({ status: 500, json: async () => JSON.parse("<") }), "the program answered 500"],
    [async () => { throw new TypeError("cut"); }, "the program does not answer"],
  ];
  for (const [send, reason] of rows) assert.equal(await ask("stop", {}, send), reason);
});
