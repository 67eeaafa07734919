import { byId, lay, set, show, write } from "../dom.js";
import * as format from "../format.js";
import { frameAt, isReference } from "../tether.js";

const address = (name) => `previews/${encodeURIComponent(name)}`;

/** Which frame is shown, in words for a heading. */
export function lookHeading(tether, row, index) {
  if (row === null) return "No frame yet";
  const which = isReference(tether, row) ? ", the reference frame" : "";
  return index === null ? `Last frame, ${row.index}${which}` : `Frame ${row.index}${which}`;
}

/** The largest box of a picture's shape within a room, whole pixels. */
export function fitted(room, picture) {
  const scale = Math.min(room.width / picture.width, room.height / picture.height);
  return { width: Math.floor(picture.width * scale), height: Math.floor(picture.height * scale) };
}

/** The frame that is looked at, as large as there is room, with patterns over what is clipped. */
export function createLook(choose) {
  const stage = byId("stage");
  const sheet = byId("sheet");
  const image = byId("look-image");
  const found = byId("patch-found");
  const marks = [
    { choice: byId("look-mark-clipped"), drawing: byId("look-clipped"), mask: byId("look-clipped-mask") },
    { choice: byId("look-mark-crushed"), drawing: byId("look-crushed"), mask: byId("look-crushed-mask") },
  ];
  let drawn = null;

  function fit() {
    if (!(image.naturalWidth > 0) || stage.clientWidth === 0) return;
    const upright = { width: image.naturalWidth, height: image.naturalHeight };
    // Where the stage has no height of its own, the width alone decides.
    const tall = getComputedStyle(stage).overflowY === "hidden" ? stage.clientHeight : Infinity;
    const style = getComputedStyle(stage);
    const columns = style.gridTemplateColumns.split(" ").length;
    const wide = (stage.clientWidth - (columns - 1) * (parseFloat(style.columnGap) || 0)) / columns;
    const { width, height } = fitted({ width: wide, height: tall }, upright);
    for (const each of [sheet, byId("beside")]) {
      each.style.width = `${width}px`;
      each.style.height = `${height}px`;
    }
  }

  function drawMarks() {
    const name = drawn?.mask ?? null;
    for (const { choice, drawing, mask } of marks) {
      const shown = name !== null && choice.checked;
      set(drawing, "visibility", shown ? "visible" : "hidden");
      if (shown) set(mask, "href", address(name));
    }
  }

  new ResizeObserver(fit).observe(stage);
  new MutationObserver(fit).observe(stage, { attributeFilter: ["data-beside"] });
  image.addEventListener("load", fit);
  for (const { choice } of marks) choice.addEventListener("change", drawMarks);
  byId("to-last").addEventListener("click", () => choose(null));

  return ({ tether }, { look }) => {
    const row = frameAt(tether, look.index);
    write(byId("look-heading"), lookHeading(tether, row, look.index));
    write(byId("look-file"), row === null ? "" : [row.file, format.knownExposure(row), format.clock(row.at)].filter(Boolean).join("  "));
    show(byId("to-last"), look.index !== null);
    const seen = row?.preview != null;
    show(sheet, seen);
    show(byId("look-empty"), !seen);
    write(byId("look-empty"), row === null ? "Nothing has landed in the hot folder yet." : "This frame came without a preview.");
    const place = look.patch === null ? (row?.deviation?.patch ?? (isReference(tether, row) ? tether.reference.patch : null)) : null;
    show(found, place !== null && place !== undefined);
    if (place) {
      lay(found, place);
      set(found, "data-lost", row.deviation !== null && !row.deviation.patchSeen);
    }
    if (row === drawn) return;
    drawn = row;
    if (seen) {
      set(image, "src", address(row.preview));
      set(image, "alt", `Frame ${row.index}, ${row.file}`);
    }
    drawMarks();
  };
}
