import { byId, set, show, write } from "../dom.js";
import { isReference } from "../tether.js";

/** The longest note that fits into a request, bytes of UTF-8. */
const MOST_NOTE_BYTES = 600;

/** A note without what does not fit. */
export function fittingNote(text) {
  let note = text.trim();
  while (new TextEncoder().encode(note).length > MOST_NOTE_BYTES) note = note.slice(0, -1);
  return note;
}

export function noteWords(row, marks) {
  const note = row === null ? "" : (marks[row.file]?.note ?? "");
  return note === "" ? "" : `Note: ${note}`;
}

/**
 * What is said of the frame that is looked at. A button shows itself pending until a record says
 * that the session took it.
 *
 * @param ask sends a wish, answers null or why it was not taken
 * @param onRefusal told why a wish was not taken, null when a new one is made
 * @param parts.group the buttons' group, .keep, .reject and .note the buttons, .told where a note is
 *     shown; of a tether .reference and .patch, too
 * @param rowOf(state, look) the frame
 */
export function createMarking(ask, onRefusal, parts, rowOf) {
  const { keep, reject, note, reference = null, patch = null } = parts;
  const dialog = byId("note-dialog");
  const text = byId("note-text");
  const buttons = [keep, reject, note, reference, patch].filter((button) => button !== null);
  let state = null;
  let row = null;
  /** The record that the last wish waits for: by its button, the state in which it was made. */
  const pending = new Map();

  async function wish(button, act, about, before) {
    if (pending.has(button)) return;
    pending.set(button, before);
    onRefusal(null);
    const refusal = await ask(act, about);
    if (refusal !== null) {
      pending.delete(button);
      onRefusal(`The wish was not taken: ${refusal}.`);
    }
  }

  const said = () => (row === null ? undefined : state.tether.marks[row.file]);

  function mark(button, wanted) {
    if (row === null) return;
    const now = said()?.mark ?? "none";
    const about = { file: row.file, mark: now === wanted ? "none" : wanted, note: said()?.note ?? "" };
    wish(button, "mark", about, said());
  }

  keep.addEventListener("click", () => mark(keep, "keep"));
  reject.addEventListener("click", () => mark(reject, "reject"));
  reference?.addEventListener("click", () => {
    if (row !== null) wish(reference, "reference", { file: row.file }, state.tether.reference);
  });

  note.addEventListener("click", () => {
    if (row === null) return;
    text.value = said()?.note ?? "";
    dialog.dataset.file = row.file;
    dialog.dataset.by = note.id;
    write(byId("note-heading"), `Frame ${row.index}, ${row.file}`);
    dialog.showModal();
  });
  byId("note-leave").addEventListener("click", () => dialog.close());
  byId("note-form").addEventListener("submit", (event) => {
    event.preventDefault();
    if (dialog.dataset.by !== note.id) return;
    dialog.close();
    const { file } = dialog.dataset;
    const before = state.tether.marks[file];
    wish(note, "mark", { file, mark: before?.mark ?? "none", note: fittingNote(text.value) }, before);
  });

  return {
    keep: () => mark(keep, "keep"),
    reject: () => mark(reject, "reject"),
    /** Makes a frame the reference frame with a patch, or without. */
    reference: (file, area) =>
      wish(patch, "reference", area === null ? { file } : { file, patch: area }, state.tether.reference),
    view(next, { look, me }) {
      const before = state;
      state = next;
      row = rowOf(state, look);
      const running = state.report === null;
      if (before !== null && (before.tether.marks !== state.tether.marks || !running)) {
        for (const button of [keep, reject, note]) pending.delete(button);
      }
      if (before !== null && (before.tether.reference !== state.tether.reference || !running)) {
        for (const button of [reference, patch]) pending.delete(button);
      }
      const may = me.role === "operator" && running && row !== null;
      show(parts.group, may && look.patch === null);
      if (reference !== null) {
        show(reference, !isReference(state.tether, row));
        write(patch, pending.has(patch) ? "Patch asked …" : "Mark a patch");
        write(reference, pending.has(reference) ? "Reference asked …" : "Make it the reference");
      }
      set(keep, "aria-pressed", String(said()?.mark === "keep"));
      set(reject, "aria-pressed", String(said()?.mark === "reject"));
      for (const button of buttons) {
        set(button, "data-pending", pending.has(button));
        set(button, "aria-disabled", pending.has(button) ? "true" : null);
      }
      write(parts.told, noteWords(row, state.tether.marks));
      show(parts.told, noteWords(row, state.tether.marks) !== "");
    },
  };
}
