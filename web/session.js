/**
 * The session as a fold over the journal's records: pure, and the same whether a record comes from
 * a replay or live. A record whose type is not known here changes nothing but the newest number.
 */

import { share } from "./format.js";
import { LAPSE_RULES, NO_LAPSE } from "./lapse.js";
import { NO_TETHER, TETHER_RULES } from "./tether.js";

/** Entries of the log of decisions that are kept, records. */
export const MOST_ENTRIES = 400;

export const NOTHING = Object.freeze({
  seq: 0,
  at: null,
  kind: null,
  opened: null,
  openedAt: null,
  trigger: null,
  meteredEv: null,
  planned: null,
  /** What the photographer is asked to do by hand: {shot, turns, words}. */
  dial: null,
  underWay: null,
  /** The last release that an operator asked for, and while it is counted down: {shot, seconds, at}. */
  releases: 0,
  counting: null,
  held: false,
  resumed: 0,
  frames: Object.freeze([]),
  last: null,
  span: null,
  strays: 0,
  skipped: 0,
  faults: Object.freeze([]),
  entries: Object.freeze([]),
  entriesDropped: 0,
  report: null,
  tether: NO_TETHER,
  lapse: NO_LAPSE,
});

export function reduce(state, record) {
  if (!(record.seq > state.seq)) return state;
  const rule = ruleOf(state.kind, record.type);
  const next = rule === null ? state : rule(state, record);
  return { ...next, seq: record.seq, at: record.at ?? state.at };
}

function ruleOf(kind, type) {
  if (kind === "lapse" && Object.hasOwn(LAPSE_RULES, type)) return lapseRule(type);
  if (Object.hasOwn(RULES, type)) return RULES[type];
  if (!Object.hasOwn(TETHER_RULES, type)) return null;
  return (state, record) => ({ ...state, tether: TETHER_RULES[type](state.tether, record) });
}

/** A lapse goes on whatever happens to one shot: that is told, and no fault that stands. */
function lapseRule(type) {
  return (state, record) => {
    const next = { ...state, lapse: LAPSE_RULES[type](state.lapse, record) };
    return Object.hasOwn(TOLD_OF_LAPSE, type) ? TOLD_OF_LAPSE[type](next, record, state) : next;
  };
}

const TOLD_OF_LAPSE = {
  "shot-ramped": (s, r, before) => {
    if (s.lapse.changed === before.lapse.changed) return s;
    const { seq, at, shot, exposure, reason } = r;
    return entry(s, { seq, at, shot, exposure, text: reason });
  },
  "frame-matched": (s, r) => ({ ...idle(s, r), last: s.lapse.frames.at(-1) ?? s.last }),
  "shot-lost": (s, r) => note(idle(s, r), r, `Shot ${r.shot} is lost: ${r.reason}`),
  "shot-refused": (s, r) => note(idle(s, r), r, `The trigger refused shot ${r.shot}: ${r.reason}`),
  "places-skipped": (s, r) => note(s, r, `${skippedWords(r)}: ${r.reason}`),
  "alarm-raised": (s, r) => note(s, r, r.words),
  "alarm-ended": (s, r) => note(s, r, r.words),
};

const skippedWords = ({ from, to }) =>
  from === to ? `Nothing was taken at place ${from}` : `Nothing was taken at places ${from} to ${to}`;

const RULES = {
  "session-opened": (s, r) => ({ ...s, kind: r.kind ?? null, opened: r, openedAt: r.at }),

  "trigger-greeted": (s, r) => ({
    ...without(s, "trigger"),
    trigger: r.identity,
  }),
  "trigger-lost": (s, r) =>
    withFault(s, "trigger", `The trigger is lost: ${r.reason}`, r),

  "trigger-noticed": (s, r) => note(s, r, `The trigger says (${r.kind}): ${r.text}`),

  "rig-checked": (s, r) =>
    note(s, r, r.findings.map(({ words }) => words).join(" ")),

  "folder-lost": (s, r) =>
    withFault(s, "folder", `The hot folder cannot be read: ${r.reason}`, r),
  "folder-returned": (s, r) => note(without(s, "folder"), r, "The hot folder can be read again."),

  "scene-metered": (s, r) => ({ ...s, meteredEv: r.ev }),
  "meter-unread": (s, r) => note(s, r, `The meter could not be read: ${r.reason}`),

  "shot-planned": (s, r) =>
    entry({ ...s, planned: { ...r, exposure: r.exposure ?? null } }, {
      seq: r.seq,
      at: r.at,
      shot: r.shot,
      exposure: r.exposure ?? null,
      text: r.reason,
    }),
  "shot-commanded": (s, r) => ({
    ...s,
    counting: null,
    underWay: { shot: r.shot, attempt: r.attempt, exposure: r.exposure ?? null, released: false },
  }),
  // By hand nothing exposes by itself: the frame is the photographer's to take.
  "dial-asked": (s, r) =>
    note({ ...s, dial: { shot: r.shot, turns: r.turns, words: r.words }, underWay: null }, r, r.words),
  "shot-confirmed": (s, r) =>
    s.underWay?.shot === r.shot ? { ...s, underWay: { ...s.underWay, released: true } } : s,
  "shot-unconfirmed": (s, r) =>
    note(s, r, `Whether ${shotName(s)} ${r.shot} was taken is not known: ${r.reason}`),
  "shot-refused": (s, r) =>
    withFault(idle(s, r), "shot", `The trigger refused ${shotName(s)} ${r.shot}: ${r.reason}`, r),
  "shot-lost": (s, r) =>
    withFault(
      idle(s, r),
      "shot",
      s.kind === "tether" ? `Release ${r.shot} brought nothing: ${r.reason}` : `Shot ${r.shot} is lost: ${r.reason}`,
      r,
    ),

  "release-asked": (s, r) => ({
    ...without(s, "shot"),
    releases: r.shot,
    counting: { shot: r.shot, seconds: r.countSeconds, at: r.at },
  }),
  "release-withdrawn": (s, r) =>
    note({ ...s, counting: null }, r, `Release ${r.shot} was taken back: ${r.reason}.`),
  "release-answered": (s, r) =>
    note(without(idle(s, r), "shot"), r, `${r.file} is what release ${r.shot} brought.`),

  "frame-accepted": (s, r) => {
    const { frame } = r;
    const row = {
      index: s.frames.length + 1,
      shot: r.shot,
      at: r.at,
      file: frame.file,
      shutterSeconds: frame.shutterSeconds,
      aperture: frame.aperture,
      iso: frame.iso,
      ev: frame.ev,
      clippedFraction: r.clippedFraction,
      belowFloorFraction: r.belowFloorFraction,
      reachLowEv: r.reachLowEv,
      reachHighEv: r.reachHighEv,
      late: r.late === true,
      preview: frame.preview ?? null,
      mask: frame.mask ?? null,
      width: frame.width ?? 0,
      height: frame.height ?? 0,
      histogram: frame.histogramStops ?? null,
      jpeg: null,
    };
    const next = {
      ...without(idle(s, r), "shot"),
      planned: s.planned?.shot === r.shot ? null : s.planned,
      frames: [...s.frames, row],
      last: row,
    };
    const moved = movedWords(frame);
    return moved === "" ? next : note(next, r, moved);
  },
  "frame-refined": (s, r) => {
    const place = s.frames.findLastIndex((row) => row.file === r.replaces);
    if (place < 0) return s;
    const before = s.frames[place];
    const { frame } = r;
    const row = {
      ...before,
      file: frame.file,
      clippedFraction: r.clippedFraction,
      belowFloorFraction: r.belowFloorFraction,
      reachLowEv: r.reachLowEv,
      reachHighEv: r.reachHighEv,
      preview: frame.preview ?? null,
      mask: frame.mask ?? null,
      width: frame.width ?? 0,
      height: frame.height ?? 0,
      histogram: frame.histogramStops ?? null,
      jpeg: {
        file: before.file,
        clippedFraction: before.clippedFraction,
        belowFloorFraction: before.belowFloorFraction,
      },
    };
    return {
      ...s,
      frames: s.frames.map((each, i) => (i === place ? row : each)),
      last: s.last === before ? row : s.last,
    };
  },
  "frame-doubted": (s, r) => note(s, r, `${r.frame.file} waits: ${r.reason}`),
  "frame-stray": (s, r) =>
    note({ ...s, strays: s.strays + 1 }, r, `${r.file} belongs to no shot: ${r.reason}`),
  "frame-skipped": (s, r) =>
    note({ ...s, skipped: s.skipped + 1 }, r, `${r.file} was skipped: ${r.reason}`),

  "light-drifted": (s, r) => note(s, r, r.why),

  "span-estimated": (s, r) => ({ ...s, span: r }),

  "session-held": (s, r) => note({ ...s, held: true }, r, "Held: no further shot."),
  "session-continued": (s, r) => note({ ...s, held: false }, r, "Goes on."),
  "session-resumed": (s, r) =>
    note({ ...s, resumed: s.resumed + 1 }, r, "Taken up again where it had ended."),

  report: (s, r) => {
    // A long lapse's report has a line for each frame: megabytes that the page does not show.
    const report = s.kind === "lapse" ? { ...r, frames: [] } : r;
    const ended = { ...s, report, planned: null, dial: null, underWay: null, counting: null, held: false, faults: [] };
    const failed = r.stopped === "trigger-failed" || r.stopped === "frames-missing";
    return failed ? withFault(ended, "end", r.why, r) : note(ended, r, r.why);
  },
};

/** Less movement than this share of the picture is not told. */
const WORTH_TELLING = 0.0005;

/** What has moved since the frame before; "" where nothing worth telling has. */
function movedWords(frame) {
  const change = frame.changes?.[0];
  if (!(change?.movedFraction > WORTH_TELLING)) return "";
  return `${share(change.movedFraction)} of the picture has moved since ${change.against}, of ${share(change.comparedFraction)} that both frames hold.`;
}

/** A tether's shots are an operator's releases. */
const shotName = (state) => (state.kind === "tether" ? "release" : "shot");

/** The shot of the record is no longer under way. */
function idle(state, record) {
  return state.underWay?.shot === record.shot ? { ...state, underWay: null } : state;
}

function entry(state, added) {
  const entries = [...state.entries, added];
  const surplus = Math.max(0, entries.length - MOST_ENTRIES);
  return {
    ...state,
    entries: entries.slice(surplus),
    entriesDropped: state.entriesDropped + surplus,
  };
}

function note(state, record, text) {
  return entry(state, { seq: record.seq, at: record.at, shot: null, exposure: null, text });
}

function withFault(state, key, text, record) {
  const faults = state.faults.filter((fault) => fault.key !== key);
  faults.push({ key, text });
  return note({ ...state, faults }, record, text);
}

function without(state, key) {
  return { ...state, faults: state.faults.filter((fault) => fault.key !== key) };
}

/** Where the session stands, as one word. */
export function phaseOf(state) {
  if (state.report !== null) return "ended";
  if (state.opened === null) return "unopened";
  const faults = state.faults.map((fault) => fault.key);
  // A tether goes on without: the photographer's own finger releases.
  if (faults.includes("trigger") && state.kind !== "tether") return "without-trigger";
  if (faults.includes("folder")) return "without-folder";
  if (state.counting !== null) return "counting";
  if (state.underWay !== null && state.kind !== "lapse") return state.underWay.released ? "arriving" : "exposing";
  if (state.held) return "held";
  if (state.dial !== null && (state.kind === "bracket" || state.dial.turns.length > 0)) return "by-hand";
  if (state.kind === "lapse") return state.lapse.startAt === null ? "starting" : "running";
  if (state.kind === "tether") return state.tether.frames.length === 0 ? "empty" : "watching";
  if (state.planned !== null) return "planned";
  return state.frames.length === 0 ? "starting" : "deciding";
}

/** Seconds from the first record to the newest, null before the first. */
export function elapsedSeconds(state) {
  if (state.openedAt === null || state.at === null) return null;
  return Math.max(0, (Date.parse(state.at) - Date.parse(state.openedAt)) / 1000);
}
