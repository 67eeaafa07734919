import { domainOf, scaleOf } from "../charts/axis.js";
import { curvePath, holesPath, ratioScale, ratioTicks } from "../charts/coverage.js";
import { byId, fill, make, makeSvg, set, show, write } from "../dom.js";
import * as format from "../format.js";

/** Pixels; wider curves tell no more. */
const WIDEST = 896;
const TALL = 190;
const LEFT = 44;
const BOTTOM = TALL - 26;

/** What the set of frames gives, in words; "" before the end. */
export function coverageCaption({ report, opened }) {
  const points = report?.coverage ?? [];
  if (points.length === 0) return "";
  const asked = opened?.goal?.snr;
  const least = Math.min(...points.map((point) => point.best));
  const first = points[0].ev;
  const last = points.at(-1).ev;
  const from = `From ${format.ev(first)} to ${format.ev(last)} the best frame gives a signal-to-noise of at least ${format.ratio(least)}`;
  const wanted = asked === undefined ? "" : `; ${format.ratio(asked)} was asked for`;
  const holes = report.holes ?? [];
  return holes.length === 0 ? `${from}${wanted}. There is no hole.` : `${holes.join(" ")}${asked === undefined ? "" : ` ${format.ratio(asked)} was asked for.`}`;
}

/** The coverage curve, once the session has ended: signal-to-noise over EV. */
export function createCoverage() {
  const figure = byId("coverage-chart").parentElement;
  let drawn = null;
  let ended = null;

  const curve = () => {
    const wide = Math.min(WIDEST, Math.floor(figure.clientWidth));
    const points = ended?.report?.coverage ?? [];
    if (wide > LEFT && points.length > 0) draw(points, ended.opened?.goal?.snr, wide);
  };
  new ResizeObserver(curve).observe(figure);

  return (state) => {
    if (state.report === drawn) return;
    drawn = state.report;
    ended = state;
    const points = state.report?.coverage ?? [];
    show(byId("coverage"), points.length > 0);
    if (points.length === 0) return;
    write(byId("coverage-caption"), coverageCaption(state));
    byId("coverage-caption").classList.toggle("open", (state.report.holes ?? []).length > 0);
    curve();
    table(points);
  };
}

function draw(points, asked, wide) {
  const chart = byId("coverage-chart");
  set(chart, "viewBox", `0 0 ${wide} ${TALL}`);
  set(chart, "width", wide);
  set(chart, "height", TALL);
  const { low, high } = domainOf(points.map((point) => point.ev));
  const scale = scaleOf({ low, high }, LEFT, wide - 10);
  const y = ratioScale(points, BOTTOM, 14);
  set(byId("coverage-best"), "d", curvePath(points, "best", scale.x, y));
  set(byId("coverage-merged"), "d", curvePath(points, "merged", scale.x, y));
  set(byId("coverage-asked"), "d", asked === undefined ? "" : `M${LEFT} ${y(asked)}H${wide - 10}`);
  set(byId("coverage-hole"), "d", asked === undefined ? "" : holesPath(points, asked, scale.x, BOTTOM));
  const marks = ratioTicks(points).map((ratio) => ({ text: String(ratio), x: LEFT - 8, y: y(ratio) + 4, anchor: "end" }));
  marks.push({ text: "EV", x: 0, y: TALL - 6, anchor: "start" });
  const step = (high - low) * 28 > wide - LEFT ? 4 : 2;
  for (let ev = Math.ceil(low / step) * step; ev <= high; ev += step) {
    marks.push({ text: format.evNumber(ev, 0), x: scale.x(ev), y: TALL - 6, anchor: "middle" });
  }
  fill(byId("coverage-marks"), marks, () => makeSvg("text"), (text, mark) => {
    write(text, mark.text);
    set(text, "class", "numeral");
    set(text, "x", mark.x);
    set(text, "y", mark.y);
    set(text, "text-anchor", mark.anchor);
  });
  set(byId("coverage-axis"), "d", `M${LEFT} 14V${BOTTOM}H${wide - 10}`);
}

function table(points) {
  fill(
    byId("coverage-rows"),
    points,
    () => {
      const row = make("tr");
      for (let i = 0; i < 3; i++) row.append(make("td"));
      return row;
    },
    (row, point) => {
      write(row.cells[0], format.evNumber(point.ev));
      write(row.cells[1], format.ratio(point.best));
      write(row.cells[2], format.ratio(point.merged));
    },
  );
}
