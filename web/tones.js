/** The sound of an alarm, made here: three short tones, the middle one higher. */

/** Hertz, and when each begins, seconds. */
const TONES = [
  { pitch: 660, from: 0 },
  { pitch: 990, from: 0.16 },
  { pitch: 660, from: 0.32 },
];

const LONG = 0.13;
const LOUD = 0.3;

/** A count-down's: one short tone a second, and a higher one at its end. */
const TICK = [{ pitch: 740, from: 0 }];
const LAST_TICK = [{ pitch: 1_110, from: 0 }];

/**
 * @param make a new audio context; a browser lets it sound only after the page was touched
 */
export function createTones(make = () => new AudioContext()) {
  let context = null;

  function opened() {
    try {
      context ??= make();
    } catch {
      return null;
    }
    return context;
  }

  function play(tones) {
    const audio = opened();
    if (audio === null || audio.state !== "running") return false;
    for (const { pitch, from } of tones) {
      const start = audio.currentTime + from;
      const tone = audio.createOscillator();
      const level = audio.createGain();
      tone.type = "triangle";
      tone.frequency.value = pitch;
      // A tone that begins or ends at once clicks.
      level.gain.setValueAtTime(0, start);
      level.gain.linearRampToValueAtTime(LOUD, start + 0.015);
      level.gain.setValueAtTime(LOUD, start + LONG - 0.03);
      level.gain.linearRampToValueAtTime(0, start + LONG);
      tone.connect(level).connect(audio.destination);
      tone.start(start);
      tone.stop(start + LONG);
    }
    return true;
  }

  return {
    /** Within a touch or a key: from then on the browser lets it sound. */
    async unlock() {
      await opened()?.resume?.();
    },
    /** Whether the browser lets it sound. */
    ready: () => context !== null && context.state === "running",
    sound: () => play(TONES),
    /** A second of a count-down; the last one is its end. */
    tick: (last) => play(last ? LAST_TICK : TICK),
  };
}
