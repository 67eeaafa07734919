import { byId, lay, show, write } from "../dom.js";
import { place } from "../format.js";
import { FIRST, between, holdOf, keyed, moved } from "../patches.js";
import { frameAt, isReference, referenceRow } from "../tether.js";

/** How near a corner a finger in a glove has to come, pixels. */
const NEAR = 22;

export function patchWords({ left, top, width, height }) {
  return `${place(left)} from the left, ${place(top)} from the top, ${place(width)} wide, ${place(height)} high.`;
}

/**
 * Marks a patch in the reference frame, by pointer, touch and keys.
 *
 * @param edit begins with a patch, goes on with another, or ends with null
 * @param choose shows a frame
 * @param wish asks for the reference frame with a patch
 */
export function createPatch({ edit, choose, wish }) {
  const box = byId("patch");
  const sheet = byId("sheet");
  const film = byId("film");
  let state = null;
  let index = null;
  let patch = null;
  /** Whether nobody has drawn this patch yet: the first drag then draws it anew. */
  let fresh = false;
  /** What was looked at before: one goes back to it. */
  let lookedAt = null;
  /** What the pointer holds: the corner it draws from, or how far inside the patch it took it. */
  let drag = null;

  /** Keys and pointers come faster than the page is drawn: each goes on from the one before. */
  function change(next) {
    patch = next;
    fresh = false;
    edit(next);
  }

  const at = ({ clientX, clientY }) => {
    const area = film.getBoundingClientRect();
    return { x: (clientX - area.left) / area.width, y: (clientY - area.top) / area.height };
  };

  sheet.addEventListener("pointerdown", (event) => {
    if (patch === null || event.button !== 0) return;
    event.preventDefault();
    const area = film.getBoundingClientRect();
    const point = at(event);
    const hold = holdOf(patch, point, { x: NEAR / area.width, y: NEAR / area.height });
    if (!fresh && hold.kind === "inside") drag = { point, patch };
    else drag = { from: !fresh && hold.kind === "corner" ? hold.from : point };
    sheet.setPointerCapture(event.pointerId);
    box.focus({ preventScroll: true });
  });
  sheet.addEventListener("pointermove", (event) => {
    if (drag === null) return;
    const point = at(event);
    change(
      drag.from !== undefined
        ? between(drag.from, point)
        : moved(drag.patch, point.x - drag.point.x, point.y - drag.point.y),
    );
  });
  for (const end of ["pointerup", "pointercancel"]) {
    sheet.addEventListener(end, () => (drag = null));
  }
  box.addEventListener("keydown", (event) => {
    if (patch === null) return;
    const next = keyed(patch, event.key, { shift: event.shiftKey, alt: event.altKey });
    if (next !== null) change(next);
    else if (event.key === "Enter") send(patch);
    else if (event.key === "Escape") leave();
    else return;
    event.preventDefault();
    event.stopPropagation();
  });

  function begin() {
    const row = referenceRow(state.tether) ?? frameAt(state.tether, null);
    if (row === null) return;
    lookedAt = index;
    choose(row.index);
    const before = isReference(state.tether, row) ? state.tether.reference.patch : null;
    change(before ?? FIRST);
    fresh = before === null;
    setTimeout(() => box.focus({ preventScroll: true }), 50);
  }

  function leave() {
    drag = null;
    change(null);
    choose(lookedAt);
    byId("mark-patch").focus();
  }

  function send(chosen) {
    const row = referenceRow(state.tether) ?? frameAt(state.tether, null);
    leave();
    if (row !== null) wish(row.file, chosen);
  }

  byId("mark-patch").addEventListener("click", begin);
  byId("patch-set").addEventListener("click", () => send(patch));
  byId("patch-without").addEventListener("click", () => send(null));
  byId("patch-leave").addEventListener("click", leave);

  return (next, { look }) => {
    state = next;
    patch = look.patch;
    index = look.index;
    show(byId("patching"), patch !== null);
    show(byId("compared"), patch === null);
    show(box, patch !== null);
    sheet.toggleAttribute("data-patching", patch !== null);
    if (patch === null) return;
    lay(box, patch);
    write(byId("patch-told"), patchWords(patch));
  };
}
