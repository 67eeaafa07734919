import assert from "node:assert/strict";
import { test } from "node:test";
import { NOTHING, reduce } from "../session.js";
import { alarmsOf } from "../views/alarms.js";
import { coverCaption, coverOf } from "../views/cover.js";
import { coverageCaption } from "../views/coverage.js";
import { frameCaption } from "../views/frame.js";
import { phaseWords } from "../views/head.js";
import { shotWords } from "../views/log.js";
import { nextWords } from "../views/next.js";
import { progressWords } from "../views/progress.js";
import { sample } from "./records.js";

const upTo = (count) => sample.slice(0, count).reduce(reduce, NOTHING);
const plain = (text) => text.replaceAll("\u00a0", " ");
const live = { link: { state: "live", last: 1, newest: 1 }, refusal: null };
const first = (type, from = 0) => sample.findIndex((record, i) => i >= from && record.type === type) + 1;

test("before anything the page says so", () => {
  assert.equal(phaseWords(NOTHING), "Waiting for the session");
  assert.equal(nextWords(NOTHING).why, "The session has not begun.");
  assert.match(coverCaption(NOTHING, coverOf(NOTHING)), /No frame has been measured yet/);
  assert.equal(progressWords(NOTHING, live), "");
});

test("a planned shot is told with its reason", () => {
  const words = nextWords(upTo(first("shot-planned")));
  assert.equal(plain(words.large), "1/250 s");
  assert.equal(plain(words.rest), "f/8   ISO 100   EV 14.0");
  assert.match(words.why, /two stops under/);
});

test("the change against the last frame has its direction in words", () => {
  const words = nextWords(upTo(first("shot-planned", first("frame-accepted"))));
  assert.equal(plain(words.change), "3.0 stops darker than the last frame");
});

test("the cover is told as it grows", () => {
  const one = upTo(first("span-estimated"));
  const caption = plain(coverCaption(one, coverOf(one)));
  assert.match(caption, /1 frame holds a part of it: open below by \d\.\d stops, open above by \d\.\d stops\./);
  assert.match(caption, /The dark and the bright end are guesses so far\./);
  const all = upTo(sample.length);
  assert.match(plain(coverCaption(all, coverOf(all))), /4 frames hold all of it\.$/);
});

test("the open ends that are drawn are those that the program found", () => {
  for (const record of sample.filter(({ type }) => type === "span-estimated")) {
    const state = upTo(record.seq);
    const { open } = coverOf(state);
    const sum = (where) =>
      open.filter((part) => part.where === where).reduce((all, { low, high }) => all + high - low, 0);
    assert.ok(Math.abs(sum("below") - record.openBelowStops) < 0.02, `below at ${record.seq}`);
    assert.ok(Math.abs(sum("above") - record.openAboveStops) < 0.02, `above at ${record.seq}`);
  }
});

test("a lost shot is an alarm until the next frame", () => {
  const lost = first("shot-lost");
  assert.match(alarmsOf(upTo(lost), live)[0], /Shot 2 is lost: no frame arrived/);
  assert.deepEqual(alarmsOf(upTo(first("frame-accepted", lost)), live), []);
});

test("a broken line is an alarm that says how old the page is", () => {
  const alarms = alarmsOf(upTo(5), { link: { state: "lost", last: 5, newest: 5 }, refusal: null });
  assert.match(alarms[0], /does not answer; trying again\. What is shown is from \d\d:55:1\d\./);
  const behind = { link: { state: "behind", last: 5, newest: 9 }, refusal: null };
  assert.match(plain(progressWords(upTo(5), behind)), /catching up, 4 records behind/);
});

test("the end is told with the frames and the time", () => {
  const words = nextWords(upTo(sample.length));
  assert.equal(words.large, "Covered");
  assert.equal(plain(words.rest), "4 frames in 0:45");
  const open = reduce(upTo(10), {
    seq: 11,
    type: "report",
    covered: false,
    stopped: "limit",
    why: "x",
    openBelowStops: 1.5,
    openAboveStops: 0,
    elapsedSeconds: 9,
  });
  assert.equal(nextWords(open).large, "Open");
  assert.match(plain(nextWords(open).rest), /open below by 1\.5 stops/);
  assert.equal(phaseWords(open), "Ended with a part of the scene open");
});

test("a camera's own exposure is told as such until its frame says what it was", () => {
  const opened = { seq: 1, at: "2026-11-25T07:00:00Z", type: "session-opened", kind: "bracket", goal: {} };
  const planned = { seq: 2, at: opened.at, type: "shot-planned", shot: 1, attempt: 1, reason: "see what it brings", settles: "" };
  const commanded = { seq: 3, at: opened.at, type: "shot-commanded", shot: 1, attempt: 1 };
  const before = [opened, planned].reduce(reduce, NOTHING);
  assert.equal(nextWords(before).heading, "Next release");
  assert.match(nextWords(before).rest, /as the camera exposes/);
  assert.equal(nextWords(before).why, "see what it brings");
  assert.equal(shotWords(before.entries[0]), "Shot 1: as the camera exposes");
  assert.equal(coverOf(before).rows.length, 0, "nothing is drawn of an exposure that is not known");
  assert.equal(nextWords(reduce(before, commanded)).heading, "Released: shot 1");
});

test("a frame's caption sets raw against JPEG where both are there", () => {
  const { last } = upTo(first("frame-accepted"));
  const jpeg = { file: "SCN_0001.JPG", clippedFraction: 0.02, belowFloorFraction: 0.4 };
  assert.match(
    plain(frameCaption({ ...last, clippedFraction: 0.03, jpeg })),
    /Clipped 3 % in the raw file, 2 % in its JPEG, below/,
  );
});

test("a frame's caption tells what it lost", () => {
  assert.match(plain(frameCaption(upTo(first("frame-accepted")).last)), /SCN_0001\.jpg: 1\/250 s  f\/8  ISO 100\. Clipped 0\.\d\d %, below the floor 3\d %\./);
});

test("a planned shot says what it is expected to settle and what is left", () => {
  const records = [
    ["session-opened", { kind: "bracket", goal: { snr: 10 } }],
    ["shot-planned", { shot: 1, exposure: { shutterSeconds: 0.004, aperture: 8, iso: 100, ev: 14 }, reason: "x", settles: "how far the highlights go", framesLeft: 2, secondsLeft: 3.4 }],
  ].map(([type, fields], i) => ({ seq: i + 1, at: "2026-05-04T03:00:00Z", type, ...fields }));
  const words = nextWords(records.reduce(reduce, NOTHING));
  assert.equal(words.settles, "It is expected to settle how far the highlights go.");
  assert.equal(plain(words.left), "Probably 2 frames to go, about 3.4 s.");
});

test("a plan from before its outlook was written says nothing of it", () => {
  const words = nextWords(upTo(first("shot-planned")));
  assert.equal(words.settles, "");
  assert.equal(words.left, "");
});

test("the coverage at the end is told, and a hole is named", () => {
  const report = { coverage: [{ ev: 4, best: 10.4, merged: 10.6 }, { ev: 9, best: 61, merged: 63 }], holes: [] };
  const state = { ...NOTHING, opened: { goal: { snr: 10 } }, report };
  assert.equal(
    plain(coverageCaption(state)),
    "From EV 4.0 to EV 9.0 the best frame gives a signal-to-noise of at least 10; 10 was asked for. There is no hole.",
  );
  const open = { ...state, report: { ...report, holes: ["From EV 9.0 to EV 11.0 every frame is clipped."] } };
  assert.match(coverageCaption(open), /^From EV 9\.0 to EV 11\.0 every frame is clipped\./);
  assert.equal(coverageCaption(NOTHING), "");
});

test("frames that add nothing are named at the end", () => {
  const report = { covered: true, why: "x", elapsedSeconds: 3, frames: [{ index: 1, inSet: false }, { index: 2, inSet: true }] };
  assert.equal(nextWords({ ...NOTHING, report }).left, "Frame 1 adds nothing and can be left out of the set.");
});
