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

/** The part of the picture to cut at full size for a view. */
export function partOf({ scale, left, top }) {
  const side = 1 / scale;
  const from = (edge) => Math.floor(1e4 * Math.max(0, edge - MARGIN * side)) / 1e4;
  const wide = (edge) => Math.floor(1e4 * Math.min(1 - from(edge), side * (1 + 2 * MARGIN))) / 1e4;
  return { left: from(left), top: from(top), width: wide(left), height: wide(top) };
}

/** Whether a part holds all that a view shows. */
export function holds(part, { scale, left, top }) {
  const slack = 1e-3;
  const within = (from, size, edge) => from <= edge + slack && from + size >= edge + 1 / scale - slack;
  return within(part.left, part.width, left) && within(part.top, part.height, top);
}

const written = (part) => (part >= 1 ? "1" : part.toFixed(4));

/** The address of a part of a frame. */
export function detailAddress(file, part) {
  const where = ["left", "top", "width", "height"].map((name) => `${name}=${written(part[name])}`);
  return `frames/${encodeURIComponent(file)}?${where.join("&")}`;
}
