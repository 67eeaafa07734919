import { round } from "./axis.js";

/** The least share that is drawn, of 1: a pixel in a million. */
export const LEAST_SHARE = 1e-6;

/** A share of 1 on a logarithmic scale: 0 at the least that is drawn, 1 at the largest. */
export function heightOf(share, largest) {
  if (!(share > LEAST_SHARE)) return 0;
  return Math.log(share / LEAST_SHARE) / Math.log(Math.max(largest, 10 * LEAST_SHARE) / LEAST_SHARE);
}

/**
 * A histogram as one closed outline of steps.
 *
 * @param histogram {fromEv, binsPerStop, shares}
 * @param x from EV to pixels
 * @param base the pixel row of share 0
 * @param tall pixels of the largest share
 */
export function columnsPath({ fromEv, binsPerStop, shares }, x, base, tall) {
  const largest = Math.max(0, ...shares);
  let path = "";
  let open = false;
  shares.forEach((share, bin) => {
    const height = heightOf(share, largest) * tall;
    if (height > 0) {
      const y = round(base - height);
      path += open ? `V${y}` : `M${x(fromEv + bin / binsPerStop)} ${base}V${y}`;
      path += `H${x(fromEv + (bin + 1) / binsPerStop)}`;
      open = true;
    } else if (open) {
      path += `V${base}Z`;
      open = false;
    }
  });
  return open ? `${path}V${base}Z` : path;
}

/** The EVs at which the histogram begins and ends, empty if it holds nothing that is drawn. */
export function endsOf({ fromEv, binsPerStop, shares }) {
  const first = shares.findIndex((share) => share > LEAST_SHARE);
  if (first < 0) return [];
  let end = shares.length;
  while (!(shares[end - 1] > LEAST_SHARE)) end--;
  return [fromEv + first / binsPerStop, fromEv + end / binsPerStop];
}

/** Shares summed to whole EVs, for a table: [{fromEv, share}]. */
export function perStop({ fromEv, binsPerStop, shares }) {
  const sums = new Map();
  shares.forEach((share, bin) => {
    const whole = Math.floor(fromEv + bin / binsPerStop + 1e-9);
    sums.set(whole, (sums.get(whole) ?? 0) + share);
  });
  return [...sums].filter(([, share]) => share > 0).map(([from, share]) => ({ fromEv: from, share }));
}
