import assert from "node:assert/strict";
import { test } from "node:test";
import { frameOf, framesOf } from "../frames.js";
import { NOTHING, reduce } from "../session.js";
import { lightWords } from "../views/frame.js";
import { cellWords, standOf, verdictOf } from "../views/roll.js";
import { numbered, sample } from "./records.js";

const plain = (text) => text.replaceAll("\u00a0", " ");
const bracket = sample.reduce(reduce, NOTHING);

test("the frame that was chosen is shown, the newest for none or for one that is not kept", () => {
  assert.equal(framesOf(bracket).length, bracket.frames.length);
  assert.equal(frameOf(bracket, 1), bracket.frames[0]);
  assert.equal(frameOf(bracket, null), bracket.frames.at(-1));
  assert.equal(frameOf(bracket, 999), bracket.frames.at(-1));
  assert.equal(frameOf(NOTHING, null), null);
});

test("a lapse's frame stands by how far it is off, a bracket's by whether the set needs it", () => {
  assert.deepEqual([0.1, -0.4, 0.7, null].map((off) => standOf({ off })), ["fits", "warning", "alarm", "apart"]);
  assert.deepEqual([false, true].map((spare) => standOf({ clippedFraction: 0.2 }, spare)), ["fits", "apart"]);
  assert.equal(plain(verdictOf({ off: -0.4 })), "0.40 stop darker than meant");
  assert.equal(verdictOf({ off: null }), "not measured");
  const row = { clippedFraction: 0.14, belowFloorFraction: 0.09 };
  assert.equal(plain(verdictOf(row)), "clipped 14 %, below the floor 9 %");
  assert.equal(plain(verdictOf(row, true)), "clipped 14 %, below the floor 9 %, adds nothing to the set");
});

test("a frame of the roll says what was said of it", () => {
  assert.equal(cellWords({ index: 3, off: 0 }, { mark: "keep", note: "the best" }), "Frame 3, as bright as meant, kept, note: the best");
  assert.equal(cellWords({ index: 3, off: 0 }, undefined), "Frame 3, as bright as meant");
});

test("marks are kept of any session", () => {
  const [opened] = numbered(["session-opened", { kind: "lapse", session: "dawn", intervalSeconds: 10, frames: 60 }]);
  const marked = { seq: 2, at: opened.at, type: "frame-marked", file: "S_1.JPG", mark: "keep", note: "" };
  assert.deepEqual([opened, marked].reduce(reduce, NOTHING).tether.marks["S_1.JPG"], { mark: "keep", note: "" });
});

test("a frame's light is told in words", () => {
  assert.equal(lightWords(null), "");
  const histogram = { from: -16, binsPerStop: 1, counts: [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 10, 0, 0, 0, 0] };
  assert.equal(plain(lightWords({ histogram })), "Its light in stops, saturation at 0; the middle lies at −3.5.");
});
