import { domainOf, scaleOf } from "../charts/axis.js";
import { curvePath, ratioScale, ratioTicks } from "../charts/coverage.js";
import { byId, fill, make, makeSvg, set, show, write } from "../dom.js";
import * as format from "../format.js";

const WIDE = 640;
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
  let drawn = null;
  return (state) => {
    if (state.report === drawn) return;
    drawn = state.report;
    const points = state.report?.coverage ?? [];
    show(byId("coverage"), points.length > 0);
    if (points.length === 0) return;
    write(byId("coverage-caption"), coverageCaption(state));
    draw(points, state.opened?.goal?.snr);
    table(points);
  };
}

function draw(points, asked) {
  const chart = byId("coverage-chart");
  set(chart, "viewBox", `0 0 ${WIDE} ${TALL}`);
  const { low, high } = domainOf(points.map((point) => point.ev));
  const scale = scaleOf({ low, high }, LEFT, WIDE - 10);
  const y = ratioScale(points, BOTTOM, 14);
  set(byId("coverage-best"), "d", curvePath(points, "best", scale.x, y));
  set(byId("coverage-merged"), "d", curvePath(points, "merged", scale.x, y));
  set(byId("coverage-asked"), "d", asked === undefined ? "" : `M${LEFT} ${y(asked)}H${WIDE - 10}`);
  const marks = ratioTicks(points).map((ratio) => ({ text: String(ratio), x: LEFT - 8, y: y(ratio) + 4, anchor: "end" }));
  const step = high - low > 16 ? 4 : 2;
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
  set(byId("coverage-axis"), "d", `M${LEFT} 14V${BOTTOM}H${WIDE - 10}`);
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
