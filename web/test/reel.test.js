import assert from "node:assert/strict";
import { test } from "node:test";
import { BEYOND, PITCH, placeAfter, scrolledTo, window } from "../reel.js";

test("of two thousand frames only those in sight are drawn", () => {
  for (const scrolled of [0, 1, 50_000, 2000 * PITCH - 1200]) {
    const { first, end } = window({ scrolled, wide: 1200, count: 2000 });
    assert.ok(end - first <= Math.ceil(1200 / PITCH) + 1 + 2 * BEYOND, `${scrolled}: ${end - first}`);
    assert.ok(first * PITCH <= scrolled && end * PITCH >= Math.min(scrolled + 1200, 2000 * PITCH));
  }
  assert.deepEqual(window({ scrolled: 0, wide: 1200, count: 0 }), { first: 0, end: 0 });
  // A strip that has become shorter than it is scrolled.
  assert.deepEqual(window({ scrolled: 9000, wide: 900, count: 3 }), { first: 3, end: 3 });
});

test("a frame is brought into sight whole, and one that is in sight stays", () => {
  assert.equal(scrolledTo({ scrolled: 0, wide: 10 * PITCH, place: 5 }), 0);
  assert.equal(scrolledTo({ scrolled: 0, wide: 10 * PITCH, place: 10 }), PITCH);
  assert.equal(scrolledTo({ scrolled: 9 * PITCH, wide: 10 * PITCH, place: 2 }), 2 * PITCH);
});

test("keys go along the strip and not beyond it", () => {
  const strip = { count: 50, wide: 10 * PITCH };
  assert.equal(placeAfter("ArrowRight", 3, strip), 4);
  assert.equal(placeAfter("ArrowLeft", 0, strip), 0);
  assert.equal(placeAfter("PageDown", 3, strip), 12);
  assert.equal(placeAfter("End", 3, strip), 49);
  assert.equal(placeAfter("Home", 3, strip), 0);
  assert.equal(placeAfter("x", 3, strip), null);
  assert.equal(placeAfter("End", 0, { count: 0, wide: 100 }), null);
});
