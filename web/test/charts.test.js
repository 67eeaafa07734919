import assert from "node:assert/strict";
import { test } from "node:test";
import { curvePath, holesPath, ratioScale, ratioTicks } from "../charts/coverage.js";
import { cuesOf, domainOf, scaleOf, ticksOf } from "../charts/axis.js";
import { columnsPath, endsOf, heightOf, perStop } from "../charts/columns.js";
import { MOST_ROWS, expectedReach, joined, openParts, rowsOf } from "../charts/reaches.js";

const reach = (low, high) => ({ low, high });

test("the domain holds all that is given and is never narrow", () => {
  const rows = [
    [[], 0, 18],
    [[8.1, 16.9], 6, 20],
    [[-4.9, 19.9], -6, 21],
    [[NaN, Infinity, 3], -4, 10],
  ];
  for (const [evs, low, high] of rows) {
    const domain = domainOf(evs);
    for (const ev of evs.filter(Number.isFinite)) {
      assert.ok(domain.low <= ev && ev <= domain.high, `${ev} in ${JSON.stringify(domain)}`);
    }
    assert.ok(domain.high - domain.low >= 14);
    assert.deepEqual(domain, { low, high });
  }
});

test("the scale is linear and its numerals stand at whole EVs apart from each other", () => {
  for (const wide of [300, 390, 520, 800, 1200]) {
    const scale = scaleOf({ low: -6, high: 21 }, 40, wide);
    assert.equal(scale.x(-6), 40);
    assert.equal(scale.x(21), wide);
    const { numerals } = ticksOf(scale, 100);
    assert.ok(numerals.length >= 3);
    numerals.slice(1).forEach(({ x }, i) => assert.ok(x - numerals[i].x >= 26, `at ${wide}`));
    const cues = cuesOf(scale, 7);
    cues.slice(1).forEach(({ x, word }, i) => {
      const gap = x - (word.length * 7) / 2 - (cues[i].x + (cues[i].word.length * 7) / 2);
      assert.ok(gap > 0, `${cues[i].word} and ${word} at ${wide}`);
    });
  }
});

test("a histogram's outline stands on its base and is closed", () => {
  const x = (ev) => ev * 10;
  const path = columnsPath({ fromEv: 0, binsPerStop: 1, shares: [0, 0.5, 0.5, 0, 0.001, 0] }, x, 100, 50);
  assert.equal(path, "M10 100V50H20V50H30V100ZM40 100V73.7H50V100Z");
  assert.equal(columnsPath({ fromEv: 0, binsPerStop: 6, shares: [] }, x, 100, 50), "");
  assert.equal(columnsPath({ fromEv: 0, binsPerStop: 6, shares: [0, NaN] }, x, 100, 50), "");
});

test("heights are logarithmic", () => {
  assert.equal(heightOf(0, 1), 0);
  assert.equal(heightOf(1e-6, 1), 0);
  assert.equal(heightOf(1, 1), 1);
  assert.ok(Math.abs(heightOf(1e-3, 1) - 0.5) < 1e-9);
});

test("a histogram's ends and its sums a stop", () => {
  const histogram = { fromEv: -2, binsPerStop: 2, shares: [0, 0.25, 0.25, 0, 0.5, 0] };
  assert.deepEqual(endsOf(histogram), [-1.5, 0.5]);
  assert.deepEqual(endsOf({ fromEv: 0, binsPerStop: 2, shares: [0, 0] }), []);
  assert.deepEqual(perStop(histogram), [
    { fromEv: -2, share: 0.25 },
    { fromEv: -1, share: 0.25 },
    { fromEv: 0, share: 0.5 },
  ]);
});

test("reaches that touch are one", () => {
  assert.deepEqual(joined([reach(8, 16), reach(-1, 8.005), reach(17, 19), reach(3, 3)]), [
    reach(-1, 16),
    reach(17, 19),
  ]);
  assert.deepEqual(joined([reach(0, 10), reach(2, 3)]), [reach(0, 10)]);
});

test("what is open is told by where it lies", () => {
  const rows = [
    [[reach(0, 20)], []],
    [[reach(8, 16)], ["below 3 8", "above 16 18"]],
    [[reach(0, 8), reach(9, 20)], ["between 8 9"]],
    [[reach(4, 5), reach(6, 7)], ["below 3 4", "between 5 6", "above 7 18"]],
    [[], ["all 3 18"]],
    [[reach(-9, 2)], ["all 3 18"]],
    [[reach(3.005, 18)], []],
  ];
  for (const [reaches, words] of rows) {
    const open = openParts(reach(3, 18), reaches);
    assert.deepEqual(open.map(({ where, low, high }) => `${where} ${low} ${high}`), words);
  }
});

test("a planned reach is the last frame's, moved, and narrower at a higher ISO", () => {
  const last = { ev: 14, iso: 100, reachLowEv: 8.135, reachHighEv: 16.903 };
  const moved = expectedReach({ exposure: { ev: 17, iso: 100 } }, last);
  assert.ok(Math.abs(moved.low - 11.135) < 1e-9 && Math.abs(moved.high - 19.903) < 1e-9);
  const raised = expectedReach({ exposure: { ev: 14, iso: 400 } }, last);
  assert.ok(Math.abs(raised.low - 10.135) < 1e-9 && Math.abs(raised.high - 16.903) < 1e-9);
  assert.deepEqual(expectedReach({ exposure: { ev: 14, iso: 100 }, reachLowEv: 8, reachHighEv: 17 }, last), reach(8, 17));
  assert.ok(expectedReach({ exposure: { ev: 14, iso: 100 } }, null).high > 16);
});

test("rows have a bound; earlier frames are drawn together", () => {
  const frames = Array.from({ length: 2000 }, (_, i) => ({
    index: i + 1,
    reachLowEv: i % 7,
    reachHighEv: (i % 7) + 8,
  }));
  const rows = rowsOf(frames);
  assert.equal(rows.length, MOST_ROWS);
  assert.equal(rows[0].frames.length, 2000 - MOST_ROWS + 1);
  assert.deepEqual(rows[0].parts, [reach(0, 14)]);
  assert.equal(rows.at(-1).frames[0].index, 2000);
  assert.equal(rowsOf(frames.slice(0, MOST_ROWS)).length, MOST_ROWS);
});

test("the coverage curve runs from dark to bright on a logarithmic scale", () => {
  const points = [{ ev: 0, best: 10, merged: 10 }, { ev: 2, best: 100, merged: 100 }];
  const y = ratioScale(points, 100, 0);
  assert.equal(y(1), 100);
  assert.equal(y(10), 50);
  assert.equal(y(100), 0);
  assert.equal(y(0), 100, "what every frame clips lies on the floor");
  assert.equal(curvePath(points, "best", (ev) => ev * 10, y), "M0 50L20 0");
  assert.deepEqual(ratioTicks(points), [1, 10, 100]);
});

test("holes are marked where no frame gives what was asked for", () => {
  const points = [4, 12, 30, 8, 20, 9].map((best, ev) => ({ ev, best, merged: best }));
  assert.equal(holesPath(points, 10, (ev) => 10 * ev, 5), "M0 5H10M30 5H40M50 5H53");
  assert.equal(holesPath(points, 3, (ev) => 10 * ev, 5), "");
});
