import assert from "node:assert/strict";
import { test } from "node:test";
import { AGAIN_MS, createKinds, kindOf } from "../kinds.js";
import { alarmsOf } from "../views/alarms.js";

const opened = { session: "one" };
const on = (state) => ({ link: { state } });

test("a page waits for its first record before it takes a kind", () => {
  assert.equal(kindOf({ opened: null, kind: null }, on("connecting"), null), null);
  assert.equal(kindOf({ opened: null, kind: null }, on("behind"), null), null);
  assert.equal(kindOf({ opened, kind: "tether" }, on("behind"), null), "tether");
  assert.equal(kindOf({ opened, kind: "lapse" }, on("connecting"), null), "lapse");
});

test("where no session has begun, or its kind is not known here, a bracket's views are shown", () => {
  assert.equal(kindOf({ opened: null, kind: null }, on("live"), null), "bracket");
  assert.equal(kindOf({ opened: null, kind: null }, on("connecting"), "tether"), "bracket");
  assert.equal(kindOf({ opened, kind: null }, on("live"), null), "bracket");
  assert.equal(kindOf({ opened, kind: "toString" }, on("live"), null), "bracket");
});

/** Modules that come when the test says so, and a clock that it moves. */
function staged() {
  const asked = [];
  const waits = [];
  const told = [];
  const module = (name) => () =>
    new Promise((come, fail) =>
      asked.push({ name, come: () => come({ viewsOf: (page) => [name, page] }), fail: () => fail(new Error("gone")) }),
    );
  const edge = {
    modules: { lapse: module("lapse"), tether: module("tether") },
    setTimeout: (task, wait) => waits.push({ task, wait }),
  };
  return { asked, waits, told, kinds: createKinds("page", (missing) => told.push(missing), edge) };
}

const settled = () => new Promise((done) => setImmediate(done));

test("a kind's views are asked for once, and told when they have come", async () => {
  const { asked, told, kinds } = staged();
  assert.equal(kinds(null), null);
  assert.equal(asked.length, 0);
  assert.equal(kinds("lapse"), null);
  assert.equal(kinds("lapse"), null);
  assert.equal(asked.length, 1);
  asked[0].come();
  await settled();
  assert.deepEqual(told, [false]);
  const views = kinds("lapse");
  assert.deepEqual(views, ["lapse", "page"]);
  kinds("tether");
  assert.equal(kinds("lapse"), views);
  assert.deepEqual(asked.map(({ name }) => name), ["lapse", "tether"]);
});

test("views that did not come are told and asked for again after a while", async () => {
  const { asked, waits, told, kinds } = staged();
  kinds("tether");
  asked[0].fail();
  await settled();
  assert.deepEqual(told, [true]);
  assert.equal(kinds("tether"), null);
  assert.equal(asked.length, 1);
  assert.deepEqual(waits.map(({ wait }) => wait), [AGAIN_MS]);
  waits[0].task();
  assert.deepEqual(told, [true, true]);
  assert.equal(kinds("tether"), null);
  assert.equal(asked.length, 2);
  asked[1].come();
  await settled();
  assert.deepEqual(told, [true, true, false]);
  assert.deepEqual(kinds("tether"), ["tether", "page"]);
});

test("a part that did not come is an alarm, unless the program does not answer at all", () => {
  const state = { faults: [], at: null };
  assert.match(alarmsOf(state, { ...on("live"), refusal: null, missing: true })[0], /^A part of this page did not come/);
  const lost = alarmsOf(state, { ...on("lost"), refusal: null, missing: true });
  assert.deepEqual(lost, ["The program does not answer; trying again."]);
  assert.deepEqual(alarmsOf(state, { ...on("live"), refusal: null, missing: false }), []);
});
