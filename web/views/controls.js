import { byId, set, show, write } from "../dom.js";
import { phaseOf } from "../session.js";

/**
 * Hold, continue and stop. A button that was pressed shows itself pending until a record says that
 * the session did it: the program's answer alone only says that the wish was handed on.
 *
 * @param ask sends a wish, answers null or why it was not taken
 * @param onRefusal told why a wish was not taken, null when a new one is made
 */
export function createControls(ask, onRefusal) {
  const hold = byId("hold");
  const stop = byId("stop");
  const sure = byId("sure");
  let state = null;
  /** The wish that waits for its record: "hold", "continue", "stop" or null. */
  let pending = null;

  async function wish(act) {
    if (pending !== null) return;
    pending = act;
    onRefusal(null);
    const refusal = await ask(act);
    if (refusal !== null && pending === act) {
      pending = null;
      onRefusal(`The wish to ${act} was not taken: ${refusal}.`);
    }
  }

  hold.addEventListener("click", () => wish(state?.held ? "continue" : "hold"));
  stop.addEventListener("click", () => {
    if (pending === null) sure.showModal();
  });
  byId("sure-no").addEventListener("click", () => sure.close());
  byId("sure-yes").addEventListener("click", () => {
    sure.close();
    wish("stop");
  });

  return (next) => {
    state = next;
    const phase = phaseOf(state);
    if (phase === "ended" || (pending === "hold" && state.held) || (pending === "continue" && !state.held)) {
      pending = null;
    }
    const running = phase !== "unopened" && phase !== "ended";
    show(hold, running);
    show(stop, running);
    if (!running && sure.open) sure.close();
    const holdPending = pending === "hold" || pending === "continue";
    write(hold, pending === "hold" ? "Hold asked …" : pending === "continue" ? "Continue asked …" : state.held ? "Continue" : "Hold");
    write(stop, pending === "stop" ? "Stop asked …" : "Stop");
    set(hold, "aria-disabled", pending === null ? null : "true");
    set(stop, "aria-disabled", pending === null ? null : "true");
    set(hold, "data-pending", holdPending);
    set(stop, "data-pending", pending === "stop");
  };
}
