/** What of a long strip is seen: only that is drawn. Pure. */

/** From the start of one frame to that of the next, pixels. */
export const PITCH = 96;

/** Frames drawn beyond either end of what is seen, so that a swipe does not run into nothing. */
export const BEYOND = 4;

/** The places, from the first to before the last, that are drawn. */
export function window({ scrolled, wide, count }) {
  const first = Math.max(0, Math.floor(scrolled / PITCH) - BEYOND);
  const end = Math.min(count, Math.ceil((scrolled + wide) / PITCH) + BEYOND);
  return { first: Math.min(first, count), end };
}

/** Where the strip has to stand so that a place is seen whole; where it stands if it is already. */
export function scrolledTo({ scrolled, wide, place }) {
  const left = place * PITCH;
  if (left < scrolled) return left;
  return Math.max(scrolled, left + PITCH - wide);
}

/** The place that a key leads to from another; null for a key that leads nowhere. */
export function placeAfter(key, place, { count, wide }) {
  const page = Math.max(1, Math.floor(wide / PITCH) - 1);
  const ways = {
    ArrowLeft: place - 1,
    ArrowUp: place - 1,
    ArrowRight: place + 1,
    ArrowDown: place + 1,
    PageUp: place - page,
    PageDown: place + page,
    Home: 0,
    End: count - 1,
  };
  if (count === 0 || !Object.hasOwn(ways, key)) return null;
  return Math.min(Math.max(ways[key], 0), count - 1);
}
