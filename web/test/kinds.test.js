import assert from "node:assert/strict";
import { test } from "node:test";
import { createKinds, kindOf } from "../kinds.js";

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

test("a kind's views are made once, of the page, when the kind is first shown", () => {
  const made = [];
  const maker = (name) => (page) => {
    made.push(name);
    return [name, page];
  };
  const kinds = createKinds("page", { lapse: maker("lapse"), tether: maker("tether") });
  assert.deepEqual(kinds(null), []);
  assert.deepEqual(made, []);
  const views = kinds("lapse");
  assert.deepEqual(views, ["lapse", "page"]);
  assert.deepEqual(kinds("tether"), ["tether", "page"]);
  assert.equal(kinds("lapse"), views);
  assert.deepEqual(made, ["lapse", "tether"]);
});
