import { perStop } from "../charts/columns.js";
import { fill, make, write } from "../dom.js";
import * as format from "../format.js";

/** Frames in the table at once, the newest. */
const MOST_FRAMES = 100;

const FRAME_COLUMNS = [
  ["Frame", (f) => String(f.index)],
  ["File", (f) => f.file],
  ["Shutter", (f) => format.shutter(f.shutterSeconds)],
  ["Aperture", (f) => format.aperture(f.aperture)],
  ["ISO", (f) => String(f.iso ?? "–")],
  ["EV", (f) => format.evNumber(f.ev)],
  ["Reach from EV", (f) => format.evNumber(f.reachLowEv)],
  ["to EV", (f) => format.evNumber(f.reachHighEv)],
  ["Clipped", clippedWords],
  ["Below floor", (f) => format.share(f.belowFloorFraction)],
];

const SCENE_COLUMNS = [
  ["From EV", (row) => format.evNumber(row.fromEv, 0)],
  ["to EV", (row) => format.evNumber(row.fromEv + 1, 0)],
  ["Share of the scene", (row) => format.share(row.share)],
];

/** Of raw data, and behind it of the JPEG of the same press where both are there. */
function clippedWords({ clippedFraction, jpeg }) {
  const share = format.share(clippedFraction);
  return jpeg ? `${share} (JPEG ${format.share(jpeg.clippedFraction)})` : share;
}

/** The chart's content as two tables: what each frame holds, and how the scene's light is spread. */
export function fillTables(box, state, { histogram }) {
  if (box.childElementCount === 0) {
    box.append(table("What each frame holds", FRAME_COLUMNS), table("The scene's light, a stop a row", SCENE_COLUMNS));
  }
  const [frames, scene] = box.children;
  const earlier = Math.max(0, state.frames.length - MOST_FRAMES);
  write(
    frames.caption,
    earlier === 0 ? "What each frame holds" : `What each frame holds (without the first ${earlier})`,
  );
  rows(frames, FRAME_COLUMNS, state.frames.slice(-MOST_FRAMES));
  rows(scene, SCENE_COLUMNS, histogram === null ? [] : perStop(histogram));
}

function table(caption, columns) {
  const element = make("table");
  element.append(make("caption", "", caption), make("thead"), make("tbody"));
  const head = make("tr");
  for (const [name] of columns) {
    const cell = make("th", "", name);
    cell.scope = "col";
    head.append(cell);
  }
  element.tHead.append(head);
  return element;
}

function rows(element, columns, items) {
  fill(
    element.tBodies[0],
    items,
    () => {
      const row = make("tr");
      for (let i = 0; i < columns.length; i++) row.append(make("td"));
      return row;
    },
    (row, item) => columns.forEach(([, text], i) => write(row.cells[i], text(item))),
  );
}
