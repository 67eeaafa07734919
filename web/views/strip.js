import { offsetScale, shapePath } from "../charts/offsets.js";
import { byId, make, makeSvg, set, show, write } from "../dom.js";
import * as format from "../format.js";
import { PITCH, placeAfter, scrolledTo, window as seen } from "../reel.js";
import { filtered, frameAt, isReference } from "../tether.js";
import { verdictWords } from "./against.js";

/** A strip that still moves loads no pictures, milliseconds. */
const REST_MS = 120;

/** The small axis under each frame, stops either way. */
const SMALL_HALF = 0.3;

const small = (name) => `previews/${encodeURIComponent(name)}?small`;

/** A frame in the strip, in words. */
export function cellWords(tether, row) {
  const said = tether.marks[row.file];
  return [
    `Frame ${row.index}`,
    verdictWords(tether, row),
    row.deviation === null ? null : format.lightChange(row.deviation.exposure),
    said?.mark === "keep" ? "kept" : said?.mark === "reject" ? "rejected" : null,
    said?.note ? `note: ${said.note}` : null,
  ]
    .filter(Boolean)
    .join(", ");
}

export function filterWords(filter, shown, all) {
  if (filter === "all") return format.count(all, "frame");
  return `${shown} of ${format.count(all, "frame")}`;
}

function createCell() {
  const cell = make("div", "cell");
  const picture = make("div", "cell-picture");
  const image = make("img");
  picture.append(image);
  image.alt = "";
  image.draggable = false;
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

const SMALL_SCALE = offsetScale(SMALL_HALF, 8, 76);

function drawCell(cell, tether, row, place, count, selected) {
  const [picture, svg, line] = cell.children;
  const image = picture.firstElementChild;
  const key = row.preview ?? "";
  if (cell.dataset.preview !== key) {
    cell.dataset.preview = key;
    set(image, "src", null);
  }
  const weight = isReference(tether, row) ? "fits" : row.weight;
  const axis = `M8 8H76M${SMALL_SCALE.x(0)} 3v10`;
  set(svg.children[0], "d", row.deviation === null ? "" : axis);
  const x = row.deviation === null ? 42 : SMALL_SCALE.x(row.deviation.exposure);
  set(svg.children[1], "d", shapePath(weight, x, 8, 12));
  set(svg.children[1], "class", `shape ${weight}`);
  const said = tether.marks[row.file];
  write(line.children[0], isReference(tether, row) ? `${row.index} ref` : String(row.index));
  const words = said?.mark === "keep" ? "kept" : said?.mark === "reject" ? "rejected" : "";
  write(line.children[1], said?.note ? `${words} ✎`.trim() : words);
  set(cell, "data-said", said?.mark ?? "none");
  set(cell, "id", `frame-${row.index}`);
  set(cell, "aria-label", cellWords(tether, row));
  set(cell, "aria-selected", String(selected));
  set(cell, "aria-posinset", place + 1);
  set(cell, "aria-setsize", count);
  cell.style.left = `${place * PITCH}px`;
  cell.dataset.index = String(row.index);
}

/**
 * All frames in a row. Only those that are seen are in the page, and their cells are used again.
 *
 * @param choose shows a frame; null follows the last
 * @param say.keep marks the frame that is shown, likewise say.reject
 */
export function createStrip(choose, setFilter, say) {
  const reel = byId("reel");
  const rest = make("div", "reel-rest");
  const cells = [];
  reel.append(rest);
  let tether = null;
  let rows = [];
  let look = null;
  let drawn = {};
  let resting = null;
  let followed = null;

  const placeOf = (index) => rows.findIndex((row) => row.index === index);

  function load() {
    for (const cell of cells) {
      if (cell.hidden || cell.dataset.preview === "") continue;
      set(cell.querySelector("img"), "src", small(cell.dataset.preview));
    }
  }

  function draw() {
    if (tether === null) return;
    const count = rows.length;
    const { first, end } = seen({ scrolled: reel.scrollLeft, wide: reel.clientWidth, count });
    rest.style.width = `${count * PITCH}px`;
    const current = frameAt(tether, look.index);
    while (cells.length < end - first) {
      const cell = createCell();
      cells.push(cell);
      reel.append(cell);
    }
    // A place keeps its cell while it is seen, so that its picture is not asked for again.
    const free = new Set(cells);
    const taken = new Map();
    for (const cell of cells) {
      const place = Number(cell.dataset.place);
      const row = rows[place];
      if (cell.dataset.place !== undefined && place >= first && place < end && String(row.index) === cell.dataset.index) {
        taken.set(place, cell);
        free.delete(cell);
      }
    }
    const spare = [...free];
    for (let place = first; place < end; place++) {
      const cell = taken.get(place) ?? spare.pop();
      cell.dataset.place = String(place);
      show(cell, true);
      drawCell(cell, tether, rows[place], place, count, rows[place] === current);
    }
    for (const cell of spare) {
      show(cell, false);
      set(cell, "id", null);
      delete cell.dataset.place;
    }
    const at = current === null ? -1 : placeOf(current.index);
    set(reel, "aria-activedescendant", at >= first && at < end ? `frame-${current.index}` : null);
    clearTimeout(resting);
    resting = setTimeout(load, REST_MS);
  }

  function bring(place) {
    if (place < 0 || reel.clientWidth === 0) return;
    const wanted = scrolledTo({ scrolled: reel.scrollLeft, wide: reel.clientWidth, place });
    if (wanted !== reel.scrollLeft) reel.scrollLeft = wanted;
  }

  function go(place) {
    const row = rows[place];
    if (row === undefined) return;
    choose(row.index === tether.frames.length ? null : row.index);
    bring(place);
  }

  let asked = false;
  reel.addEventListener("scroll", () => {
    if (asked) return;
    asked = true;
    requestAnimationFrame(() => {
      asked = false;
      draw();
    });
  });
  new ResizeObserver(draw).observe(reel);
  reel.addEventListener("click", (event) => {
    const cell = event.target.closest(".cell");
    if (cell !== null) go(Number(cell.dataset.place));
  });
  reel.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const current = frameAt(tether, look.index);
    const from = current === null ? -1 : placeOf(current.index);
    const place = placeAfter(event.key, from, { count: rows.length, wide: reel.clientWidth });
    if (place !== null) go(place);
    else if (event.key === "k") say.keep();
    else if (event.key === "r") say.reject();
    else return;
    event.preventDefault();
  });
  for (const choice of document.querySelectorAll("#filters input")) {
    choice.addEventListener("change", () => setFilter(choice.value));
  }
  byId("jump").addEventListener("submit", (event) => {
    event.preventDefault();
    const wanted = Number(byId("jump-to").value);
    const row = tether.frames[wanted - 1];
    set(byId("jump-to"), "aria-invalid", row === undefined ? "true" : null);
    if (row === undefined) {
      write(byId("strip-told"), `There is no frame ${byId("jump-to").value}.`);
      return;
    }
    if (placeOf(row.index) < 0) {
      document.querySelector("#filters input").checked = true;
      setFilter("all");
    }
    choose(row.index);
    followed = null;
  });

  return (state, here) => {
    const inputs = { tether: state.tether, filter: here.look.filter, index: here.look.index };
    if (Object.keys(inputs).every((key) => inputs[key] === drawn[key])) return;
    const before = drawn;
    drawn = inputs;
    tether = state.tether;
    look = here.look;
    rows = filtered(tether, look.filter);
    write(byId("strip-told"), filterWords(look.filter, rows.length, tether.frames.length));
    show(byId("reel-empty"), rows.length === 0);
    write(byId("reel-empty"), tether.frames.length === 0 ? "Nothing has landed yet." : "No frame is in this choice.");
    rest.style.width = `${rows.length * PITCH}px`;
    const current = frameAt(tether, look.index);
    const key = `${current?.index} ${look.filter}`;
    // Brings what is shown into sight when that changes, not whenever a frame lands.
    if (current !== null && (key !== followed || before.filter !== look.filter)) {
      followed = key;
      bring(placeOf(current.index));
    }
    draw();
  };
}

