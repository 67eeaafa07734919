/**
 * What of a picture is seen: `scale` times as large as when it fits, from a corner in parts of the
 * picture. Pure.
 */

export const WHOLE = Object.freeze({ scale: 1, left: 0, top: 0 });

/** A key's or button's step. */
export const STEP = 1.5;

/** What is cut at full size is wider than what is seen, so that a small move needs no new cut. */
const MARGIN = 0.25;

/** Beyond this the preview has not pixels enough. */
const ENOUGH = 1.05;

const clamp = (value, low, high) => Math.min(Math.max(value, low), high);

/** @param most the scale at which a pixel of the frame is one of the screen */
function kept({ scale, left, top }, most) {
  const bounded = clamp(scale, 1, Math.max(1, most));
  const room = 1 - 1 / bounded;
  return { scale: bounded, left: clamp(left, 0, room), top: clamp(top, 0, room) };
}

/** Nearer or farther by a factor; what lies at a point of what is seen, in parts of it, stays there. */
export function zoomedAt(view, factor, { x, y }, most) {
  const scale = clamp(view.scale * factor, 1, Math.max(1, most));
  return kept(
    {
      scale,
      left: view.left + x / view.scale - x / scale,
      top: view.top + y / view.scale - y / scale,
    },
    most,
  );
}

/** Moved by parts of what is seen, as a hand moves the picture. */
export function panned(view, across, down, most) {
  return kept(
    { ...view, left: view.left - across / view.scale, top: view.top - down / view.scale },
    most,
  );
}

/** From all of it to 100 % at a point, and back. */
export function toggledAt(view, point, most) {
  return view.scale > 1 ? WHOLE : zoomedAt(view, most, point, most);
}

/** The scale at which a pixel of the frame is a pixel of the screen; at least 1. */
export const mostOf = (framePixels, seenPixels, density) => Math.max(1, framePixels / (seenPixels * density));

/** Whether the preview has too few pixels for a view. */
export const wantsDetail = ({ scale }, seenPixels, density, previewPixels) =>
  scale * seenPixels * density > ENOUGH * previewPixels;

/**
 * The part of the picture to cut at full size for a view: whole pixels of the frame, so that none is
 * smeared over two of the screen.
 *
 * @param frame the frame's width and height, pixels
 */
export function partOf({ scale, left, top }, frame) {
  const side = 1 / scale;
  const grid = (edge, pixels) => {
    const from = Math.floor(Math.max(0, edge - MARGIN * side) * pixels);
    const to = Math.min(pixels, from + Math.ceil(side * (1 + 2 * MARGIN) * pixels));
    return [from / pixels, (to - from) / pixels];
  };
  const [x, width] = grid(left, frame.width);
  const [y, height] = grid(top, frame.height);
  return { left: x, top: y, width, height };
}

/** Whether a part holds all that a view shows. */
export function holds(part, { scale, left, top }) {
  const slack = 1e-3;
  const within = (from, size, edge) => from <= edge + slack && from + size >= edge + 1 / scale - slack;
  return within(part.left, part.width, left) && within(part.top, part.height, top);
}

const written = (part) => (part >= 1 ? "1" : part.toFixed(9));

/** The address of a part of a frame. */
export function detailAddress(file, part) {
  const where = ["left", "top", "width", "height"].map((name) => `${name}=${written(part[name])}`);
  return `frames/${encodeURIComponent(file)}?${where.join("&")}`;
}
