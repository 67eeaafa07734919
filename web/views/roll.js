import { offsetScale, shapePath } from "../charts/offsets.js";
import { byId, make, makeSvg, set, show, write } from "../dom.js";
import * as format from "../format.js";
import { frameOf, framesOf } from "../frames.js";
import { offWords } from "../lapse.js";
import { PITCH, placeAfter, scrolledTo, window as seen } from "../reel.js";

/** A roll that still moves loads no pictures, milliseconds. */
const REST_MS = 120;

/** The small axis under a lapse's frame, stops either way. */
const SMALL = offsetScale(0.3, 8, 76);

/** Frames of a lapse that are off by this much are told apart, stops: two thirds, a third. */
const ALARMED = 0.667;
const WARNED = 0.334;

/**
 * How a frame stands: "fits", "warning", "alarm", or "apart" where nothing was meant. Of a bracket
 * none is wrong, each is for its own part of the light; one that the set can do without is apart.
 */
export function standOf(row, spare = false) {
  if (row.off === undefined) return spare ? "apart" : "fits";
  if (row.off === null) return "apart";
  const size = Math.abs(row.off);
  return size >= ALARMED ? "alarm" : size >= WARNED ? "warning" : "fits";
}

/** The verdict on a frame, in words. */
export function verdictOf(row, spare = false) {
  if (row.off === undefined) {
    const held = `clipped ${format.share(row.clippedFraction)}, below the floor ${format.share(row.belowFloorFraction)}`;
    return spare ? `${held}, adds nothing to the set` : held;
  }
  return offWords(row) || "not measured";
}

/** A frame of the roll, in words. */
export function cellWords(row, said, spare = false) {
  const mark = said?.mark === "keep" ? "kept" : said?.mark === "reject" ? "rejected" : null;
  const note = said?.note ? `note: ${said.note}` : null;
  return [`Frame ${row.index}`, verdictOf(row, spare), mark, note].filter(Boolean).join(", ");
}

function createCell() {
  const cell = make("div", "cell");
  const picture = make("div", "cell-picture");
  const image = make("img");
  image.alt = "";
  image.draggable = false;
  picture.append(image);
  const svg = makeSvg("svg");
  set(svg, "width", 84);
  set(svg, "height", 16);
  set(svg, "aria-hidden", "true");
  svg.append(makeSvg("path", "cell-axis"), makeSvg("path", "shape"));
  const line = make("div", "cell-line");
  line.append(make("span", "cell-number"), make("span", "cell-said"));
  cell.append(picture, svg, line);
  set(cell, "role", "option");
  return cell;
}

function drawCell(cell, row, { said, spare, place, count, selected }) {
  const [picture, svg, line] = cell.children;
  if (cell.dataset.preview !== (row.preview ?? "")) {
    cell.dataset.preview = row.preview ?? "";
    set(picture.firstElementChild, "src", null);
  }
  const measured = Number.isFinite(row.off);
  set(svg.children[0], "d", measured ? `M8 8H76M${SMALL.x(0)} 3v10` : "");
  const stand = standOf(row, spare);
  set(svg.children[1], "d", shapePath(stand, measured ? SMALL.x(row.off) : 42, 8, 12));
  set(svg.children[1], "class", `shape ${stand}`);
  write(line.children[0], String(row.index));
  const mark = said?.mark === "keep" ? "kept" : said?.mark === "reject" ? "rejected" : "";
  write(line.children[1], said === undefined ? format.shutter(row.shutterSeconds) : said.note ? `${mark} ✎`.trim() : mark);
  set(cell, "data-said", said?.mark ?? "none");
  set(cell, "id", `roll-${row.index}`);
  set(cell, "aria-label", cellWords(row, said, spare));
  set(cell, "aria-selected", String(selected));
  set(cell, "aria-posinset", place + 1);
  set(cell, "aria-setsize", count);
  cell.style.left = `${place * PITCH}px`;
  cell.dataset.index = String(row.index);
}

/**
 * A bracket's or a lapse's frames in a row. Only those that are seen are in the page.
 *
 * @param choose shows a frame; null follows the last
 * @param say.keep marks the frame that is shown, likewise say.reject
 */
export function createRoll(choose, say) {
  const reel = byId("roll-reel");
  const rest = make("div", "reel-rest");
  const cells = [];
  reel.append(rest);
  let rows = [];
  let marks = {};
  let report = null;
  /** Numbers of a bracket's frames that its set can do without. */
  let spare = new Set();
  let current = null;
  let resting = null;
  let followed = null;

  function load() {
    for (const cell of cells) {
      if (cell.hidden || cell.dataset.preview === "") continue;
      set(cell.querySelector("img"), "src", `previews/${encodeURIComponent(cell.dataset.preview)}?small`);
    }
  }

  function draw() {
    const count = rows.length;
    const { first, end } = seen({ scrolled: reel.scrollLeft, wide: reel.clientWidth, count });
    rest.style.width = `${count * PITCH}px`;
    while (cells.length < end - first) {
      const cell = createCell();
      cells.push(cell);
      reel.append(cell);
    }
    // A place keeps its cell while it is seen, so that its picture is not asked for again.
    const used = new Set();
    for (let place = first; place < end; place++) {
      const cell = cells[place % cells.length];
      const row = rows[place];
      used.add(cell);
      show(cell, true);
      drawCell(cell, row, { said: marks[row.file], spare: spare.has(row.index), place, count, selected: row === current });
    }
    for (const cell of cells) {
      if (used.has(cell)) continue;
      show(cell, false);
      set(cell, "id", null);
    }
    const at = rows.indexOf(current);
    set(reel, "aria-activedescendant", at >= first && at < end ? `roll-${current.index}` : null);
    clearTimeout(resting);
    resting = setTimeout(load, REST_MS);
  }

  function go(place) {
    const row = rows[place];
    if (row === undefined) return;
    choose(place === rows.length - 1 ? null : row.index);
  }

  reel.addEventListener("scroll", () => requestAnimationFrame(draw));
  new ResizeObserver(draw).observe(reel);
  reel.addEventListener("click", (event) => {
    const cell = event.target.closest(".cell");
    if (cell !== null) go(rows.findIndex(({ index }) => String(index) === cell.dataset.index));
  });
  reel.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const place = placeAfter(event.key, rows.indexOf(current), { count: rows.length, wide: reel.clientWidth });
    if (place !== null) go(place);
    else if (event.key === "k") say.keep();
    else if (event.key === "r") say.reject();
    else return;
    event.preventDefault();
  });

  return (state, { look }) => {
    const now = framesOf(state);
    const row = frameOf(state, look.index);
    if (now === rows && row === current && marks === state.tether.marks && report === state.report) return;
    rows = now;
    marks = state.tether.marks;
    report = state.report;
    spare = new Set((report?.frames ?? []).filter(({ inSet }) => inSet === false).map(({ index }) => index));
    current = row;
    show(byId("roll"), rows.length > 0);
    if (row !== null && row.index !== followed && reel.clientWidth > 0) {
      followed = row.index;
      rest.style.width = `${rows.length * PITCH}px`;
      reel.scrollLeft = scrolledTo({ scrolled: reel.scrollLeft, wide: reel.clientWidth, place: rows.indexOf(row) });
    }
    draw();
  };
}
