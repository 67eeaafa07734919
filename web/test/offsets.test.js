import assert from "node:assert/strict";
import { test } from "node:test";
import { halfOf, offsetScale, offsetTicks, shapePath, stopsOf, trailPath } from "../charts/offsets.js";

test("a ratio in stops: twice is one, half is minus one", () => {
  assert.equal(stopsOf(1), 1);
  assert.equal(stopsOf(-0.5), -1);
  // A change of 2 % is log2 1.02 = 0.02857 stop [computed].
  assert.ok(Math.abs(stopsOf(0.02) - 0.02857) < 1e-5);
});

test("the axis is as narrow as what it shows allows, and shows where the alarm begins", () => {
  assert.equal(halfOf([0.05, -0.1], 0.2), 0.3);
  assert.equal(halfOf([0.05], 0.3), 0.6);
  assert.equal(halfOf([-1.6], 0.2), 2.4);
  assert.equal(halfOf([-9], 0.2), 4.8);
  assert.equal(halfOf([Number.NaN], 0.2), 0.3);
});

test("zero stands in the middle, and what is beyond the axis at its end", () => {
  const scale = offsetScale(0.3, 100, 400);
  assert.equal(scale.x(0), 250);
  assert.equal(scale.x(0.3), 400);
  assert.equal(scale.x(-7), 100);
  assert.ok(scale.beyond(-7) && !scale.beyond(0.3));
  const { numerals } = offsetTicks(scale, 0);
  assert.equal(numerals.length, 7);
  assert.equal(numerals[3].stops, 0);
});

test("every verdict has a shape of its own", () => {
  const shapes = ["alarm", "warning", "fits", "apart"].map((weight) => shapePath(weight, 10, 10, 12));
  assert.equal(new Set(shapes).size, 4);
});

test("a trail breaks where nothing is told", () => {
  const scale = offsetScale(1, 0, 100);
  assert.equal(trailPath([0, Number.NaN, 1, 1], scale, 0, 10), "M50 0M100 20L100 30");
});
