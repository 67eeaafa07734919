import assert from "node:assert/strict";
import { test } from "node:test";
import { createTones } from "../tones.js";

function stand(state) {
  const started = [];
  const level = { setValueAtTime() {}, linearRampToValueAtTime() {} };
  return {
    started,
    state,
    currentTime: 5,
    destination: {},
    async resume() {
      this.state = "running";
    },
    createOscillator: () => ({ frequency: {}, connect: (to) => to, start: (at) => started.push(at), stop() {} }),
    createGain: () => ({ gain: level, connect: (to) => to }),
  };
}

test("nothing sounds before the page is touched, and three tones after", async () => {
  const context = stand("suspended");
  const tones = createTones(() => context);
  assert.equal(tones.sound(), false);
  assert.equal(tones.ready(), false);
  await tones.unlock();
  assert.ok(tones.ready());
  assert.equal(tones.sound(), true);
  assert.equal(context.started.length, 3);
  assert.ok(context.started.every((at) => at >= 5));
});

test("a device without sound is no failure", async () => {
  const tones = createTones(() => {
    throw new Error("none");
  });
  await tones.unlock();
  assert.equal(tones.sound(), false);
});
