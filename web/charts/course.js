/**
 * A lapse's course: the EV axis lies on top, time hangs down from it. Columns in, paths out; what
 * lies outside of the time that is seen is not drawn, and to a pixel's row at most four points are.
 */

import { round } from "./axis.js";

/** Steps of the time axis, seconds. */
const STEPS = [1, 5, 10, 30, 60, 120, 300, 600, 900, 1_800, 3_600, 7_200, 14_400, 28_800];

/** A label of a time needs so many pixels. */
const LEAST_PITCH = 44;

/** From seconds to pixels. */
export function timeScale(from, to, top, bottom) {
  const perSecond = (bottom - top) / Math.max(to - from, 1e-3);
  return { from, to, top, bottom, y: (seconds) => round(top + (seconds - from) * perSecond) };
}

/** Whole steps of the day's clock within a scale: [{seconds, y}]. */
export function timeTicks({ from, to, top, bottom, y }, clockOffset) {
  const room = Math.max(1, (bottom - top) / LEAST_PITCH);
  const step = STEPS.find((each) => (to - from) / each <= room) ?? STEPS.at(-1);
  const ticks = [];
  const first = Math.ceil((from + clockOffset) / step) * step - clockOffset;
  for (let seconds = first; seconds <= to; seconds += step) ticks.push({ seconds, y: y(seconds) });
  return ticks;
}

/** At most four points to a pixel's row: the first, the least, the largest, the last. */
export function perRow(points, y) {
  const kept = [];
  let row = [];
  const close = () => {
    if (row.length <= 4) kept.push(...row);
    else {
      const least = row.reduce((one, other) => (other.ev < one.ev ? other : one));
      const largest = row.reduce((one, other) => (other.ev > one.ev ? other : one));
      kept.push(...row.filter((each, i) => i === 0 || i === row.length - 1 || each === least || each === largest));
    }
    row = [];
  };
  for (const point of points) {
    const broken = point.ev === null;
    if (row.length > 0 && (broken || Math.round(y(row[0].seconds)) !== Math.round(y(point.seconds)))) close();
    if (broken) kept.push(point);
    else row.push(point);
  }
  close();
  return kept;
}

/** The points that are seen, and one beyond either end. */
export function seenOf(points, { from, to }) {
  const first = points.findIndex(({ seconds }) => seconds >= from);
  if (first < 0) return points.slice(-1);
  const after = points.findIndex(({ seconds }) => seconds > to);
  return points.slice(Math.max(0, first - 1), after < 0 ? points.length : after + 1);
}

/** A line through points; a break where none is told. */
export function linePath(points, x, time) {
  let path = "";
  let open = false;
  for (const { seconds, ev } of perRow(seenOf(points, time), time.y)) {
    if (ev === null) {
      open = false;
      continue;
    }
    path += `${open ? "L" : "M"}${x(ev)} ${time.y(seconds)}`;
    open = true;
  }
  return path;
}

/** The same in steps: a setting holds until it is changed. */
export function stepPath(points, x, time) {
  let path = "";
  for (const { seconds, ev } of perRow(seenOf(points, time), time.y)) {
    path += path === "" ? `M${x(ev)} ${time.y(seconds)}` : `V${time.y(seconds)}H${x(ev)}`;
  }
  return path;
}

/** Small crosses at times. */
export function crossesPath(times, x, time) {
  let path = "";
  let before = Number.NEGATIVE_INFINITY;
  for (const seconds of times) {
    const y = time.y(seconds);
    if (seconds < time.from || seconds > time.to || y - before < 6) continue;
    path += `M${x - 4} ${y - 4}l8 8M${x - 4} ${y + 4}l8 -8`;
    before = y;
  }
  return path;
}
