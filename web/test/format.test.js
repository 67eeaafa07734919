import assert from "node:assert/strict";
import { test } from "node:test";
import * as format from "../format.js";

// Nominal values and their writing: the third-stop series as it stands on dials [practice].
const ROWS = {
  shutter: [[0.008, "1/125 s"], [0.000125, "1/8000 s"], [1 / 15, "1/15 s"], [0.25, "1/4 s"], [0.3, "0.3 s"], [0.8, "0.8 s"], [1, "1 s"], [1.3, "1.3 s"], [30, "30 s"], [125, "125 s"], [0, "–"], [NaN, "–"], [undefined, "–"]],
  aperture: [[8, "f/8"], [5.6, "f/5.6"], [22, "f/22"], [1.4, "f/1.4"], [null, "f/–"]],
  iso: [[100, "ISO 100"], [12800, "ISO 12800"], [undefined, "ISO –"]],
  ev: [[13, "EV 13.0"], [-1.72, "EV −1.7"], [-0.04, "EV 0.0"], [NaN, "EV –"]],
  stops: [[1.3, "+1.3"], [-0.3, "−0.3"], [0, "0.0"], [0.04, "0.0"], [-0.04, "0.0"]],
  width: [[8.768, "8.8 stops"], [-1, "1.0 stop"], [0.3, "0.3 stops"]],
  share: [[0, "0 %"], [0.0001, "0.01 %"], [0.00005, "under 0.01 %"], [0.0043, "0.43 %"], [0.012, "1.2 %"], [0.31, "31 %"], [0.9999, "over 99 %"], [1, "100 %"]],
  duration: [[0, "0:00"], [41.9, "0:41"], [725, "12:05"], [3723, "1:02:03"]],
};

for (const [name, rows] of Object.entries(ROWS)) {
  test(`writes ${name}`, () => {
    for (const [value, text] of rows) {
      assert.equal(format[name](value).replaceAll("\u00a0", " "), text, String(value));
    }
  });
}

test("writes an exposure, a count and a time of day", () => {
  const text = format.exposure({ shutterSeconds: 0.004, aperture: 8, iso: 100 });
  assert.equal(text.replaceAll("\u00a0", " "), "1/250 s  f/8  ISO 100");
  assert.equal(format.count(1, "frame"), "1\u00a0frame");
  assert.equal(format.count(2, "frame"), "2\u00a0frames");
  assert.match(format.clock("2026-11-25T06:55:12.400Z"), /^\d\d:55:12$/);
  assert.equal(format.clock("nonsense"), "–");
});
