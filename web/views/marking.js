import { byId, set, show, write } from "../dom.js";
import { frameAt, isReference } from "../tether.js";

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
 */
export function createMarking(ask, onRefusal) {
  const keep = byId("mark-keep");
  const reject = byId("mark-reject");
  const note = byId("mark-note");
  const reference = byId("make-reference");
  const dialog = byId("note-dialog");
  const text = byId("note-text");
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
  reference.addEventListener("click", () => {
    if (row !== null) wish(reference, "reference", { file: row.file }, state.tether.reference);
  });

  note.addEventListener("click", () => {
    if (row === null) return;
    text.value = said()?.note ?? "";
    dialog.dataset.file = row.file;
    write(byId("note-heading"), `Frame ${row.index}, ${row.file}`);
    dialog.showModal();
  });
  byId("note-leave").addEventListener("click", () => dialog.close());
  byId("note-form").addEventListener("submit", (event) => {
    event.preventDefault();
    dialog.close();
    const { file } = dialog.dataset;
    const before = state.tether.marks[file];
    wish(note, "mark", { file, mark: before?.mark ?? "none", note: fittingNote(text.value) }, before);
  });

  return {
    keep: () => mark(keep, "keep"),
    reject: () => mark(reject, "reject"),
    /** Makes a frame the reference frame with a patch, or without. */
    reference: (file, patch) =>
      wish(byId("mark-patch"), "reference", patch === null ? { file } : { file, patch }, state.tether.reference),
    view(next, { look, me }) {
      const before = state;
      state = next;
      row = frameAt(state.tether, look.index);
      const running = state.report === null;
      if (before !== null && (before.tether.marks !== state.tether.marks || !running)) {
        for (const button of [keep, reject, note]) pending.delete(button);
      }
      if (before !== null && (before.tether.reference !== state.tether.reference || !running)) {
        for (const button of [reference, byId("mark-patch")]) pending.delete(button);
      }
      const may = me.role === "operator" && running && row !== null;
      show(byId("marking"), may && look.patch === null);
      show(reference, !isReference(state.tether, row));
      write(byId("mark-patch"), pending.has(byId("mark-patch")) ? "Patch asked …" : "Mark a patch");
      write(reference, pending.has(reference) ? "Reference asked …" : "Make it the reference");
      set(keep, "aria-pressed", String(said()?.mark === "keep"));
      set(reject, "aria-pressed", String(said()?.mark === "reject"));
      for (const button of [keep, reject, note, reference, byId("mark-patch")]) {
        set(button, "data-pending", pending.has(button));
        set(button, "aria-disabled", pending.has(button) ? "true" : null);
      }
      write(byId("note"), noteWords(row, state.tether.marks));
      show(byId("note"), noteWords(row, state.tether.marks) !== "");
    },
  };
}
