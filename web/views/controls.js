import { byId, set, show, write } from "../dom.js";
import { roleWords } from "../pairing.js";
import { phaseOf } from "../session.js";

const ASKED = { hold: "Hold asked …", continue: "Continue asked …", stop: "Stop asked …" };

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
  const role = byId("role");
  let state = null;
  /** The wishes that wait for their record: "hold" or "continue" of the first button, and "stop". */
  const pending = { hold: null, stop: null };

  async function wish(button, act) {
    pending[button] = act;
    onRefusal(null);
    const refusal = await ask(act);
    if (refusal !== null && pending[button] === act) {
      pending[button] = null;
      onRefusal(`The wish to ${act} was not taken: ${refusal}.`);
    }
  }

  hold.addEventListener("click", () => {
    if (pending.hold === null && pending.stop === null) wish("hold", state?.held ? "continue" : "hold");
  });
  // Stop is never kept waiting by a hold that is not granted yet.
  stop.addEventListener("click", () => {
    if (pending.stop === null) sure.showModal();
  });
  byId("sure-no").addEventListener("click", () => sure.close());
  byId("sure-yes").addEventListener("click", () => {
    sure.close();
    wish("stop", "stop");
  });

  return (next, { me }) => {
    const anotherRun = state !== null && next.seq < state.seq;
    state = next;
    const phase = phaseOf(state);
    const running = phase !== "unopened" && phase !== "ended";
    if (!running || anotherRun) pending.stop = null;
    if (!running || anotherRun || pending.hold === (state.held ? "hold" : "continue")) {
      pending.hold = null;
    }
    // The program refuses a viewer's wishes; here they are not even offered.
    const mayAct = me.role === "operator";
    write(role, roleWords(me));
    // A tether has nothing to hold: it only looks on.
    show(hold, running && mayAct && state.kind !== "tether");
    write(
      byId("sure-words"),
      state.kind === "tether"
        ? "No further frame is looked at. Marks and notes are kept, and the report is written."
        : "No further frame is taken. What has been taken stays, and the report is written.",
    );
    show(stop, running && mayAct);
    if (!running && sure.open) sure.close();
    write(hold, pending.hold === null ? (state.held ? "Continue" : "Hold") : ASKED[pending.hold]);
    write(stop, pending.stop === null ? "Stop" : ASKED.stop);
    set(hold, "aria-disabled", pending.hold !== null || pending.stop !== null ? "true" : null);
    set(stop, "aria-disabled", pending.stop !== null ? "true" : null);
    set(hold, "data-pending", pending.hold !== null);
    set(stop, "data-pending", pending.stop !== null);
  };
}
