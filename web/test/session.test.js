import assert from "node:assert/strict";
import { test } from "node:test";
import { MOST_ENTRIES, NOTHING, elapsedSeconds, phaseOf, reduce } from "../session.js";
import { numbered, sample } from "./records.js";

const fold = (records, state = NOTHING) => records.reduce(reduce, state);
const exposure = { shutterSeconds: 0.004, aperture: 8, iso: 100, ev: 14 };
const opened = ["session-opened", { kind: "bracket", goal: { maxFrames: 12 } }];
const accepted = (shot, file) => [
  "frame-accepted",
  { shot, frame: { file, ...exposure }, reachLowEv: 8.1, reachHighEv: 16.9, clippedFraction: 0, belowFloorFraction: 0 },
];

test("the sample journal folds to a covered bracket of four frames", () => {
  const state = fold(sample);
  assert.equal(state.kind, "bracket");
  assert.equal(phaseOf(state), "ended");
  assert.equal(state.report.covered, true);
  assert.deepEqual(state.frames.map((frame) => frame.shot), [1, 3, 4, 5]);
  assert.equal(state.last.file, "SCN_0004.jpg");
  assert.equal(state.seq, sample.length);
  assert.equal(state.planned, null);
  assert.deepEqual(state.faults, []);
  assert.ok(elapsedSeconds(state) > 40);
});

test("an unknown record changes nothing but the newest number and its time", () => {
  const before = fold(sample.slice(0, 9));
  for (const type of ["wish-drawn", "toString", "__proto__", "constructor", "hasOwnProperty"]) {
    const after = reduce(before, { seq: 10, at: before.at, type, shot: 1, reason: "x" });
    assert.deepEqual(after, { ...before, seq: 10 });
  }
});

test("a record that was seen already changes nothing", () => {
  const state = fold(sample);
  for (const record of sample) assert.equal(reduce(state, record), state);
});

test("every prefix of the journal folds, and the fold does not depend on where it was cut", () => {
  for (let cut = 0; cut <= sample.length; cut++) {
    assert.deepEqual(fold(sample.slice(cut), fold(sample.slice(0, cut))), fold(sample));
  }
});

test("the fold leaves earlier states as they were", () => {
  const freeze = (value) => {
    if (typeof value === "object" && value !== null && !Object.isFrozen(value)) {
      Object.freeze(value);
      Object.values(value).forEach(freeze);
    }
    return value;
  };
  sample.reduce((state, record) => freeze(reduce(state, record)), freeze({ ...NOTHING }));
});

test("a raw file takes the place of its JPEG and is no frame more", () => {
  const records = numbered(opened, accepted(1, "A.JPG"), accepted(2, "B.JPG"), [
    "frame-refined",
    {
      shot: 1,
      replaces: "A.JPG",
      frame: { file: "A.DNG", ...exposure, preview: "a.png", mask: "am.png" },
      reachLowEv: 8.1,
      reachHighEv: 16.9,
      clippedFraction: 0.25,
      belowFloorFraction: 0.5,
    },
  ]);
  const state = fold(records);
  assert.deepEqual(state.frames.map(({ file }) => file), ["A.DNG", "B.JPG"]);
  assert.deepEqual(state.frames.map(({ index }) => index), [1, 2]);
  assert.equal(state.frames[0].clippedFraction, 0.25);
  assert.deepEqual(state.frames[0].jpeg, { file: "A.JPG", clippedFraction: 0, belowFloorFraction: 0 });
  assert.equal(state.last.file, "B.JPG", "the last frame is another");
  assert.equal(state.strays, 0);
  const last = fold(numbered(opened, accepted(1, "A.JPG"), ["frame-refined", { ...records[3] }]));
  assert.equal(last.last.file, "A.DNG");
});

test("a raw file of a frame that is not known changes no frame", () => {
  const state = fold(numbered(opened, accepted(1, "A.JPG")));
  const after = reduce(state, { seq: 3, at: state.at, type: "frame-refined", replaces: "X.JPG", frame: {} });
  assert.equal(after.frames, state.frames);
});

test("the phase follows the life of a shot", () => {
  const rows = [
    [opened, "starting"],
    [["shot-planned", { shot: 1, exposure, reason: "x" }], "planned"],
    [["shot-commanded", { shot: 1, attempt: 1, exposure }], "exposing"],
    [["shot-confirmed", { shot: 1 }], "arriving"],
    [accepted(1, "a.jpg"), "deciding"],
    [["session-held"], "held"],
    [["trigger-lost", { reason: "gone" }], "without-trigger"],
    [["trigger-greeted", { identity: "x" }], "held"],
    [["session-continued"], "deciding"],
    [["folder-lost", { reason: "gone" }], "without-folder"],
    [["folder-returned"], "deciding"],
    [["report", { covered: false, stopped: "asked", why: "Ended as asked." }], "ended"],
  ];
  let state = NOTHING;
  assert.equal(phaseOf(state), "unopened");
  numbered(...rows.map(([record]) => record)).forEach((record, index) => {
    state = reduce(state, record);
    assert.equal(phaseOf(state), rows[index][1], record.type);
  });
});

test("what the trigger says of its own accord is in the log and changes nothing else", () => {
  const before = fold(numbered(opened));
  const after = fold(numbered(opened, ["trigger-noticed", { kind: "battery", text: "3.71 V" }]));
  assert.equal(after.entries.at(-1).text, "The trigger says (battery): 3.71 V");
  assert.equal(after.entries.length, before.entries.length + 1);
  assert.equal(phaseOf(after), phaseOf(before));
  assert.equal(after.faults.length, 0);
});

test("a fault stands until what heals it, and comes once", () => {
  const rows = [
    [["trigger-lost", { reason: "a" }], ["folder-lost", { reason: "b" }], 2],
    [["trigger-lost", { reason: "a" }], ["trigger-lost", { reason: "b" }], 1],
    [["trigger-lost", { reason: "a" }], ["trigger-greeted", { identity: "x" }], 0],
    [["folder-lost", { reason: "a" }], ["folder-returned"], 0],
    [["shot-lost", { shot: 1, reason: "a" }], accepted(2, "b.jpg"), 0],
    [["shot-refused", { shot: 1, reason: "a" }], ["shot-planned", { shot: 2, exposure, reason: "x" }], 1],
    [["shot-lost", { shot: 1, reason: "a" }], ["report", { covered: false, stopped: "asked", why: "x" }], 0],
    [opened, ["report", { covered: false, stopped: "trigger-failed", why: "The trigger failed." }], 1],
    [opened, ["report", { covered: false, stopped: "limit", why: "The longest shutter is used." }], 0],
  ];
  for (const [first, second, faults] of rows) {
    assert.equal(fold(numbered(first, second)).faults.length, faults, `${first[0]}, ${second[0]}`);
  }
});

test("a late frame of an earlier shot leaves the shot under way alone", () => {
  const state = fold(
    numbered(
      opened,
      ["shot-planned", { shot: 2, exposure, reason: "x" }],
      ["shot-commanded", { shot: 2, attempt: 1, exposure }],
      accepted(1, "late.jpg"),
    ),
  );
  assert.equal(state.underWay.shot, 2);
  assert.equal(state.planned.shot, 2);
});

test("the log keeps its bound and counts what it let go", () => {
  const records = Array.from({ length: MOST_ENTRIES + 7 }, (_, i) => [
    "shot-planned",
    { shot: i + 1, exposure, reason: `reason ${i + 1}` },
  ]);
  const state = fold(numbered(...records));
  assert.equal(state.entries.length, MOST_ENTRIES);
  assert.equal(state.entriesDropped, 7);
  assert.equal(state.entries.at(-1).text, `reason ${MOST_ENTRIES + 7}`);
});

test("two thousand frames fold in well under a second", () => {
  const records = Array.from({ length: 2000 }, (_, i) => accepted(i + 1, `f${i}.jpg`));
  const begun = performance.now();
  assert.equal(fold(numbered(opened, ...records)).frames.length, 2000);
  assert.ok(performance.now() - begun < 1000);
});

test("what has moved and light that has changed are told in the log", () => {
  const change = { against: "a.jpg", comparedFraction: 0.4, movedFraction: 0.021, ratioStops: 2 };
  const [, still] = accepted(1, "a.jpg");
  const [, later] = accepted(2, "b.jpg");
  const moved = { ...later, frame: { ...later.frame, changes: [change] } };
  const hardly = { ...still, frame: { ...still.frame, changes: [{ ...change, movedFraction: 0.0004 }] } };
  const state = fold(
    numbered(
      opened,
      ["frame-accepted", hardly],
      ["frame-accepted", moved],
      ["light-drifted", { stops: 0.4, why: "The scene is 0.4 stops brighter." }],
    ),
  );
  assert.deepEqual(
    state.entries.map((entry) => entry.text.replaceAll("\u00a0", " ")),
    [
      "2.1 % of the picture has moved since a.jpg, of 40 % that both frames hold.",
      "The scene is 0.4 stops brighter.",
    ],
  );
});
