import assert from "node:assert/strict";
import { test } from "node:test";
import { crossesPath, linePath, perRow, seenOf, stepPath, timeScale, timeTicks } from "../charts/course.js";
import { NO_LAPSE, frameWords, nextPlace, sunAt, thinned, twilightOf } from "../lapse.js";
import { NO_OUTLOOK, clockOffset, createOutlook } from "../outlook.js";
import { NOTHING, phaseOf, reduce } from "../session.js";
import { courseCaption, spanOf } from "../views/course.js";
import { frameCaption } from "../views/frame.js";
import { phaseWords } from "../views/head.js";
import { alarmsOf, missedWords } from "../views/missed.js";
import { progressWords } from "../views/progress.js";
import { changeWords, compass, countdownWords, nextCrossing, reportRows, runningRows, sunWords, vigilWords } from "../views/vigil.js";
import { numbered } from "./records.js";

const plain = (text) => text.replaceAll("\u00a0", " ");
const START = "2026-11-25T07:00:10Z";
const opened = ["session-opened", { kind: "lapse", session: "dawn", source: "camera", intervalSeconds: 10, frames: 60 }];
const began = ["lapse-began", { start: START, believed: 3 }];
const ramped = (shot, given = {}) => [
  "shot-ramped",
  {
    shot,
    place: given.place ?? shot,
    seconds: ((given.place ?? shot) - 1) * 10,
    exposure: { shutterSeconds: given.shutterSeconds ?? 2, aperture: 2.8, iso: given.iso ?? 100, ev: given.ev ?? 2 },
    wish: -1,
    forecast: 1,
    wanted: 2.05,
    blind: false,
    reason: "The scene is expected at EV 1.0.",
  },
];
const matched = (shot, given = {}) => [
  "frame-matched",
  {
    shot,
    matched: "exposure",
    late: given.late ?? false,
    exposure: { shutterSeconds: 2, aperture: 2.8, iso: 100, ev: 2 },
    brightnessStops: given.brightness ?? -1.1,
    frame: { file: `S_${shot}.JPG`, clippedFraction: { any: 0.01 }, crushedFraction: { all: 0 } },
  },
];
const after = (...records) => numbered(...records).reduce(reduce, NOTHING);

test("a lapse's records make its course, its frames and its counts", () => {
  const state = after(opened, began, ramped(1), matched(1), ramped(2, { shutterSeconds: 1.6, ev: 2.3 }), ["shot-lost", { shot: 2, reason: "no frame" }], ["places-skipped", { from: 3, to: 4, reason: "the trigger was away" }], ramped(3, { place: 5 }));
  assert.deepEqual(
    state.lapse.course.map(({ place, light, set }) => [place, light, set]),
    [[1, 0.8999999999999999, 2], [2, null, 2.3], [5, null, 2]],
  );
  assert.deepEqual(state.lapse.counts, { shots: 3, framed: 1, lost: 1, refused: 0, skipped: 2 });
  assert.equal(plain(frameWords(state)), "1 of 60 frames, 1 lost, 2 not taken");
  assert.equal(state.faults.length, 0, "one lost frame of a lapse is no fault that stands");
  assert.equal(nextPlace(state), 6);
  assert.equal(phaseOf(state), "running");
  assert.equal(plain(phaseWords(state)), "A frame each 10 s");
  assert.equal(state.last.index, 1);
  assert.match(plain(frameCaption(state.last)), /^Frame 1, S_1\.JPG: 2 s {2}f\/2\.8 {2}ISO 100, 0\.10 stop darker than meant\. Clipped 1 %, crushed 0 %\.$/);
});

test("only a changed setting is told, not each of a thousand shots", () => {
  const state = after(opened, began, ramped(1), ramped(2), ramped(3), ramped(4, { iso: 200 }));
  assert.deepEqual(state.entries.map(({ shot }) => shot), [1, 4]);
});

test("a late frame of a lost shot is lost no more, and one of long ago is only counted", () => {
  const state = after(opened, began, ramped(1), ["shot-lost", { shot: 1, reason: "no frame" }], matched(1, { late: true }), matched(77));
  assert.deepEqual(state.lapse.counts, { shots: 1, framed: 2, lost: 0, refused: 0, skipped: 0 });
  assert.equal(state.lapse.frames.length, 1);
});

test("a page that opens in the middle goes on from what it is told in short", () => {
  const course = { place: [1, 2], light: [1, null], set: [2, 2.1], wanted: [2, 2] };
  const records = numbered(opened, began, ramped(3));
  const soFar = { seq: 2.5, type: "lapse-so-far", course, shots: 2, framed: 1, lost: 1, refused: 0, skipped: 0 };
  const state = [records[0], records[1], soFar, records[2]].reduce(reduce, NOTHING);
  assert.deepEqual(state.lapse.course.map(({ place }) => place), [1, 2, 3]);
  assert.equal(state.lapse.counts.shots, 3);
  assert.equal(state.seq, 3);
});

test("a long course is thinned, its newest points and its peaks stay", () => {
  const course = Array.from({ length: 10_000 }, (_, i) => ({ place: i + 1, light: i === 4_321 ? 17 : i === 5_432 ? null : i / 1_000, set: i === 777 ? -9 : i / 1_000, wanted: 0 }));
  const fewer = thinned(course);
  assert.ok(fewer.length <= 1_500, `${fewer.length}`);
  for (const place of [1, 778, 4_322, 9_601, 10_000]) assert.ok(fewer.some((point) => point.place === place), `${place}`);
  assert.deepEqual(fewer.slice(-400), course.slice(-400));
  assert.equal(thinned(course.slice(0, 3_000)).length, 3_000);
});

test("alarms stand until they are noted, and are told in their own words", () => {
  const state = after(opened, began, ["alarm-raised", { kind: "blind", words: "No frame has come." }], ["alarm-ended", { kind: "blind", words: "Frames arrive again." }], ["alarm-raised", { kind: "dew", words: "The pictures lose contrast." }]);
  assert.equal(plain(missedWords(alarmsOf(state, 0))), "The pictures lose contrast. Before it, 1 alarm more.");
  assert.equal(missedWords(alarmsOf(state, 3)), "The pictures lose contrast.");
  assert.equal(missedWords(alarmsOf(state, 5)), "");
  assert.notEqual(state.lapse.alarms[0].endedAt, null);
  assert.equal(state.lapse.alarms[1].endedAt, null);
});

test("the report ends it, and its thousand lines are not kept", () => {
  const report = { kind: "lapse", stopped: "done", why: "All 60 frames have come.", frames: [{ index: 1 }], rmsErrorStops: 0.1034, largestErrorStops: 0.265, sigmaStops: 0.09, evenedSigmaStops: 0.0053, evenedLargestStops: 0.0108, settingChanges: 56, framesLost: 1, placesSkipped: 0, elapsedSeconds: 600 };
  const state = after(opened, began, ramped(1), matched(1), ["report", report]);
  assert.deepEqual(state.report.frames, []);
  assert.deepEqual(vigilWords(state), { heading: "Result", large: "Ended", rest: "All 60 frames have come.", why: "" });
  assert.equal(plain(reportRows(state.report)[2][1]), "0.0053 stop (σ), 0.0108 stop at most");
  assert.equal(plain(reportRows(state.report)[4][1]), "1 frame, 0 places");
});

test("what is to come is told with its time", () => {
  const state = after(opened, began, ramped(1), matched(1));
  const now = Date.parse(START) + 3_200;
  assert.equal(countdownWords(state, now), "0:07");
  assert.equal(countdownWords({ ...state, held: true }, now), "");
  const change = { seconds: 130, shutterSeconds: 1.6, iso: 100 };
  assert.match(plain(changeWords(change, 3.2, Date.parse(START))), /^1\.6 s {2}ISO 100 in about 2 min, at \d\d:\d\d$/);
  assert.equal(changeWords(null, 3, 0), "none in sight");
  const rows = runningRows(state, NO_OUTLOOK, now).map(([name, words]) => `${name}: ${plain(words)}`);
  assert.deepEqual(rows, ["Next change: none in sight", "Frames: 1 of 60 frames", "Time left: 9:56", "Last frame: 0.10 stop darker than meant"]);
  assert.equal(plain(progressWords(state, { link: { state: "live" } })).split(" · ")[0], "1 of 60 frames");
});

test("where the sun stands is a line between what was told", () => {
  const sun = { seconds: [0, 100], altitude: [-7, -5], azimuth: [359, 1], crossings: [{ seconds: 50, horizon: "civil", rising: true }] };
  assert.deepEqual(sunAt(sun, 50), { altitude: -6, azimuth: 0 });
  assert.deepEqual(sunAt(sun, 900), { altitude: -5, azimuth: 1 });
  assert.equal(sunAt(null, 5), null);
  assert.equal(sunWords({ altitude: -4.23, azimuth: 52 }), "4.2° below the horizon, in the northeast (52°); civil twilight");
  assert.equal(sunWords(null), "");
  assert.match(nextCrossing(sun, 10, 0), /^civil dawn at \d\d:\d\d$/);
  assert.equal(nextCrossing(sun, 60, 0), "");
  assert.deepEqual([10, -0.5, -7, -13, -20].map(twilightOf), ["day", "civil twilight", "nautical twilight", "astronomical twilight", "night"]);
  assert.deepEqual([0, 44, 181, 359].map(compass), ["north", "northeast", "south", "north"]);
});

test("time hangs down from the axis, and its ticks are round by the clock", () => {
  const time = timeScale(0, 3_600, 100, 500);
  assert.equal(time.y(0), 100);
  assert.equal(time.y(1_800), 300);
  const ticks = timeTicks(time, 7 * 3_600 + 10);
  assert.ok(ticks.every(({ seconds }) => (seconds + 10) % 60 === 0));
  assert.ok(ticks.length >= 4 && ticks.length <= 9, `${ticks.length}`);
});

test("of a long course only what is seen is drawn, four points to a row at most", () => {
  const points = Array.from({ length: 3_000 }, (_, i) => ({ seconds: i, ev: Math.sin(i) }));
  const time = timeScale(1_000, 2_000, 0, 100);
  const seen = seenOf(points, time);
  assert.equal(seen.length, 1_003);
  const drawn = perRow(seen, time.y);
  assert.ok(drawn.length <= 4 * 102, `${drawn.length}`);
  assert.ok(drawn.some(({ ev }) => ev === Math.max(...seen.slice(50, 60).map((each) => each.ev))));
});

test("a line breaks where no light was told, a setting holds until it changes", () => {
  const time = timeScale(0, 40, 0, 40);
  const points = [{ seconds: 0, ev: 1 }, { seconds: 10, ev: 2 }, { seconds: 20, ev: null }, { seconds: 30, ev: 3 }];
  const x = (ev) => ev * 10;
  assert.equal(linePath(points, x, time), "M10 0L20 10M30 30");
  assert.equal(stepPath(points.filter(({ ev }) => ev !== null), x, time), "M10 0V10H20V30H30");
  assert.equal(crossesPath([20, 21, 99], 5, time), "M1 16l8 8M1 24l8 -8");
});

test("the near view goes along with now, and the whole one holds all", () => {
  const long = { frames: 2_000, intervalSeconds: 10 };
  assert.deepEqual(spanOf("whole", 5_000, long), { from: 0, to: 20_000 });
  assert.deepEqual(spanOf("near", 5_000, long), { from: 3_200, to: 5_900 });
  assert.deepEqual(spanOf("near", 100, long), { from: 0, to: 2_700 });
  assert.deepEqual(spanOf("near", 10, { frames: 60, intervalSeconds: 10 }), { from: 0, to: 600 });
});

test("the chart is told in words", () => {
  assert.equal(courseCaption({ lapse: NO_LAPSE }, NO_OUTLOOK), "No frame has told the light yet.");
  const state = after(opened, began, ramped(1), matched(1), ramped(2), matched(2, { brightness: 0.4 }));
  assert.equal(
    plain(courseCaption(state, { ...NO_OUTLOOK, coming: { light: [3, 4.5] } })),
    "The light has risen from EV 0.9 to EV 2.4; the last exposure stands at EV 2.0. EV 4.5 is expected at the end of what is drawn.",
  );
});

test("what is to come is asked for no more often than it is fresh", async () => {
  const asked = [];
  const waits = [];
  let now = 1_000;
  const told = [];
  const view = createOutlook((news) => told.push(news), {
    fetched: async (address) => {
      asked.push(address);
      return { now: new Date(now + 500).toISOString(), change: { seconds: 3 } };
    },
    now: () => now,
    setTimeout: (task, wait) => waits.push([task, wait]),
  });
  const state = after(opened, began, ramped(1));
  view(state);
  view(state);
  await Promise.resolve();
  await Promise.resolve();
  assert.deepEqual(asked, ["api/ahead"]);
  assert.deepEqual(told, [{ outlook: { coming: null, change: { seconds: 3 }, sun: null }, offset: 500 }]);
  now += 4_000;
  view(after(opened, began, ramped(1), matched(1)));
  assert.equal(waits[0][1], 6_000);
  assert.equal(clockOffset("1970-01-01T00:00:10Z", 4_000), 6_000);
});
