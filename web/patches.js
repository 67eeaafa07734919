/** A patch on a picture, in parts of its width and height from the upper left corner. Pure. */

/** No patch is narrower or lower than this part of the picture. */
export const LEAST = 0.01;

/** Where a patch begins that nobody has drawn yet. */
export const FIRST = Object.freeze({ left: 0.44, top: 0.42, width: 0.12, height: 0.16 });

/** A key's step; a tenth of it together with Alt. */
export const STEP = 0.01;

const clamp = (value, low, high) => Math.min(Math.max(value, low), high);

/** Digits that a picture of any camera needs, and few enough for a short request. */
const rounded = ({ left, top, width, height }) => {
  const cut = (value) => Math.round(value * 1e5) / 1e5;
  return { left: cut(left), top: cut(top), width: cut(width), height: cut(height) };
};

/** The rectangle between two corners, whichever was first. */
export function between(from, to) {
  const x = [clamp(from.x, 0, 1), clamp(to.x, 0, 1)].sort((a, b) => a - b);
  const y = [clamp(from.y, 0, 1), clamp(to.y, 0, 1)].sort((a, b) => a - b);
  const width = Math.max(x[1] - x[0], LEAST);
  const height = Math.max(y[1] - y[0], LEAST);
  return rounded({
    left: Math.min(x[0], 1 - width),
    top: Math.min(y[0], 1 - height),
    width,
    height,
  });
}

export function moved(patch, across, down) {
  return rounded({
    ...patch,
    left: clamp(patch.left + across, 0, 1 - patch.width),
    top: clamp(patch.top + down, 0, 1 - patch.height),
  });
}

/** Wider and higher by so much, its upper left corner staying. */
export function sized(patch, across, down) {
  return rounded({
    ...patch,
    width: clamp(patch.width + across, LEAST, 1 - patch.left),
    height: clamp(patch.height + down, LEAST, 1 - patch.top),
  });
}

/** What a key does to a patch; null for a key that does nothing. */
export function keyed(patch, key, { shift = false, alt = false } = {}) {
  const step = alt ? STEP / 10 : STEP;
  const ways = {
    ArrowLeft: [-step, 0],
    ArrowRight: [step, 0],
    ArrowUp: [0, -step],
    ArrowDown: [0, step],
  };
  if (!Object.hasOwn(ways, key)) return null;
  return (shift ? sized : moved)(patch, ...ways[key]);
}

/**
 * What a finger or pointer takes hold of.
 *
 * @param near how far beside a corner still counts, as parts of the width and of the height
 */
export function holdOf(patch, { x, y }, near) {
  const right = patch.left + patch.width;
  const lower = patch.top + patch.height;
  const close = (value, edge, within) => Math.abs(value - edge) <= within;
  for (const [cornerX, otherX] of [[patch.left, right], [right, patch.left]]) {
    for (const [cornerY, otherY] of [[patch.top, lower], [lower, patch.top]]) {
      if (close(x, cornerX, near.x) && close(y, cornerY, near.y)) {
        return { kind: "corner", from: { x: otherX, y: otherY } };
      }
    }
  }
  const inside = x >= patch.left && x <= right && y >= patch.top && y <= lower;
  return inside ? { kind: "inside" } : { kind: "outside" };
}
