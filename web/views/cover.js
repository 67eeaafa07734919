import { cuesOf, domainOf, round, scaleOf, ticksOf } from "../charts/axis.js";
import { columnsPath, endsOf } from "../charts/columns.js";
import { expectedReach, joined, openParts, rowsOf } from "../charts/reaches.js";
import { byId, fill, make, makeSvg, set, show, write } from "../dom.js";
import * as format from "../format.js";
import { fillTables } from "./cover-tables.js";

/** Pixels; a narrow chart is one on a phone. */
const NARROW = 560;
const LEFT = 40;
const GLYPH = { wide: 7.7, narrow: 7.1 };

/** The chart's numbers in EV, from the state alone. */
export function coverOf(state) {
  const { frames, planned, underWay, span, last } = state;
  const rows = rowsOf(frames);
  const coming = [planned, underWay].find((shot) => shot?.exposure) ?? null;
  if (coming !== null) {
    rows.push({ coming, index: underWay === null ? "next" : "now", frames: [], parts: [expectedReach(coming, last)] });
  }
  const reaches = frames.map((f) => ({ low: f.reachLowEv, high: f.reachHighEv }));
  const spanEnds =
    span === null
      ? null
      : {
          low: span.spanLowEv,
          high: span.spanHighEv,
          lowIsGuess: span.lowIsGuess === true,
          highIsGuess: span.highIsGuess === true,
        };
  const histogram = span?.histogram ?? null;
  const domain = domainOf([
    ...(histogram === null ? [] : endsOf(histogram)),
    ...(spanEnds === null ? [] : [spanEnds.low, spanEnds.high]),
    ...rows.flatMap(({ parts }) => parts.flatMap(({ low, high }) => [low, high])),
  ]);
  const open = spanEnds === null ? [] : openParts(spanEnds, reaches);
  return { rows, held: joined(reaches), span: spanEnds, histogram, domain, open };
}

export function openWords({ low, high, where }) {
  const wide = format.width(high - low);
  if (where === "all") return `all ${wide} open`;
  return where === "between" ? `gap of ${wide}` : `open ${where} by ${wide}`;
}

export function coverCaption(state, { span, open, domain }) {
  if (span === null) {
    return `The axis runs from EV ${format.evNumber(domain.low, 0)}, the dark parts of a scene, to EV ${format.evNumber(domain.high, 0)}, the bright ones. No frame has been measured yet.`;
  }
  const guesses = [
    span.lowIsGuess ? "dark" : null,
    span.highIsGuess ? "bright" : null,
  ].filter(Boolean);
  const guess = guesses.length === 0 ? "" : ` The ${guesses.join(" and the ")} end ${guesses.length === 1 ? "is a guess" : "are guesses"} so far.`;
  const frames = format.count(state.frames.length, "frame");
  const verb = state.frames.length === 1 ? "holds" : "hold";
  const rest =
    open.length === 0
      ? `${frames} ${verb} all of it.`
      : `${frames} ${verb} a part of it: ${open.map(openWords).join(", ")}.`;
  return `The scene spans ${format.width(span.high - span.low)}, from ${format.ev(span.low)} to ${format.ev(span.high)}. ${rest}${guess}`;
}

export function createCover(redraw) {
  const chart = byId("cover-chart");
  const table = byId("cover-table");
  const figure = chart.parentElement;
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

  return (state) => {
    const { frames, planned, underWay, span } = state;
    const inputs = { frames, planned, underWay, span, wide, open: table.open };
    if (Object.keys(inputs).every((key) => inputs[key] === drawn[key])) return;
    drawn = inputs;
    const cover = coverOf(state);
    write(byId("cover-caption"), coverCaption(state, cover));
    if (wide > 0) draw(chart, cover, wide);
    if (table.open) fillTables(byId("cover-tables"), state, cover);
  };
}

function draw(chart, cover, wide) {
  const narrow = wide < NARROW;
  const glyph = narrow ? GLYPH.narrow : GLYPH.wide;
  const scale = scaleOf(cover.domain, LEFT, wide - 8);
  const top = 30;
  const axisY = top + (narrow ? 130 : 180);
  const rowsTop = axisY + (narrow ? 54 : 60);
  const pitch = narrow ? 32 : 34;
  const thick = pitch - 8;
  const sumY = rowsTop + Math.max(cover.rows.length, 1) * pitch + 6;
  const tall = sumY + 48;
  set(chart, "viewBox", `0 0 ${wide} ${tall}`);
  set(chart, "width", wide);
  set(chart, "height", tall);
  drawScene(cover, scale, top, axisY);
  drawSpan(cover, scale, axisY, rowsTop, sumY);
  drawAxis(scale, axisY, glyph, rowsTop, sumY);
  const place = { scale, glyph, thick, wide };
  fill(byId("cover-rows"), cover.rows, createRow, (group, row) => {
    drawRow(group, row, rowsTop + cover.rows.indexOf(row) * pitch, place);
  });
  drawSum(cover, sumY, place);
}

function drawScene({ histogram, held }, scale, top, axisY) {
  const outline = histogram === null ? "" : columnsPath(histogram, scale.x, axisY, axisY - top - 8);
  for (const id of ["scene-open", "scene-held", "scene-edge"]) set(byId(id), "d", outline);
  const box = ({ low, high }) =>
    `M${scale.x(low)} 0H${scale.x(high)}V${axisY}H${scale.x(low)}Z`;
  set(byId("held-shape"), "d", held.map(box).join("") || "M0 0");
}

/** The span as a dimension line; an end that is only a guess is an open, dashed one. */
function drawSpan({ span }, scale, axisY, rowsTop, sumY) {
  const word = byId("span-word");
  if (span === null) {
    for (const id of ["span-line", "span-guess", "span-ends"]) set(byId(id), "d", "");
    write(word, "");
    return;
  }
  const y = 14;
  const ends = [
    { x: scale.x(span.low), guess: span.lowIsGuess, inwards: 1 },
    { x: scale.x(span.high), guess: span.highIsGuess, inwards: -1 },
  ];
  const dashes = Math.min(1.5 * scale.perEv, (ends[1].x - ends[0].x) / 4);
  const from = ends.map(({ x, guess, inwards }) => round(guess ? x + inwards * dashes : x));
  const sure = ends.filter(({ guess }) => !guess).map(({ x }) => `M${x} ${y - 7}v14`);
  const guessed = ends.map(({ x, guess }, i) => (guess ? `M${from[i]} ${y}H${x}M${x} ${y - 7}v14` : ""));
  set(byId("span-line"), "d", `M${from[0]} ${y}H${from[1]}${sure.join("")}`);
  set(byId("span-guess"), "d", guessed.join(""));
  // Not through the numerals and the words under them.
  const dotted = ends.map(({ x }) => `M${x} ${y + 9}V${axisY}M${x} ${rowsTop - 4}V${sumY}`);
  set(byId("span-ends"), "d", dotted.join(""));
  write(word, `span ${format.width(span.high - span.low)}`);
  set(word, "x", round((ends[0].x + ends[1].x) / 2));
  set(word, "y", y + 4.5);
}

function drawAxis(scale, axisY, glyph, rowsTop, sumY) {
  const { major, minor, numerals } = ticksOf(scale, axisY);
  set(byId("axis-line"), "d", major);
  set(byId("axis-minor"), "d", minor);
  fill(
    byId("axis-numerals"),
    numerals,
    () => makeSvg("text", "numeral"),
    (text, { ev, x }) => {
      write(text, format.evNumber(ev, 0));
      set(text, "x", x);
      set(text, "y", axisY + 28);
      set(text, "text-anchor", "middle");
    },
  );
  set(byId("axis-name"), "x", 0);
  set(byId("axis-name"), "y", axisY + 4);
  fill(
    byId("axis-cues"),
    cuesOf(scale, glyph),
    () => makeSvg("text", "cue"),
    (text, { word, x }) => {
      write(text, word);
      set(text, "x", x);
      set(text, "y", axisY + 45);
      set(text, "text-anchor", "middle");
    },
  );
  set(
    byId("cover-guides"),
    "d",
    numerals.map(({ x }) => `M${x} ${rowsTop - 4}V${sumY}`).join(""),
  );
}

function createRow() {
  const group = makeSvg("g", "row");
  group.append(
    makeSvg("text", "row-index"),
    makeSvg("path", "reach"),
    makeSvg("path", "reach-ends"),
    makeSvg("text", "row-word"),
  );
  return group;
}

function rowWords({ coming, frames }, room) {
  if (frames.length > 1) return `frames ${frames[0].index} to ${frames.at(-1).index}`;
  const source = coming === undefined ? frames[0] : coming.exposure;
  const whole = format.exposure(source);
  return whole.length <= room ? whole : format.shutter(source.shutterSeconds);
}

function drawRow(group, row, y, { scale, glyph, thick, wide }) {
  const [index, reach, ends, word] = group.children;
  const xs = row.parts.map(({ low, high }) => [scale.x(low), scale.x(high)]);
  set(group, "class", row.coming === undefined ? "row" : "row coming");
  write(index, row.coming !== undefined ? row.index : row.frames.length > 1 ? "" : String(row.frames[0].index));
  set(index, "x", 0);
  set(index, "y", y + thick / 2 + 4.5);
  set(reach, "d", xs.map(([low, high]) => `M${low} ${y}H${high}V${y + thick}H${low}Z`).join(""));
  set(ends, "d", xs.map(([low, high]) => `M${low} ${y - 2}v${thick + 4}M${high} ${y - 2}v${thick + 4}`).join(""));
  const [low, high] = xs.reduce((one, other) => (other[1] - other[0] > one[1] - one[0] ? other : one));
  const room = Math.floor((high - low - 12) / glyph);
  const words = rowWords(row, room);
  const long = words.length * glyph + 8;
  // A word that does not fit into its bar stands beside it.
  const inside = words.length <= room;
  const after = high + long <= wide;
  write(word, words);
  set(word, "class", inside ? "row-word" : "row-word beside");
  set(word, "x", round(inside ? (low + high) / 2 : after ? high + 8 : low - 8));
  set(word, "y", y + thick / 2 + 4.5);
  set(word, "text-anchor", inside ? "middle" : after ? "start" : "end");
}

/** The last line: what all frames hold of the span, and in words what they leave open. */
function drawSum({ span, held, open }, y, { scale, glyph, wide }) {
  show(byId("cover-sum"), true);
  const inside = span === null ? [] : held
    .map(({ low, high }) => ({ low: Math.max(low, span.low), high: Math.min(high, span.high) }))
    .filter(({ low, high }) => high > low);
  const bar = ({ low, high }) => `M${scale.x(low)} ${y}H${scale.x(high)}v10H${scale.x(low)}Z`;
  set(byId("sum-held"), "d", inside.map(bar).join(""));
  set(byId("sum-open"), "d", open.map(bar).join(""));
  const words = open.map((part) => ({ text: openWords(part), at: (part.low + part.high) / 2, open: true }));
  if (open.length === 0 && inside.length > 0) {
    words.push({ text: "all of the span is held", at: (span.low + span.high) / 2, open: false });
  }
  fill(byId("sum-words"), placed(words, scale, glyph, wide), () => makeSvg("text"), (text, word) => {
    write(text, word.text);
    set(text, "class", word.open ? "sum-word open" : "sum-word");
    set(text, "x", round(word.x));
    set(text, "y", y + 29);
    set(text, "text-anchor", "middle");
  });
}

/** Words under their parts, pushed inwards from the edges and apart from each other. */
function placed(words, scale, glyph, wide) {
  let free = 0;
  return words.map((word) => {
    const half = (word.text.length * glyph) / 2;
    const x = Math.max(Math.min(scale.x(word.at), wide - half), free + half);
    free = x + half + glyph;
    return { ...word, x };
  });
}
