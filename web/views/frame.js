import { byId, set, show, write } from "../dom.js";
import * as format from "../format.js";

export function frameCaption(frame) {
  const late = frame.late ? " It came late." : "";
  return (
    `Frame ${frame.index}, ${frame.file}: ${format.exposure(frame)}. ` +
    `Clipped ${format.share(frame.clippedFraction)}, ` +
    `below the floor ${format.share(frame.belowFloorFraction)}.${late}`
  );
}

const address = (name) => `previews/${encodeURIComponent(name)}`;

/** The last frame's preview, with its clipped pixels hatched where the mask says so. */
export function createFrame() {
  const picture = byId("picture");
  const preview = byId("preview");
  const clipped = byId("clipped");
  const marks = byId("marks");
  let drawn = null;

  const showMarks = () => show(clipped, marks.checked && drawn?.mask != null);
  marks.addEventListener("change", showMarks);

  return ({ last }) => {
    if (last === drawn) return;
    drawn = last;
    const seen = last !== null && last.preview !== null;
    show(picture, seen);
    show(byId("marks-switch"), seen && last.mask !== null);
    show(byId("no-picture"), !seen);
    write(byId("no-picture"), last === null ? "No frame yet." : "This frame came without a preview.");
    write(byId("frame-caption"), last === null ? "" : frameCaption(last));
    if (seen) {
      set(preview, "src", address(last.preview));
      set(preview, "alt", `Preview of ${last.file}`);
    }
    const mask = last?.mask == null ? "none" : `url("${address(last.mask)}")`;
    clipped.style.setProperty("mask-image", mask);
    clipped.style.setProperty("-webkit-mask-image", mask);
    showMarks();
  };
}
