import assert from "node:assert/strict";
import { test } from "node:test";
import { WHOLE, detailAddress, holds, mostOf, panned, partOf, toggledAt, wantsDetail, zoomedAt } from "../zoom.js";

const MOST = 8;
const near = (one, other) => assert.ok(Math.abs(one - other) < 1e-9, `${one} ${other}`);

test("what lies under the finger stays under it", () => {
  const point = { x: 0.7, y: 0.2 };
  let view = zoomedAt(WHOLE, 2, { x: 0.5, y: 0.5 }, MOST);
  const under = (v) => [v.left + point.x / v.scale, v.top + point.y / v.scale];
  const before = under(view);
  view = zoomedAt(view, 1.7, point, MOST);
  under(view).forEach((value, i) => near(value, before[i]));
});

test("no way of zooming or moving leaves the picture or goes beyond 100 %", () => {
  for (const factor of [0, 0.3, 1, 5, 100]) {
    for (const way of [-5, -0.1, 0, 0.4, 9]) {
      const { scale, left, top } = panned(zoomedAt(WHOLE, factor, { x: 1, y: 0 }, MOST), way, -way, MOST);
      assert.ok(scale >= 1 && scale <= MOST);
      assert.ok(left >= 0 && top >= 0 && left + 1 / scale <= 1 + 1e-9 && top + 1 / scale <= 1 + 1e-9);
    }
  }
});

test("a double touch goes to 100 % and back", () => {
  const close = toggledAt(WHOLE, { x: 0.5, y: 0.5 }, MOST);
  assert.equal(close.scale, MOST);
  near(close.left + 0.5 / MOST, 0.5);
  assert.deepEqual(toggledAt(close, { x: 0.1, y: 0.1 }, MOST), WHOLE);
});

test("at 100 % a pixel of the frame is a pixel of the screen", () => {
  assert.equal(mostOf(6000, 750, 1), 8);
  assert.equal(mostOf(6000, 750, 2), 4);
  assert.equal(mostOf(600, 750, 1), 1);
});

test("detail is asked for only where the preview has too few pixels", () => {
  assert.ok(!wantsDetail({ scale: 2 }, 750, 1, 1500));
  assert.ok(wantsDetail({ scale: 2.2 }, 750, 1, 1500));
});

test("the part that is asked for holds what is seen and lies in the picture", () => {
  for (const view of [zoomedAt(WHOLE, 8, { x: 0, y: 0 }, 8), zoomedAt(WHOLE, 8, { x: 1, y: 1 }, 8), zoomedAt(WHOLE, 3, { x: 0.3, y: 0.6 }, 8)]) {
    const part = partOf(view, { width: 6000, height: 4000 });
    for (const value of [part.left * 6000, part.top * 4000, part.width * 6000, part.height * 4000]) {
      assert.ok(Math.abs(value - Math.round(value)) < 1e-6, "whole pixels");
    }
    assert.ok(holds(part, view));
    assert.ok(part.left >= 0 && part.top >= 0 && part.left + part.width <= 1 + 1e-9 && part.top + part.height <= 1 + 1e-9);
    assert.match(detailAddress("A B.JPG", part), /^frames\/A%20B\.JPG\?left=[01](\.\d{9})?&top=/);
  }
  assert.match(detailAddress("A.JPG", { left: 0, top: 0, width: 1, height: 1 }), /width=1&height=1$/);
});
