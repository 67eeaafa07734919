/**
 * A lapse as a fold over its own records: its course over the places of the grid, the newest frames,
 * alarms. Pure. However long the lapse runs, what is kept stays of the same size.
 */

import { count, lightChange } from "./format.js";

/** Points of the course that are kept; beyond twice as many it is thinned to these. */
export const MOST_POINTS = 1_500;

/** Of those, the newest places stay whole. */
export const NEWEST = 400;

/** Frames that are kept as rows. */
export const MOST_FRAMES = 100;

/** Alarms that are kept. */
export const MOST_ALARMS = 50;

export const NO_LAPSE = Object.freeze({
  /** When the first frame is due, milliseconds of the host's clock. */
  startAt: null,
  /** {place, light, set, wanted} in EV, by place ascending; light is null until a frame tells it. */
  course: Object.freeze([]),
  /** The newest shots by number: where they stand. */
  shots: Object.freeze({}),
  frames: Object.freeze([]),
  /** The shot that was chosen last. */
  chosen: null,
  /** The setting before the last change: {place, exposure}. */
  changed: null,
  /** The last place that was passed over. */
  skippedTo: 0,
  counts: Object.freeze({ shots: 0, framed: 0, lost: 0, refused: 0, skipped: 0 }),
  /** {seq, at, kind, words, endedAt}, the oldest first. */
  alarms: Object.freeze([]),
});

export const LAPSE_RULES = {
  "lapse-began": (l, r) => ({ ...l, startAt: Date.parse(r.start) }),

  /** What a page that opens in the middle is told of what it did not see. */
  "lapse-so-far": (l, r) => ({
    ...l,
    course: pointsOf(r.course),
    counts: Object.fromEntries(
      Object.entries(l.counts).map(([name, count]) => [name, count + (r[name] ?? 0)]),
    ),
  }),

  "shot-ramped": (l, r) => {
    const point = { place: r.place, light: null, set: r.exposure.ev, wanted: r.wanted };
    const before = l.chosen?.exposure ?? null;
    const differs = before !== null && !isSameSetting(before, r.exposure);
    return counted(
      {
        ...l,
        course: thinned([...l.course, point]),
        shots: { ...recent(l.shots, r.shot), [r.shot]: { place: r.place, seconds: r.seconds, wish: r.wish } },
        chosen: r,
        changed: differs || before === null ? { place: r.place, exposure: r.exposure } : l.changed,
      },
      "shots",
      1,
    );
  },

  "frame-matched": (l, r) => {
    const shot = l.shots[r.shot] ?? null;
    const light = Number.isFinite(r.brightnessStops) ? r.exposure.ev + r.brightnessStops : null;
    const next = counted(counted(l, "framed", 1), "lost", r.late === true ? -1 : 0);
    // Of a shot that was long ago only the number is told.
    if (shot === null) return next;
    const row = rowOf(r, shot);
    return {
      ...next,
      course: withLight(l.course, shot.place, light, r.exposure.ev),
      frames: inPlace(l.frames, row).slice(-MOST_FRAMES),
    };
  },

  "shot-lost": (l) => counted(l, "lost", 1),
  "shot-refused": (l) => counted(l, "refused", 1),
  "places-skipped": (l, r) => ({ ...counted(l, "skipped", r.to - r.from + 1), skippedTo: r.to }),

  "alarm-raised": (l, r) => ({
    ...l,
    alarms: [...l.alarms, { seq: r.seq, at: r.at, kind: r.kind, words: r.words, endedAt: null }].slice(-MOST_ALARMS),
  }),
  "alarm-ended": (l, r) => ({
    ...l,
    alarms: l.alarms.map((each) => (each.kind === r.kind && each.endedAt === null ? { ...each, endedAt: r.at } : each)),
  }),
};

function counted(lapse, name, more) {
  return { ...lapse, counts: { ...lapse.counts, [name]: lapse.counts[name] + more } };
}

/** The newest shots' places: a frame of an older one is not shown any more. */
function recent(shots, newest) {
  return Object.fromEntries(Object.entries(shots).filter(([shot]) => newest - shot < MOST_FRAMES * 4));
}

function pointsOf({ place, light, set, wanted }) {
  return place.map((each, i) => ({ place: each, light: light[i], set: set[i], wanted: wanted[i] }));
}

function withLight(course, place, light, set) {
  const at = course.findLastIndex((point) => point.place === place);
  return at < 0 ? course : course.with(at, { ...course[at], light, set });
}

/** A frame may come after one of a later place. */
function inPlace(frames, row) {
  const before = frames.findLastIndex(({ index }) => index < row.index);
  return frames.toSpliced(before + 1, 0, row);
}

function rowOf(record, shot) {
  const { frame, exposure } = record;
  return {
    index: shot.place,
    seconds: shot.seconds,
    at: record.at,
    file: frame.file,
    shutterSeconds: exposure.shutterSeconds,
    aperture: exposure.aperture,
    iso: exposure.iso,
    ev: exposure.ev,
    width: frame.width ?? 0,
    height: frame.height ?? 0,
    preview: frame.preview ?? null,
    mask: frame.mask ?? null,
    clippedFraction: frame.clippedFraction?.any ?? null,
    crushedFraction: frame.crushedFraction?.all ?? null,
    histogram: frame.histogramStops ?? null,
    /** How much brighter than it was meant to be, stops. */
    off: Number.isFinite(record.brightnessStops) ? record.brightnessStops - shot.wish : null,
    late: record.late === true,
  };
}

/** Shutter and ISO as they are named; the aperture never moves. */
export const isSameSetting = (one, other) =>
  one.iso === other.iso && Math.abs(Math.log2(one.shutterSeconds / other.shutterSeconds)) < 1e-4;

/**
 * Fewer points of a long course, and none of its peaks lost: of each stretch those stay at which
 * light or setting are least or largest; the newest stay whole.
 */
export function thinned(course, most = MOST_POINTS, newest = NEWEST) {
  if (course.length <= 2 * most) return course;
  const whole = course.length - newest;
  const stretches = Math.floor((most - newest) / 4);
  const kept = new Set();
  for (let i = 0; i < stretches; i++) {
    const from = Math.floor((whole * i) / stretches);
    const to = Math.floor((whole * (i + 1)) / stretches);
    for (const name of ["light", "set"]) extremes(course, name, from, to, kept);
  }
  return course.filter((_, i) => i >= whole || kept.has(i));
}

function extremes(course, name, from, to, kept) {
  let least = -1;
  let largest = -1;
  for (let i = from; i < to; i++) {
    const value = course[i][name];
    if (value === null) continue;
    if (least < 0 || value < course[least][name]) least = i;
    if (largest < 0 || value > course[largest][name]) largest = i;
  }
  if (least >= 0) kept.add(least).add(largest);
}

/** Seconds since the lapse's start at an instant of the host's clock, null before the grid is laid. */
export const secondsAt = ({ startAt }, hostNow) => (startAt === null ? null : (hostNow - startAt) / 1000);

/** The seconds of a place on the grid. */
export const dueAt = (place, opened) => (place - 1) * opened.intervalSeconds;

/** The place that is due next after the one that was chosen last; null where there is none. */
export function nextPlace(state) {
  const last = Math.max(state.lapse.chosen?.place ?? 0, state.lapse.skippedTo);
  return last < state.opened.frames ? last + 1 : null;
}

/** Alarms after the one that was last noted, the newest first. */
export const unnotedAlarms = ({ alarms }, noted) => alarms.filter(({ seq }) => seq > noted).reverse();

/** The sun's altitude and azimuth at seconds since the start, null where nothing is known. */
export function sunAt(sun, seconds) {
  if (sun === null || sun === undefined || seconds === null) return null;
  const all = sun.seconds;
  const wanted = Math.min(Math.max(seconds, all[0]), all.at(-1));
  const after = Math.max(1, all.findIndex((each) => each >= wanted));
  const share = (wanted - all[after - 1]) / (all[after] - all[after - 1]);
  const between = (from, to) => from + share * (to - from);
  // The short way round: from 359° to 1° are two degrees.
  const turn = ((sun.azimuth[after] - sun.azimuth[after - 1] + 540) % 360) - 180;
  return {
    altitude: between(sun.altitude[after - 1], sun.altitude[after]),
    azimuth: (sun.azimuth[after - 1] + share * turn + 360) % 360,
  };
}

/** By the altitude of the sun's centre, as it is seen. */
export function twilightOf(altitude) {
  if (altitude >= -0.3) return "day";
  if (altitude >= -6) return "civil twilight";
  if (altitude >= -12) return "nautical twilight";
  if (altitude >= -18) return "astronomical twilight";
  return "night";
}

/** How far the last frame is off what was meant. */
export function offWords(row) {
  if (row === null || row === undefined || row.off === null) return "";
  const size = Math.abs(row.off);
  if (size < 0.05) return "as bright as meant";
  return `${lightChange(row.off)} than meant`;
}

/** Frames taken, missed and wanted. */
export function frameWords({ lapse, opened }) {
  const { framed, lost, skipped, refused } = lapse.counts;
  const missed = [
    lost > 0 ? `${lost} lost` : null,
    skipped + refused > 0 ? `${skipped + refused} not taken` : null,
  ].filter(Boolean);
  return [`${framed} of ${count(opened.frames, "frame")}`, ...missed].join(", ");
}
