/** The light of a frame in stops below saturation: darkest left, clipping at 0. */

/** What is shown of it, stops. */
export const DOMAIN = Object.freeze({ low: -12, high: 0 });

/** A frame's counts as shares of 1; null where there are none. */
export function sharesOf(histogram) {
  const counts = histogram?.counts ?? [];
  const all = counts.reduce((sum, count) => sum + count, 0);
  if (all === 0) return null;
  return {
    fromEv: histogram.from,
    binsPerStop: histogram.binsPerStop,
    shares: counts.map((count) => count / all),
  };
}

/** The part of a histogram that lies in the domain; what is darker counts into its first bin. */
export function shownOf({ fromEv, binsPerStop, shares }) {
  const skipped = Math.max(0, Math.round((DOMAIN.low - fromEv) * binsPerStop));
  const shown = shares.slice(skipped);
  // Saturation has a bin of its own behind 0: it stands in the last that is shown.
  const room = (DOMAIN.high - DOMAIN.low) * binsPerStop;
  const beyond = shown.splice(room).reduce((sum, share) => sum + share, 0);
  if (shown.length > 0) {
    shown[0] += shares.slice(0, skipped).reduce((sum, share) => sum + share, 0);
    shown[shown.length - 1] += beyond;
  }
  return { fromEv: DOMAIN.low, binsPerStop, shares: shown };
}

/** The stop below which half of the picture's light lies, null where there is none. */
export function medianOf({ fromEv, binsPerStop, shares }) {
  let sum = 0;
  for (let bin = 0; bin < shares.length; bin++) {
    if (sum + shares[bin] >= 0.5) return fromEv + (bin + (0.5 - sum) / shares[bin]) / binsPerStop;
    sum += shares[bin];
  }
  return null;
}
