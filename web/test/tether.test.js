import assert from "node:assert/strict";
import { test } from "node:test";
import { NOTHING, phaseOf, reduce } from "../session.js";
import { filtered, frameAt, referenceRow, sharpnessAgainst, trail, unnoted, weightOf } from "../tether.js";
import { apartWords, offsetsCaption, othersOf, rowsOf, verdictWords } from "../views/against.js";
import { phaseWords } from "../views/head.js";
import { fitted, lookHeading } from "../views/look.js";
import { fittingNote, noteWords } from "../views/marking.js";
import { alarmsOf, missedWords } from "../views/missed.js";
import { progressWords } from "../views/progress.js";
import { cellWords, filterWords } from "../views/strip.js";
import { numbered } from "./records.js";
import { LEVELS, alarm, frame, opened, warning } from "./tethered.js";

const plain = (text) => text.replaceAll("\u00a0", " ");
const after = (...records) => numbered(...records).reduce(reduce, NOTHING);
const reference = ["reference-marked", { file: "F_1.JPG", patch: { left: 0.4, top: 0.4, width: 0.1, height: 0.1 } }];

test("a tether waits, watches and ends", () => {
  assert.equal(phaseWords(after(opened())), "Waiting for the first frame");
  assert.equal(phaseWords(after(opened(), frame(1))), "Watching, no reference frame yet");
  const watching = after(opened(), frame(1), reference);
  assert.equal(phaseWords(watching), "Watching against F_1.JPG");
  assert.match(plain(progressWords(watching, { link: { state: "live" } })), /^1 frame · /);
  const ended = after(opened(), frame(1), ["report", { kind: "tether", stopped: "done", why: "Over." }]);
  assert.equal(phaseOf(ended), "ended");
  assert.equal(phaseWords(ended), "Ended: all that was asked for has come");
});

test("the verdict is the worst finding's", () => {
  assert.equal(weightOf([], null), "apart");
  assert.equal(weightOf([], {}), "fits");
  assert.equal(weightOf([{ weight: "warning" }], {}), "warning");
  assert.equal(weightOf([{ weight: "warning" }, { weight: "alarm" }], {}), "alarm");
});

test("a frame is said to be what it is", () => {
  const { tether } = after(opened(), frame(1), reference, frame(2), frame(3, warning()), frame(4, alarm()));
  const words = tether.frames.map((row) => verdictWords(tether, row));
  assert.deepEqual(words, ["The reference", "As the reference", "Warned", "Alarm"]);
  assert.match(apartWords(tether, tether.frames[0]), /held against this one/);
  assert.equal(apartWords(tether, tether.frames[3]), "");
  const without = after(opened(), frame(1)).tether;
  assert.equal(verdictWords(without, without.frames[0]), "Not compared");
  assert.match(apartWords(without, without.frames[0]), /No reference frame is marked yet/);
  assert.equal(verdictWords(NOTHING.tether, null), "No frame yet");
});

test("a raw file's numbers take the place of its JPEG's", () => {
  const { tether } = after(opened(), frame(1), frame(2), frame(2, warning()));
  assert.equal(tether.frames.length, 2);
  assert.equal(tether.frames[1].weight, "warning");
});

test("the last frame is followed, or one is stayed with", () => {
  const { tether } = after(opened(), frame(1), frame(2), frame(3));
  assert.equal(frameAt(tether, null).index, 3);
  assert.equal(frameAt(tether, 2).index, 2);
  assert.equal(frameAt(NOTHING.tether, null), null);
  assert.equal(lookHeading(tether, tether.frames[2], null), "Last frame, 3");
  assert.equal(lookHeading(tether, tether.frames[1], 2), "Frame 2");
});

test("filters let through what they name", () => {
  const { tether } = after(
    opened(), frame(1), reference, frame(2, warning()), frame(3, alarm()), frame(4),
    ["frame-marked", { file: "F_2.JPG", mark: "keep", note: "smile" }],
    ["frame-marked", { file: "F_3.JPG", mark: "keep", note: "" }],
    ["frame-marked", { file: "F_3.JPG", mark: "reject", note: "" }],
  );
  const shown = (filter) => filtered(tether, filter).map(({ index }) => index);
  assert.deepEqual(shown("all"), [1, 2, 3, 4]);
  assert.deepEqual(shown("warned"), [2]);
  assert.deepEqual(shown("alarmed"), [3]);
  assert.deepEqual(shown("kept"), [2]);
  assert.deepEqual(shown("rejected"), [3]);
  assert.equal(plain(filterWords("all", 4, 4)), "4 frames");
  assert.equal(plain(filterWords("kept", 1, 4)), "1 of 4 frames");
  assert.equal(noteWords(tether.frames[1], tether.marks), "Note: smile");
  assert.match(cellWords(tether, tether.frames[1]), /^Frame 2, Warned, .*, kept, note: smile$/);
});

test("what hangs from the axis has its own level and its own verdict", () => {
  const { tether } = after(opened(), frame(1), reference, frame(2, warning()));
  const [light, red, blue] = rowsOf(tether.frames[1], LEVELS);
  assert.deepEqual([light.name, light.value, light.weight], ["Patch", "−0.15", "warning"]);
  assert.ok(Math.abs(red.stops - Math.log2(1.004)) < 1e-12);
  assert.deepEqual([red.weight, blue.weight], ["fits", "fits"]);
  assert.ok(Math.abs(blue.levels.alarm - Math.log2(1.04)) < 1e-12);
  assert.equal(
    plain(offsetsCaption(tether.frames[1])),
    "The patch is 0.15 stop darker; against green, red +0.4 %, blue −1.2 %.",
  );
});

test("only the colour that is off is marked", () => {
  const off = { findings: [{ kind: "colour", weight: "alarm", amount: -0.06, words: "Off." }], blueToGreen: -0.06 };
  const { tether } = after(opened(), frame(1), reference, frame(2, off));
  assert.deepEqual(rowsOf(tether.frames[1], LEVELS).map(({ weight }) => weight), ["fits", "fits", "alarm"]);
});

test("sharpness is told against the median of the reference and those before", () => {
  const { tether } = after(
    opened(), frame(1, { sharpness: 0.01 }), reference,
    frame(2, { sharpness: 0.02 }), frame(3, { sharpness: 0.012 }), frame(4, { sharpness: 0.006 }),
  );
  assert.ok(Math.abs(sharpnessAgainst(tether, tether.frames[3]) - (0.006 / 0.012 - 1)) < 1e-12);
  assert.equal(referenceRow(tether).index, 1);
  assert.deepEqual(othersOf(tether, tether.frames[3]).map(([name]) => name), ["Clipped", "Sharpness", "Settings"]);
});

test("the trail goes back to the change of the reference frame, and no farther than is looked at", () => {
  const { tether } = after(
    opened(), frame(1), reference, frame(2), frame(3),
    ["reference-marked", { file: "F_3.JPG" }], frame(4, { against: "F_3.JPG" }), frame(5, { against: "F_3.JPG" }),
  );
  assert.deepEqual(trail(tether, tether.frames[4]).map(({ index }) => index), [4, 5]);
  assert.deepEqual(trail(tether, tether.frames[2]).map(({ index }) => index), [2, 3]);
  assert.deepEqual(trail(tether, tether.frames[2], 1).map(({ index }) => index), [3]);
});

test("alarms stand until they are noted", () => {
  const state = after(opened(), frame(1), reference, frame(2, alarm()), frame(3), frame(4, alarm()));
  const { tether } = state;
  assert.deepEqual(unnoted(tether, 0).map(({ index }) => index), [4, 2]);
  assert.deepEqual(unnoted(tether, 2).map(({ index }) => index), [4]);
  assert.equal(
    plain(missedWords(alarmsOf(state, 0))),
    "Frame 4, F_4.JPG: The whole frame is 1.6 stops darker. Before it, 1 alarm more.",
  );
  assert.equal(missedWords([]), "");
});

test("a note fits into a request", () => {
  assert.equal(fittingNote("  smile "), "smile");
  assert.ok(new TextEncoder().encode(fittingNote("光".repeat(400))).length <= 600);
});

test("a picture is as large as its room lets it be", () => {
  assert.deepEqual(fitted({ width: 600, height: 1000 }, { width: 1500, height: 1000 }), { width: 600, height: 400 });
  assert.deepEqual(fitted({ width: 600, height: 200 }, { width: 1500, height: 1000 }), { width: 300, height: 200 });
  assert.deepEqual(fitted({ width: 600, height: Infinity }, { width: 2, height: 3 }), { width: 600, height: 900 });
});
