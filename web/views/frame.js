import { byId, set, show, write } from "../dom.js";
import * as format from "../format.js";
import { offWords } from "../lapse.js";

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

const address = (name) => `previews/${encodeURIComponent(name)}`;

/** The last frame's preview, with what the mask says is clipped or crushed marked by patterns. */
export function createFrame() {
  const preview = byId("preview");
  const marks = [
    { choice: byId("mark-clipped"), drawing: byId("clipped"), mask: byId("clipped-mask") },
    { choice: byId("mark-crushed"), drawing: byId("crushed"), mask: byId("crushed-mask") },
  ];
  let drawn;

  function drawMarks() {
    const name = drawn?.mask ?? null;
    for (const { choice, drawing, mask } of marks) {
      const shown = name !== null && choice.checked;
      set(drawing, "visibility", shown ? "visible" : "hidden");
      if (shown) set(mask, "href", address(name));
    }
  }
  for (const { choice } of marks) choice.addEventListener("change", drawMarks);

  return ({ last }) => {
    if (last === drawn) return;
    drawn = last;
    const seen = last !== null && last.preview !== null;
    show(byId("picture"), seen);
    show(byId("switches"), seen && last.mask !== null);
    show(byId("no-picture"), !seen);
    write(byId("no-picture"), last === null ? "No frame yet." : "This frame came without a preview.");
    write(byId("frame-caption"), last === null ? "" : frameCaption(last));
    if (seen) {
      set(preview, "src", address(last.preview));
      set(preview, "alt", `Preview of ${last.file}`);
    }
    drawMarks();
  };
}
