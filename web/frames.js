/** The frames of any session as rows, and which of them is looked at. Pure. */

/** All rows that are kept, the oldest first. */
export function framesOf(state) {
  if (state.kind === "tether") return state.tether.frames;
  return state.kind === "lapse" ? state.lapse.frames : state.frames;
}

/** The frame of an index; the newest for null, or where that one is not kept any more. */
export function frameOf(state, index) {
  const rows = framesOf(state);
  const newest = rows.at(-1) ?? null;
  return index === null ? newest : (rows.find((row) => row.index === index) ?? newest);
}
