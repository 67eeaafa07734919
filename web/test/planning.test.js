import assert from "node:assert/strict";
import { test } from "node:test";
import { length, millimetres, speed } from "../format.js";
import { question, speedOf } from "../planning.js";

test("wishes are asked as the program reads them, and only those that are made", () => {
  assert.equal(
    question([["ev", "12"], ["near", "1.2"], ["highest-iso", "2"], ["filter-stops", "6"], ["water", ""]]),
    "ev=12&near=1.2&highest-iso=400&filter-stops=6",
  );
});

test("the ISO slider goes in whole stops from 100", () => {
  assert.deepEqual([0, 1, 7].map(speedOf), [100, 200, 12800]);
});

test("lengths and speeds have their units", () => {
  assert.equal(length(1.2), "1.2\u00a0m");
  assert.equal(length(40), "40\u00a0m");
  assert.equal(millimetres(24), "24\u00a0mm");
  assert.equal(speed(0.5), "0.5\u00a0m/s");
});
