import assert from "node:assert/strict";
import { test } from "node:test";

import { NOTHING, phaseOf, reduce } from "../session.js";
import { phaseWords } from "../views/head.js";
import { nextWords } from "../views/next.js";

const at = "2026-05-04T03:00:00Z";
const exposure = { shutterSeconds: 0.004, exactSeconds: 0.00390625, aperture: 8, iso: 100, ev: 14 };

/** Numbers and units are held together by a narrow space. */
const plain = (words) => words.replaceAll(/[\u202f\u00a0]/g, " ");

function after(...records) {
  return records.reduce((state, [type, fields], i) => reduce(state, { seq: i + 1, at, type, ...fields }), NOTHING);
}

const begun = [
  ["session-opened", { kind: "bracket", byHand: { mode: "manual" } }],
  ["shot-planned", { shot: 1, attempt: 1, exposure, reason: "You asked to start here.", framesLeft: 3 }],
  ["shot-commanded", { shot: 1, attempt: 1, exposure }],
];

test("by hand the page waits for the photographer, and says what to set", () => {
  const state = after(...begun, ["dial-asked", { shot: 1, turns: [], words: "Set 1/250 s, and take a frame." }]);
  assert.equal(phaseOf(state), "by-hand");
  assert.equal(phaseWords(state), "By hand: waiting for your frame 1");
  const words = nextWords(state);
  assert.equal(plain(words.large), "1/250 s");
  assert.equal(words.why, "Set 1/250 s, and take a frame.");
});

test("one dial is large, the next one stands below", () => {
  const turns = [
    { dial: "shutter", clicks: 6, way: "shorter", to: "1/250 s" },
    { dial: "ISO", clicks: 1, way: "higher", to: "ISO 125" },
  ];
  const words = nextWords(after(...begun, ["dial-asked", { shot: 1, turns, words: "…" }]));
  assert.equal(plain(words.large), "6 clicks");
  assert.equal(words.rest, "Shutter: shorter, to 1/250 s");
  assert.equal(plain(words.change), "Then ISO: 1 click higher, to ISO 125");
});

test("when it is over nothing is asked any more", () => {
  const state = after(
    ...begun,
    ["dial-asked", { shot: 1, turns: [], words: "…" }],
    ["report", { covered: true, stopped: "covered", why: "All of it.", frames: [] }],
  );
  assert.equal(state.dial, null);
  assert.equal(phaseOf(state), "ended");
});

test("in a tether a turn is asked for, and afterwards it watches again", () => {
  const tether = [["session-opened", { kind: "tether", byHand: { mode: "manual" } }]];
  const turns = [{ dial: "aperture", clicks: 2, way: "wider", to: "f/6.3" }];
  const asked = after(...tether, ["dial-asked", { shot: 4, turns, words: "The last 3 frames …" }]);
  assert.equal(phaseWords(asked), "By hand: a dial is to be turned");
  assert.equal(plain(nextWords(asked).large), "2 clicks");
  assert.equal(nextWords(asked).heading, "By hand: turn before the next frame");
  const done = after(...tether, ["dial-asked", { shot: 4, turns, words: "…" }], [
    "dial-asked",
    { shot: 5, turns: [], words: "Right: f/6.3. Leave the dials." },
  ]);
  assert.equal(phaseOf(done), "empty");
  assert.equal(nextWords(done).large, "Dials as they are");
});
