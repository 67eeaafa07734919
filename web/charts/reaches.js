/** Reaches on the EV axis: what the frames hold together, and what they leave open. */

/** Rows that are drawn; earlier frames are then drawn together as one. */
export const MOST_ROWS = 10;

/** An EV difference below which two ends are the same: a hundredth of a stop. */
const SAME = 0.01;

/**
 * What a frame that is only planned will hold, if the sensor does as it did in the last frame: a
 * higher ISO raises the floor by as many stops and leaves the ceiling. Before any frame: the
 * ceiling that follows from ISO 12232's mid grey, and the floor of a sensor of today at a
 * signal-to-noise of 10; drawn dashed, since it is a plan.
 */
export function expectedReach(planned, last) {
  const { exposure, reachLowEv, reachHighEv } = planned;
  if (Number.isFinite(reachLowEv) && Number.isFinite(reachHighEv)) {
    return { low: reachLowEv, high: reachHighEv };
  }
  if (last === null) return { low: exposure.ev - 5.9, high: exposure.ev + 2.9 };
  const raised = Math.log2(exposure.iso / last.iso);
  return {
    low: exposure.ev + (last.reachLowEv - last.ev) + (Number.isFinite(raised) ? raised : 0),
    high: exposure.ev + (last.reachHighEv - last.ev),
  };
}

/** Reaches that touch are joined: [{low, high}], the darkest first. */
export function joined(reaches) {
  const sorted = reaches
    .filter(({ low, high }) => high > low)
    .sort((one, other) => one.low - other.low);
  const parts = [];
  for (const { low, high } of sorted) {
    const before = parts.at(-1);
    if (before !== undefined && low <= before.high + SAME) {
      before.high = Math.max(before.high, high);
    } else {
      parts.push({ low, high });
    }
  }
  return parts;
}

/** The parts of a span that no reach holds: [{low, high, where: "below"|"between"|"above"|"all"}]. */
export function openParts(span, reaches) {
  const held = joined(reaches).filter(({ low, high }) => high > span.low && low < span.high);
  if (held.length === 0) return [{ low: span.low, high: span.high, where: "all" }];
  const open = [];
  let from = span.low;
  for (const { low, high } of held) {
    if (low > from + SAME) {
      open.push({ low: from, high: low, where: from === span.low ? "below" : "between" });
    }
    from = Math.max(from, high);
  }
  if (from < span.high - SAME) open.push({ low: from, high: span.high, where: "above" });
  return open;
}

/** The rows to draw: the newest frames, and one row for all before them. */
export function rowsOf(frames, most = MOST_ROWS) {
  const kept = frames.length > most ? frames.slice(frames.length - most + 1) : frames;
  const earlier = frames.slice(0, frames.length - kept.length);
  const rows = kept.map((frame) => ({
    frames: [frame],
    parts: [{ low: frame.reachLowEv, high: frame.reachHighEv }],
  }));
  if (earlier.length > 0) {
    const parts = joined(earlier.map((f) => ({ low: f.reachLowEv, high: f.reachHighEv })));
    rows.unshift({ frames: earlier, parts });
  }
  return rows;
}
