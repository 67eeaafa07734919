/**
 * What the program says of what is to come: the ramp's forecast, the next change, the sun. Asked
 * for when the page opens and as the lapse goes on, never more often than it changes.
 */

/** Answers are this old at most while the lapse goes on, milliseconds. */
export const FRESH_MS = 10_000;

export const NO_OUTLOOK = Object.freeze({ coming: null, change: null, sun: null });

/** One JSON object from an address; null where the program does not answer with one. */
export async function fetched(address, send = (where) => fetch(where, { headers: { Accept: "application/json" } })) {
  try {
    const answer = await send(address);
    return answer.status === 200 ? await answer.json() : null;
  } catch {
    return null;
  }
}

/** By how much the host's clock is before this device's, milliseconds. */
export const clockOffset = (hostNow, deviceNow) => Date.parse(hostNow) - deviceNow;

/**
 * @param tell told {outlook, offset} when there is news
 * @param edge fetched(address), now() and setTimeout(task, wait), or stand-ins
 */
export function createOutlook(tell, edge) {
  let askedAt = Number.NEGATIVE_INFINITY;
  let seq = -1;
  let due = false;

  async function ask() {
    due = false;
    askedAt = edge.now();
    const answer = await edge.fetched("api/ahead");
    if (answer === null || typeof answer.now !== "string") return;
    tell({
      outlook: { coming: answer.coming ?? null, change: answer.change ?? null, sun: answer.sun ?? null },
      offset: clockOffset(answer.now, edge.now()),
    });
  }

  return ({ kind, report, lapse }) => {
    if (kind !== "lapse" || lapse.startAt === null || report !== null) return;
    const newest = lapse.counts.shots + lapse.counts.framed;
    if (newest === seq || due) return;
    seq = newest;
    const wait = askedAt + FRESH_MS - edge.now();
    if (wait <= 0) ask();
    else {
      due = true;
      edge.setTimeout(ask, wait);
    }
  };
}
