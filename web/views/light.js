import { scaleOf, ticksOf } from "../charts/axis.js";
import { columnsPath } from "../charts/columns.js";
import { DOMAIN, medianOf, sharesOf, shownOf } from "../charts/light.js";
import { byId, fill, makeSvg, set, show, write } from "../dom.js";
import * as format from "../format.js";
import { frameAt, isReference, referenceRow } from "../tether.js";

/** Pixels. */
const TOP = 6;
const TALL = 64;

export function lightCaption(now, then) {
  if (now === null) return "";
  const middle = (it) => format.stops(medianOf(it));
  const against = then === null ? "" : `; of the reference frame, drawn as a line, at ${middle(then)}`;
  return `The frame's light in stops, saturation at 0. Its middle lies at ${middle(now)}${against}.`;
}

/** The last frame's histogram in stops, with the reference frame's as a line over it. */
export function createLight(redraw) {
  const figure = byId("light-figure");
  const chart = byId("light-chart");
  let wide = 0;
  let drawn = {};
  new ResizeObserver(() => {
    const now = Math.floor(figure.clientWidth);
    if (now !== wide) {
      wide = now;
      redraw();
    }
  }).observe(figure);

  return ({ tether }, { look }) => {
    const row = frameAt(tether, look.index);
    const inputs = { row, reference: tether.reference, wide };
    if (Object.keys(inputs).every((key) => inputs[key] === drawn[key])) return;
    drawn = inputs;
    const now = sharesOf(row?.histogram);
    const then = row !== null && isReference(tether, row) ? null : sharesOf(referenceRow(tether)?.histogram);
    show(figure, now !== null);
    write(byId("light-caption"), lightCaption(now, then));
    if (now === null || wide === 0) return;
    const scale = scaleOf(DOMAIN, 8, wide - 8);
    const base = TOP + TALL;
    set(chart, "viewBox", `0 0 ${wide} ${base + 34}`);
    set(chart, "width", wide);
    set(chart, "height", base + 34);
    set(byId("light-now"), "d", columnsPath(shownOf(now), scale.x, base, TALL));
    set(byId("light-then"), "d", then === null ? "" : columnsPath(shownOf(then), scale.x, base, TALL));
    const { major, numerals } = ticksOf(scale, base);
    set(byId("light-axis"), "d", major);
    fill(
      byId("light-numerals"),
      numerals,
      () => makeSvg("text", "numeral"),
      (text, { ev, x }) => {
        write(text, format.evNumber(ev, 0));
        set(text, "x", x);
        set(text, "y", base + 28);
        set(text, "text-anchor", "middle");
      },
    );
  };
}
