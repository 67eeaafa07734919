import { round } from "./axis.js";

/** The axis of stops around a reference frame: darker left, brighter right, the reference at 0. */

/** How far the axis may reach either way, stops; what lies farther out stands at its end. */
const HALVES = [0.3, 0.6, 1.2, 2.4, 4.8];

/** A ratio less 1 in stops: 0.02 is 0.0286. */
export const stopsOf = (lessOne) => Math.log2(1 + lessOne);

/** The narrowest axis that holds all the values and shows where the alarm begins. */
export function halfOf(values, alarm) {
  const most = Math.max(1.2 * alarm, ...values.filter(Number.isFinite).map(Math.abs));
  return HALVES.find((half) => half >= most) ?? HALVES.at(-1);
}

export function offsetScale(half, left, right) {
  const middle = (left + right) / 2;
  const perStop = (right - left) / 2 / half;
  const x = (stops) => round(middle + Math.min(Math.max(stops, -half), half) * perStop);
  return { half, left, right, x, beyond: (stops) => Math.abs(stops) > half };
}

/** Ticks at six parts of either half, numerals at every second one. */
export function offsetTicks(scale, y) {
  const step = scale.half / 6;
  let path = `M${scale.left} ${y}H${scale.right}`;
  const numerals = [];
  for (let i = -6; i <= 6; i++) {
    const stops = i * step;
    path += `M${scale.x(stops)} ${y}v${i === 0 ? 13 : i % 2 === 0 ? 9 : 5}`;
    if (i % 2 === 0) numerals.push({ stops, x: scale.x(stops) });
  }
  return { path, numerals };
}

/** A mark by its shape: a ring fits, an open diamond warns, a solid triangle is an alarm. */
export function shapePath(weight, x, y, size) {
  const r = size / 2;
  switch (weight) {
    case "alarm":
      return `M${x} ${round(y - r)}L${round(x + r)} ${round(y + r * 0.8)}H${round(x - r)}Z`;
    case "warning":
      return `M${x} ${round(y - r)}L${round(x + r)} ${y}L${x} ${round(y + r)}L${round(x - r)} ${y}Z`;
    case "fits": {
      const ring = round(r * 0.75);
      return `M${round(x - ring)} ${y}a${ring} ${ring} 0 1 0 ${2 * ring} 0a${ring} ${ring} 0 1 0 ${-2 * ring} 0Z`;
    }
    default:
      return `M${round(x - r * 0.75)} ${y}h${round(r * 1.5)}`;
  }
}

/** The way of a value over frames, the oldest at the top, as a path; a break where none is told. */
export function trailPath(values, scale, top, pitch) {
  let path = "";
  let open = false;
  values.forEach((value, i) => {
    if (!Number.isFinite(value)) {
      open = false;
      return;
    }
    path += `${open ? "L" : "M"}${scale.x(value)} ${round(top + i * pitch)}`;
    open = true;
  });
  return path;
}
