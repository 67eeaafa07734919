import assert from "node:assert/strict";
import { test } from "node:test";
import { askRole, codeOf, enterCode, roleWords } from "../pairing.js";

test("a code is eight digits, however they are spaced", () => {
  const rows = [
    ["01234567", "01234567"],
    ["0123 4567", "01234567"],
    [" 0123-4567 ", "01234567"],
    ["", null],
    ["1234567", null],
    ["123456789", null],
    ["1234567x", null],
    ["١٢٣٤٥٦٧٨", null],
  ];
  for (const [typed, code] of rows) assert.equal(codeOf(typed), code, typed);
});

test("the code goes in a header, never in the address or the body", async () => {
  const sent = [];
  const send = async (address, wish) => {
    sent.push({ address, ...wish });
    return { status: 200 };
  };
  assert.equal(await enterCode("01234567", send), null);
  assert.deepEqual(sent, [
    {
      address: "api/pair",
      method: "POST",
      headers: {
        "Content-Type": "application/json",
        "X-Scenespan": "1",
        "X-Scenespan-Code": "01234567",
      },
      body: "{}",
    },
  ]);
});

test("why a code was not taken is told", async () => {
  const rows = [
    [async () => ({ status: 403, json: async () => ({ error: "not a code" }) }), "not a code"],
    [async () => ({ status: 429, json: async () => JSON.parse("<") }), "the program answered 429"],
    [async () => { throw new TypeError("cut"); }, "the program does not answer"],
  ];
  for (const [send, reason] of rows) assert.equal(await enterCode("0", send), reason);
});

test("the role is what the program says, and nothing where it does not", async () => {
  const viewer = { role: "viewer", local: false };
  const rows = [
    [async () => ({ status: 200, json: async () => viewer }), viewer],
    [async () => ({ status: 200, json: async () => ({}) }), null],
    [async () => ({ status: 503 }), null],
    [async () => { throw new TypeError("cut"); }, null],
  ];
  for (const [send, told] of rows) assert.deepEqual(await askRole(send), told);
});

test("who this page is stands in words", () => {
  const rows = [
    [{ role: "operator", local: true }, ""],
    [{ role: "operator", local: true, wrongCodes: 1 }, "One wrong code was tried."],
    [{ role: "operator", local: false, wrongCodes: 0 }, "Operator"],
    [{ role: "operator", local: false, wrongCodes: 7 }, "Operator. 7 wrong codes were tried."],
    [
      { role: "viewer", local: false },
      "Viewer: this page looks on. Only an operator can hold, continue or stop.",
    ],
  ];
  for (const [me, words] of rows) assert.equal(roleWords(me), words);
});
