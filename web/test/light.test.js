import assert from "node:assert/strict";
import { test } from "node:test";
import { DOMAIN, medianOf, sharesOf, shownOf } from "../charts/light.js";
import { lightCaption } from "../views/light.js";

const bins = (filled) => {
  const counts = Array(97).fill(0);
  for (const [bin, count] of Object.entries(filled)) counts[bin] = count;
  return { from: -16, binsPerStop: 6, counts };
};

test("no pixel is lost on the way to the chart", () => {
  const shown = shownOf(sharesOf(bins({ 0: 10, 30: 40, 90: 30, 96: 20 })));
  assert.equal(shown.fromEv, DOMAIN.low);
  assert.equal(shown.shares.length, 72);
  assert.ok(Math.abs(shown.shares.reduce((a, b) => a + b, 0) - 1) < 1e-12);
  assert.ok(Math.abs(shown.shares[0] - 0.1) < 1e-12, "what is darker stands at its left end");
  assert.ok(Math.abs(shown.shares[71] - 0.2) < 1e-12, "what is saturated at its right end");
});

test("the middle is where half of the pixels are darker", () => {
  assert.equal(medianOf(sharesOf(bins({ 78: 100 }))), -16 + 78.5 / 6);
  assert.equal(sharesOf(bins({})), null);
  assert.equal(sharesOf(null), null);
});

test("the caption tells both middles", () => {
  const now = sharesOf(bins({ 78: 100 }));
  const then = sharesOf(bins({ 84: 100 }));
  assert.equal(
    lightCaption(now, then),
    "The frame's light in stops, saturation at 0. Its middle lies at −2.9; of the reference frame, drawn as a line, at −1.9.",
  );
  assert.doesNotMatch(lightCaption(now, null), /reference/);
});
