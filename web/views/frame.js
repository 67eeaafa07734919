import { DOMAIN, medianOf, sharesOf, shownOf } from "../charts/light.js";
import { scaleOf, ticksOf } from "../charts/axis.js";
import { columnsPath } from "../charts/columns.js";
import { byId, fill, makeSvg, set, show, write } from "../dom.js";
import * as format from "../format.js";
import { frameOf } from "../frames.js";
import { offWords } from "../lapse.js";

/** The frame's light: pixels. */
const TALL = 48;

export function frameCaption(frame) {
  const { jpeg } = frame;
  // A JPEG is tone-mapped and clips before its raw file does.
  const clipped =
    jpeg === null || jpeg === undefined
      ? format.share(frame.clippedFraction)
      : `${format.share(frame.clippedFraction)} in the raw file, ` +
        `${format.share(jpeg.clippedFraction)} in its JPEG`;
  const late = frame.late ? " It came late." : "";
  // Of a lapse's frame it counts how far it is off what was meant.
  if (frame.off !== undefined) {
    const off = frame.off === null ? "" : `, ${offWords(frame)}`;
    return (
      `Frame ${frame.index}, ${frame.file}: ${format.exposure(frame)}${off}. ` +
      `Clipped ${clipped}, crushed ${format.share(frame.crushedFraction)}.${late}`
    );
  }
  return (
    `Frame ${frame.index}, ${frame.file}: ${format.exposure(frame)}. ` +
    `Clipped ${clipped}, ` +
    `below the floor ${format.share(frame.belowFloorFraction)}.${late}`
  );
}

/** Where the middle of the frame's light lies, in words; "" where its histogram is not known. */
export function lightWords(frame) {
  const light = sharesOf(frame?.histogram);
  return light === null
    ? ""
    : `Its light in stops, saturation at 0; the middle lies at ${format.stops(medianOf(light))}.`;
}

const address = (name) => `previews/${encodeURIComponent(name)}`;

/**
 * The frame that is looked at, the last one unless another was chosen: its preview, with what the
 * mask says is clipped or crushed marked by patterns, and its light in stops.
 */
export function createFrame(choose) {
  const preview = byId("preview");
  const sheet = byId("picture");
  const marks = [
    { choice: byId("mark-clipped"), drawing: byId("clipped"), mask: byId("clipped-mask") },
    { choice: byId("mark-crushed"), drawing: byId("crushed"), mask: byId("crushed-mask") },
  ];
  let drawn;
  let wide = 0;

  function drawMarks() {
    const name = drawn?.mask ?? null;
    for (const { choice, drawing, mask } of marks) {
      const shown = name !== null && choice.checked;
      set(drawing, "visibility", shown ? "visible" : "hidden");
      if (shown) set(mask, "href", address(name));
    }
  }

  function drawLight() {
    const light = sharesOf(drawn?.histogram);
    show(byId("frame-light"), light !== null);
    write(byId("frame-light-caption"), lightWords(drawn));
    if (light === null || wide === 0) return;
    const chart = byId("frame-light-chart");
    const scale = scaleOf(DOMAIN, 8, wide - 8);
    set(chart, "viewBox", `0 0 ${wide} ${TALL + 32}`);
    set(chart, "width", wide);
    set(chart, "height", TALL + 32);
    set(byId("frame-light-columns"), "d", columnsPath(shownOf(light), scale.x, TALL, TALL - 4));
    const { major, numerals } = ticksOf(scale, TALL);
    set(byId("frame-light-axis"), "d", major);
    fill(byId("frame-light-numerals"), numerals, () => makeSvg("text", "numeral"), (text, { ev, x }) => {
      write(text, format.evNumber(ev, 0));
      set(text, "x", x);
      set(text, "y", TALL + 27);
      set(text, "text-anchor", "middle");
    });
  }

  for (const { choice } of marks) choice.addEventListener("change", drawMarks);
  preview.addEventListener("load", () => {
    sheet.style.aspectRatio = `${preview.naturalWidth} / ${preview.naturalHeight}`;
  });
  byId("frame-to-last").addEventListener("click", () => choose(null));
  new ResizeObserver(() => {
    wide = Math.floor(byId("frame").clientWidth);
    drawLight();
  }).observe(byId("frame"));

  return (state, { look }) => {
    const row = frameOf(state, look.index);
    const follows = look.index === null || row?.index !== look.index;
    write(byId("frame-heading"), follows ? "Last frame" : `Frame ${row.index}`);
    show(byId("frame-to-last"), !follows);
    if (row === drawn) return;
    drawn = row;
    const seen = row !== null && row.preview !== null;
    show(sheet, seen);
    show(byId("frame-viewing"), seen);
    show(byId("switches"), seen && row.mask !== null);
    show(byId("no-picture"), !seen);
    write(byId("no-picture"), row === null ? "No frame yet." : "This frame came without a preview.");
    write(byId("frame-caption"), row === null ? "" : frameCaption(row));
    if (seen) {
      set(preview, "src", address(row.preview));
      set(preview, "alt", `Preview of ${row.file}`);
    }
    drawMarks();
    drawLight();
  };
}
