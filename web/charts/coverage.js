import { round } from "./axis.js";

/** The signal-to-noise ratios between which the curve is drawn; a logarithmic scale. */
export const LEAST_SNR = 1;

/**
 * The curve of one ratio over EV as a path of straight pieces.
 *
 * @param points [{ev, best, merged}], dark to bright
 * @param key which of the ratios
 * @param x from EV to pixels
 * @param y from a ratio to pixels
 */
export function curvePath(points, key, x, y) {
  return points.map((point, i) => `${i === 0 ? "M" : "L"}${x(point.ev)} ${y(point[key])}`).join("");
}

/**
 * The stretches in which no frame gives what was asked for, as a path along a row.
 *
 * @param y the row, pixels
 */
export function holesPath(points, asked, x, y) {
  const pieces = [];
  let from = null;
  points.forEach((point, i) => {
    const short = point.best < asked;
    if (short && from === null) from = point.ev;
    if (from !== null && (!short || i === points.length - 1)) {
      // A single point, too, leaves a mark.
      pieces.push(`M${x(from)} ${y}H${round(Math.max(x(point.ev), x(from) + 3))}`);
      from = null;
    }
  });
  return pieces.join("");
}

/** From a ratio to pixels, on a logarithmic scale from the bottom row to the top one. */
export function ratioScale(points, bottom, top) {
  const most = Math.max(10, ...points.map((point) => point.merged));
  const whole = Math.log(most / LEAST_SNR);
  return (ratio) => round(bottom - (Math.log(Math.max(ratio, LEAST_SNR) / LEAST_SNR) / whole) * (bottom - top));
}

/** The ratios worth a line: 1, 10, 100, 1000 as far as the curve goes. */
export function ratioTicks(points) {
  const most = Math.max(10, ...points.map((point) => point.merged));
  return [1, 10, 100, 1000].filter((ratio) => ratio <= most);
}
