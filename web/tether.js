/**
 * A tether as a fold over its own records: every frame that landed, the reference frame, and what
 * was said of frames. Pure. Of a frame's record only what is shown is kept: two thousand of them
 * stay small.
 */

export const NO_TETHER = Object.freeze({
  frames: Object.freeze([]),
  /** {file, patch, since}: `since` is how many frames there were when it was marked. */
  reference: null,
  /** By file: {mark, note}. */
  marks: Object.freeze({}),
});

export const TETHER_RULES = {
  "frame-watched": (t, r) => {
    const frames = t.frames.slice();
    const row = rowOf(r, t.reference);
    const place = Math.min(r.index - 1, frames.length);
    frames[place] = row;
    return { ...t, frames };
  },
  "reference-marked": (t, r) => ({
    ...t,
    reference: { file: r.file, patch: r.patch ?? null, since: t.frames.length },
  }),
  "frame-marked": (t, r) => ({
    ...t,
    marks: { ...t.marks, [r.file]: { mark: r.mark, note: r.note ?? "" } },
  }),
};

function rowOf(record, reference) {
  const { frame } = record;
  const findings = record.findings ?? [];
  const deviation = record.deviation ?? null;
  return {
    index: record.index,
    at: record.at,
    file: frame.file,
    shutterSeconds: frame.shutterSeconds,
    aperture: frame.aperture,
    iso: frame.iso,
    width: frame.width ?? 0,
    height: frame.height ?? 0,
    preview: frame.preview ?? null,
    mask: frame.mask ?? null,
    clipped: frame.clippedFraction ?? null,
    sharpness: frame.sharpness ?? null,
    histogram: frame.histogramStops ?? null,
    deviation,
    findings,
    weight: weightOf(findings, deviation),
    against: reference?.file ?? null,
  };
}

/** The worst of what was found: "alarm", "warning", "fits", or "apart" where nothing was compared. */
export function weightOf(findings, deviation) {
  const has = (weight) => findings.some((finding) => finding.weight === weight);
  if (has("alarm")) return "alarm";
  if (has("warning")) return "warning";
  return deviation === null ? "apart" : "fits";
}

export const FILTERS = ["all", "warned", "alarmed", "kept", "rejected"];

/** The frames that a filter lets through; the same list as before where nothing changed. */
export function filtered({ frames, marks }, filter) {
  const marked = (mark) => frames.filter(({ file }) => marks[file]?.mark === mark);
  switch (filter) {
    case "warned":
      return frames.filter(({ weight }) => weight === "warning");
    case "alarmed":
      return frames.filter(({ weight }) => weight === "alarm");
    case "kept":
      return marked("keep");
    case "rejected":
      return marked("reject");
    default:
      return frames;
  }
}

/** The frame of an index; the newest for null; null before the first. */
export function frameAt({ frames }, index) {
  if (index === null) return frames.at(-1) ?? null;
  return frames[index - 1] ?? frames.at(-1) ?? null;
}

/** The reference frame's own row, null where none is marked. */
export function referenceRow({ frames, reference }) {
  if (reference === null) return null;
  return frames.findLast(({ file }) => file === reference.file) ?? null;
}

export const isReference = ({ reference }, row) => reference !== null && row?.file === reference.file;

/** Frames from before, that tell what is usual: as many as the program looks at. */
export const MEMORY = 24;

/** The frames that were held against the same reference frame, up to one of them; oldest first. */
export function trail({ frames }, row, most = MEMORY) {
  const rows = [];
  for (let i = row.index - 1; i >= 0 && rows.length < most; i--) {
    const each = frames[i];
    if (each.deviation === null || each.deviation.against !== row.deviation?.against) break;
    rows.unshift(each);
  }
  return rows;
}

/** How sharp a frame is against the median of the reference frame and those before: −0.1 is less. */
export function sharpnessAgainst(tether, row) {
  const all = trail(tether, row)
    .slice(0, -1)
    .concat(referenceRow(tether) ?? [])
    .map(({ sharpness }) => sharpness)
    .filter((value) => value > 0)
    .sort((one, other) => one - other);
  if (all.length === 0 || !(row.sharpness >= 0)) return null;
  const half = all.length >> 1;
  const median = all.length % 2 === 1 ? all[half] : (all[half - 1] + all[half]) / 2;
  return row.sharpness / median - 1;
}

/** Alarms of frames after the one that was last noted, the newest first. */
export function unnoted({ frames }, noted) {
  const rows = [];
  for (let i = frames.length - 1; i >= 0 && frames[i].index > noted; i--) {
    if (frames[i].weight === "alarm") rows.push(frames[i]);
  }
  return rows;
}
