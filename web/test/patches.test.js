import assert from "node:assert/strict";
import { test } from "node:test";
import { FIRST, LEAST, between, holdOf, keyed, moved, sized } from "../patches.js";

const whole = ({ left, top, width, height }) =>
  left >= 0 && top >= 0 && width >= LEAST && height >= LEAST && left + width <= 1 + 1e-6 && top + height <= 1 + 1e-6;

test("a rectangle is drawn from any corner to any other", () => {
  const wanted = { left: 0.2, top: 0.3, width: 0.4, height: 0.1 };
  for (const [from, to] of [
    [{ x: 0.2, y: 0.3 }, { x: 0.6, y: 0.4 }],
    [{ x: 0.6, y: 0.4 }, { x: 0.2, y: 0.3 }],
    [{ x: 0.6, y: 0.3 }, { x: 0.2, y: 0.4 }],
  ]) {
    assert.deepEqual(between(from, to), wanted);
  }
});

test("no way of drawing, moving or sizing leaves the picture", () => {
  for (const from of [-1, 0, 0.5, 1, 2]) {
    for (const to of [-3, 0, 0.4999, 1, 5]) {
      assert.ok(whole(between({ x: from, y: to }, { x: to, y: from })), `${from} ${to}`);
      assert.ok(whole(moved(FIRST, from, to)), `moved ${from} ${to}`);
      assert.ok(whole(sized(FIRST, from, to)), `sized ${from} ${to}`);
    }
  }
});

test("arrow keys move, with Shift they size, with Alt they do it finely", () => {
  assert.deepEqual(keyed(FIRST, "ArrowRight"), { ...FIRST, left: 0.45 });
  assert.deepEqual(keyed(FIRST, "ArrowUp", { alt: true }), { ...FIRST, top: 0.419 });
  assert.deepEqual(keyed(FIRST, "ArrowDown", { shift: true }), { ...FIRST, height: 0.17 });
  assert.equal(keyed(FIRST, "a"), null);
});

test("a corner is taken hold of before the inside, and holds its opposite still", () => {
  const near = { x: 0.02, y: 0.02 };
  const corner = holdOf(FIRST, { x: 0.57, y: 0.57 }, near);
  assert.equal(corner.kind, "corner");
  assert.deepEqual(corner.from, { x: FIRST.left, y: FIRST.top });
  assert.equal(holdOf(FIRST, { x: 0.5, y: 0.5 }, near).kind, "inside");
  assert.equal(holdOf(FIRST, { x: 0.1, y: 0.5 }, near).kind, "outside");
});
