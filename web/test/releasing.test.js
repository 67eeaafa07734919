import assert from "node:assert/strict";
import { test } from "node:test";
import { NOTHING, phaseOf, reduce } from "../session.js";
import { createTones } from "../tones.js";
import { alarmsOf } from "../views/alarms.js";
import { phaseWords } from "../views/head.js";
import { dueOf, releaseWords, secondsLeft } from "../views/releasing.js";
import { numbered } from "./records.js";
import { frame, opened } from "./tethered.js";

const after = (...records) => numbered(opened(), ...records).reduce(reduce, NOTHING);
const asked = (shot, countSeconds = 5) => ["release-asked", { shot, countSeconds }];
const commanded = (shot) => ["shot-commanded", { shot, attempt: 1 }];
const live = { link: { state: "live" }, refusal: null };

test("a release is counted down, commanded and answered", () => {
  const counting = after(asked(1));
  assert.equal(phaseWords(counting), "Release 1 is counted down");
  assert.equal(releaseWords(counting, true), "Counting down …");
  const released = after(asked(1), commanded(1), ["shot-confirmed", { shot: 1 }]);
  assert.equal(released.counting, null);
  assert.equal(phaseWords(released), "Waiting for the frame of release 1");
  assert.equal(releaseWords(released, false), "Waiting for its frame …");
  const answered = after(
    asked(1),
    commanded(1),
    frame(1),
    ["release-answered", { shot: 1, file: "F_1.JPG", matched: "arrival" }],
  );
  assert.equal(phaseOf(answered), "watching");
  assert.equal(releaseWords(answered, false), "Release");
  assert.equal(answered.entries.at(-1).text, "F_1.JPG is what release 1 brought.");
});

test("one that is taken back says by what", () => {
  const back = after(asked(1), ["release-withdrawn", { shot: 1, reason: "an operator took it back" }]);
  assert.equal(back.counting, null);
  assert.equal(back.releases, 1);
  assert.equal(back.entries.at(-1).text, "Release 1 was taken back: an operator took it back.");
});

test("one without a frame is an alarm until the next is asked for", () => {
  const lost = after(asked(1, 0), commanded(1), ["shot-lost", { shot: 1, reason: "no frame came within 20 s." }]);
  assert.deepEqual(alarmsOf(lost, live), ["Release 1 brought nothing: no frame came within 20 s."]);
  assert.equal(lost.underWay, null);
  const refused = after(asked(1, 0), commanded(1), ["shot-refused", { shot: 1, reason: "busy" }]);
  assert.deepEqual(alarmsOf(refused, live), ["The trigger refused release 1: busy"]);
  const next = after(asked(1, 0), commanded(1), ["shot-lost", { shot: 1, reason: "x" }], asked(2));
  assert.deepEqual(alarmsOf(next, live), []);
});

test("a tether watches on without its trigger", () => {
  const without = after(["trigger-greeted", { identity: "box" }], ["trigger-lost", { reason: "the port is gone" }], frame(1));
  assert.equal(phaseOf(without), "watching");
  assert.deepEqual(alarmsOf(without, live), ["The trigger is lost: the port is gone"]);
});

test("a program that does not answer is an alarm, unless it has ended with its session", () => {
  const away = { ...live, link: { state: "lost" } };
  const running = after(frame(1));
  assert.match(alarmsOf(running, away)[0], /^The program does not answer; trying again\./);
  assert.deepEqual(alarmsOf({ ...running, report: { stopped: "asked" } }, away), []);
});

test("whole seconds are counted, and none above what it began with", () => {
  const count = { seconds: 5, due: 10_000 };
  const at = (now) => secondsLeft(count, now);
  assert.deepEqual([4_000, 5_000, 5_001, 6_000, 9_000, 9_985, 10_000, 12_000].map(at), [5, 5, 5, 4, 1, 0, 0, 0]);
});

test("a page that is opened in the midst of a count-down goes by its own clock, within bounds", () => {
  const record = { seconds: 5, at: "2026-05-04T09:00:00Z" };
  const wall = Date.parse(record.at);
  assert.equal(dueOf(record, true, { now: 100, wall: wall + 90_000 }), 5_100);
  assert.equal(dueOf(record, false, { now: 100, wall: wall + 2_000 }), 3_100);
  assert.equal(dueOf(record, false, { now: 100, wall: wall - 60_000 }), 5_100);
  assert.equal(dueOf(record, false, { now: 100, wall: wall + 60_000 }), 100);
});

test("a count-down's last tone is higher", async () => {
  const pitches = [];
  const level = { setValueAtTime() {}, linearRampToValueAtTime() {} };
  const tones = createTones(() => ({
    state: "running",
    currentTime: 0,
    destination: {},
    async resume() {},
    createOscillator: () => ({
      frequency: { set value(pitch) { pitches.push(pitch); } },
      connect: (to) => to,
      start() {},
      stop() {},
    }),
    createGain: () => ({ gain: level, connect: (to) => to }),
  }));
  await tones.unlock();
  tones.tick(false);
  tones.tick(true);
  assert.equal(pitches.length, 2);
  assert.ok(pitches[1] > pitches[0]);
});
