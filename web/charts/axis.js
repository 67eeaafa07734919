/** The EV axis, the one scale that everything hangs on: dark parts of the scene left, bright right. */

/** EV at the ends when nothing is known yet. */
const USUAL = { low: 0, high: 18 };

/** The least number of EV shown, so that a first frame does not fill the whole width. */
const LEAST_WIDTH = 14;

/**
 * What the brightness of a part of the scene feels like, at that EV at ISO 100. After the usual
 * exposure tables: 15 is a sunlit subject, 12 open shade, 7 a lit room, 4 a candle's surroundings,
 * −2 a landscape under a full moon.
 */
export const CUES = [
  { ev: -2, word: "moonlight" },
  { ev: 3.5, word: "candlelight" },
  { ev: 7.5, word: "lamplight" },
  { ev: 11.5, word: "open shade" },
  { ev: 15, word: "sunlit" },
  { ev: 18.5, word: "glare" },
];

/** The whole EVs between which all the given ones lie. */
export function domainOf(evs) {
  const finite = evs.filter(Number.isFinite);
  if (finite.length === 0) return USUAL;
  let low = Math.floor(Math.min(...finite) - 0.25);
  let high = Math.ceil(Math.max(...finite) + 0.25);
  while (high - low < LEAST_WIDTH) {
    high++;
    if (high - low < LEAST_WIDTH) low--;
  }
  return { low, high };
}

/** From EV to pixels. */
export function scaleOf({ low, high }, left, right) {
  const perEv = (right - left) / (high - low);
  return { low, high, left, right, perEv, x: (ev) => round(left + (ev - low) * perEv) };
}

/** Ticks at thirds, whole and fifth EVs below a line, and which numerals there is room for. */
export function ticksOf(scale, y) {
  const step = scale.perEv >= 27 ? 1 : scale.perEv >= 14 ? 2 : 5;
  const thirds = scale.perEv >= 20;
  let major = `M${scale.x(scale.low)} ${y}H${scale.x(scale.high)}`;
  let minor = "";
  const numerals = [];
  for (let third = scale.low * 3; third <= scale.high * 3; third++) {
    const ev = third / 3;
    const x = scale.x(ev);
    if (!Number.isInteger(ev)) {
      if (thirds) minor += `M${x} ${y}v5`;
    } else if (ev % step === 0) {
      major += `M${x} ${y}v13`;
      numerals.push({ ev, x });
    } else {
      major += `M${x} ${y}v8`;
    }
  }
  return { major, minor, numerals };
}

/** The cue words that fit without touching. */
export function cuesOf(scale, glyphWidth) {
  let free = scale.left;
  const fitting = [];
  for (const { ev, word } of CUES) {
    const half = (word.length * glyphWidth) / 2;
    const x = scale.x(ev);
    if (x - half >= free && x + half <= scale.right) {
      fitting.push({ word, x });
      free = x + half + 2 * glyphWidth;
    }
  }
  return fitting;
}

export const round = (value) => Math.round(value * 10) / 10;
