import { halfOf, offsetScale, offsetTicks, shapePath, stopsOf, trailPath } from "../charts/offsets.js";
import { byId, fill, make, makeSvg, set, show, write } from "../dom.js";
import * as format from "../format.js";
import { frameAt, isReference, sharpnessAgainst, trail } from "../tether.js";

/** Pixels. */
const LEFT = 74;
const RIGHT = 62;
const ROW = 30;
const TRAIL_PITCH = 4;

const VERDICTS = {
  alarm: "Alarm",
  warning: "Warned",
  fits: "As the reference",
  apart: "Not compared",
};

export function verdictWords(tether, row) {
  if (row === null) return "No frame yet";
  if (isReference(tether, row)) return "The reference";
  return VERDICTS[row.weight];
}

/** Why a frame has no verdict, in a sentence. */
export function apartWords(tether, row) {
  if (row === null) return "The first frame that lands is shown here.";
  if (isReference(tether, row)) return "Every later frame is held against this one.";
  if (row.weight !== "apart") return "";
  return tether.reference === null
    ? "No reference frame is marked yet: make one of the frames the reference."
    : "It landed before the reference frame was marked.";
}

const weightIn = (row, kinds) => {
  const found = row.findings.filter(({ kind }) => kinds.includes(kind)).map(({ weight }) => weight);
  return found.includes("alarm") ? "alarm" : found.includes("warning") ? "warning" : "fits";
};

/** What hangs from the axis: a row for each thing that is measured in stops. */
export function rowsOf(row, levels) {
  const { deviation } = row;
  const colour = weightIn(row, ["colour"]);
  // The one colour that is within its level is not marked for the other one.
  const own = (lessOne) => (Math.abs(lessOne) >= (levels?.colour?.warn ?? 0) ? colour : "fits");
  return [
    {
      name: deviation.patch ? "Patch" : "Exposure",
      stops: deviation.exposure,
      value: format.fineStops(deviation.exposure),
      weight: weightIn(row, ["exposure", "misfire", "band"]),
      levels: levels?.exposureStops ?? null,
    },
    {
      name: "Red",
      stops: stopsOf(deviation.redToGreen),
      value: format.change(deviation.redToGreen),
      weight: own(deviation.redToGreen),
      levels: inStops(levels?.colour),
    },
    {
      name: "Blue",
      stops: stopsOf(deviation.blueToGreen),
      value: format.change(deviation.blueToGreen),
      weight: own(deviation.blueToGreen),
      levels: inStops(levels?.colour),
    },
  ];
}

const inStops = (pair) => (pair ? { warn: stopsOf(pair.warn), alarm: stopsOf(pair.alarm) } : null);

export function offsetsCaption(row) {
  if (row === null || row.deviation === null) return "";
  const { deviation } = row;
  const what = deviation.patch ? "The patch is" : "The picture is";
  const light = format.lightChange(deviation.exposure);
  return (
    `${what} ${light === "the same light" ? "in the same light" : light}; against green, red ` +
    `${format.change(deviation.redToGreen)}, blue ${format.change(deviation.blueToGreen)}.`
  );
}

/** What is not measured in stops: [name, words, weight]. */
export function othersOf(tether, row) {
  if (row === null) return [];
  const sharp = sharpnessAgainst(tether, row);
  const clipped = row.clipped;
  return [
    [
      "Clipped",
      clipped === null
        ? "–"
        : `red ${format.share(clipped.red)}, green ${format.share(clipped.green)}, blue ${format.share(clipped.blue)}`,
      weightIn(row, ["clipping"]),
    ],
    [
      "Sharpness",
      sharp === null || isReference(tether, row) ? "–" : `${format.change(sharp)} against the median`,
      weightIn(row, ["sharpness"]),
    ],
    ["Settings", format.knownExposure(row) || "not told by the file", weightIn(row, ["settings"])],
  ];
}

function createOther() {
  const row = make("div", "other");
  row.append(make("dt"), make("dd"));
  return row;
}

function updateOther(element, [name, words, weight]) {
  write(element.children[0], name);
  write(element.children[1], weight === "fits" ? words : `${weight === "alarm" ? "▲" : "◇"} ${words}`);
  set(element, "data-weight", weight);
}

export function createAgainst(redraw) {
  const figure = byId("offsets-figure");
  const table = byId("offsets-table");
  let wide = 0;
  let drawn = {};

  new ResizeObserver(() => {
    const now = Math.floor(figure.clientWidth);
    if (now !== wide) {
      wide = now;
      redraw();
    }
  }).observe(figure);
  table.addEventListener("toggle", redraw);

  return ({ tether, opened }, { look }) => {
    const row = frameAt(tether, look.index);
    const inputs = { row, reference: tether.reference, wide, open: table.open };
    if (Object.keys(inputs).every((key) => inputs[key] === drawn[key])) return;
    drawn = inputs;
    const weight = row === null ? "apart" : isReference(tether, row) ? "fits" : row.weight;
    set(byId("verdict-shape"), "d", shapePath(weight, 17, 17, 26));
    set(byId("verdict-shape"), "class", `shape ${weight}`);
    write(byId("verdict"), verdictWords(tether, row));
    const apart = apartWords(tether, row);
    fill(
      byId("findings"),
      apart !== "" ? [{ weight: "fits", words: apart }] : row.findings,
      () => make("li", "finding"),
      (item, finding) => {
        write(item, finding.words);
        set(item, "data-weight", finding.weight);
      },
    );
    const compared = row !== null && row.deviation !== null;
    show(figure, compared);
    if (compared && wide > 0) draw(tether, row, opened?.levels ?? null, wide);
    write(byId("offsets-caption"), offsetsCaption(row));
    fill(byId("others"), othersOf(tether, row), createOther, updateOther);
    show(table, compared);
    if (table.open) fillTable(tether, row);
  };
}

function draw(tether, row, levels, wide) {
  const rows = rowsOf(row, levels);
  const before = trail(tether, row);
  const alarm = levels?.exposureStops?.alarm ?? 0.2;
  const half = halfOf(rows.map(({ stops }) => stops), alarm);
  const scale = offsetScale(half, LEFT, wide - RIGHT);
  const axisY = 8;
  const top = axisY + 46;
  const trailTop = top + rows.length * ROW + 6;
  const tall = trailTop + Math.max(before.length - 1, 0) * TRAIL_PITCH + 8;
  const yOf = (place) => trailTop + place * TRAIL_PITCH;
  const chart = byId("offsets-chart");
  set(chart, "viewBox", `0 0 ${wide} ${tall}`);
  set(chart, "width", wide);
  set(chart, "height", tall);
  const { path, numerals } = offsetTicks(scale, axisY);
  set(byId("offsets-axis"), "d", path);
  set(byId("offsets-guides"), "d", `M${scale.x(0)} ${top - 12}V${tall}`);
  fill(
    byId("offsets-numerals"),
    numerals,
    () => makeSvg("text", "numeral"),
    (text, { stops, x }) => {
      write(text, stops === 0 ? "0" : format.evNumber(stops));
      set(text, "x", x);
      set(text, "y", axisY + 30);
      set(text, "text-anchor", "middle");
    },
  );
  const usual = [];
  const warn = [];
  const alarms = [];
  rows.forEach((each, i) => {
    if (each.levels === null) return;
    const y = top + i * ROW;
    const [low, high] = [scale.x(-each.levels.warn), scale.x(each.levels.warn)];
    usual.push(`M${low} ${y - 9}H${high}v18H${low}Z`);
    warn.push(`M${low} ${y - 11}v22M${high} ${y - 11}v22`);
    for (const side of [-1, 1]) {
      if (each.levels.alarm <= half) alarms.push(`M${scale.x(side * each.levels.alarm)} ${y - 11}v22`);
    }
  });
  set(byId("offsets-usual"), "d", usual.join(""));
  set(byId("offsets-warn"), "d", warn.join(""));
  set(byId("offsets-alarm"), "d", alarms.join(""));
  fill(byId("offsets-rows"), rows, createRow, (group, each) =>
    drawRow(group, each, scale, top + rows.indexOf(each) * ROW, wide),
  );
  const values = before.map((each) => each.deviation.exposure);
  set(byId("offsets-trail"), "d", values.length > 1 ? trailPath(values, scale, trailTop, TRAIL_PITCH) : "");
  const at = (each) => shapePath(each.weight, scale.x(each.deviation.exposure), yOf(before.indexOf(each)), 9);
  const alarmed = before.slice(0, -1).filter(({ weight }) => weight === "alarm");
  set(byId("offsets-was"), "d", alarmed.map(at).join(""));
  set(byId("offsets-now"), "d", before.length > 1 ? at(row) : "");
  set(byId("offsets-now"), "class", `shape ${row.weight}`);
  const words = before.length > 6;
  [["offsets-earlier", words ? `frame ${before[0].index}` : "", 0], ["offsets-newest", words ? `to ${row.index}` : "", before.length - 1]].forEach(
    ([id, text, place]) => {
      const element = document.getElementById(id);
      write(element, text);
      set(element, "x", 0);
      set(element, "y", yOf(place) + 4);
    },
  );
}

function createRow() {
  const group = makeSvg("g", "offsets-row");
  group.append(makeSvg("text", "offsets-name"), makeSvg("path"), makeSvg("text", "offsets-value"));
  return group;
}

function drawRow(group, { name, stops, value, weight }, scale, y, wide) {
  const [label, shape, number] = group.children;
  write(label, name);
  set(label, "x", 0);
  set(label, "y", y + 5);
  set(shape, "class", `shape ${weight}`);
  set(shape, "d", shapePath(weight, scale.x(stops), y, 18));
  write(number, scale.beyond(stops) ? `→ ${value}` : value);
  set(number, "x", wide);
  set(number, "y", y + 5);
  set(number, "text-anchor", "end");
}

const COLUMNS = [
  (f) => String(f.index),
  (f) => VERDICTS[f.weight],
  (f) => format.fineStops(f.deviation.exposure),
  (f) => format.change(f.deviation.redToGreen),
  (f) => format.change(f.deviation.blueToGreen),
];

function fillTable(tether, row) {
  fill(
    byId("offsets-table-rows"),
    row === null ? [] : trail(tether, row).reverse(),
    () => {
      const line = make("tr");
      for (let i = 0; i < COLUMNS.length; i++) line.append(make("td"));
      return line;
    },
    (line, each) => COLUMNS.forEach((text, i) => write(line.cells[i], text(each))),
  );
}
