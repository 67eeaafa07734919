import { byId, set, show, write } from "../dom.js";
import { frameAt, isReference, referenceRow } from "../tether.js";

/** How long each is seen in turn, milliseconds. */
const TURN_MS = 900;

const address = (name) => `previews/${encodeURIComponent(name)}`;

/**
 * The frame beside the reference frame, or in turn with it: by itself, or, where the device asks for
 * less motion, at a touch.
 */
export function createCompare(redraw) {
  const turn = byId("look-turn");
  const swap = byId("swap");
  const word = byId("sheet-word");
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  let mode = "alone";
  let turning = null;
  let shown = false;

  function begin() {
    clearInterval(turning);
    turning = null;
    shown = false;
    if (mode === "turn" && !still.matches) {
      turning = setInterval(() => {
        shown = !shown;
        redraw();
      }, TURN_MS);
    }
    redraw();
  }

  for (const choice of document.querySelectorAll("#compare input")) {
    choice.addEventListener("change", () => {
      mode = choice.value;
      begin();
    });
  }
  still.addEventListener("change", begin);
  swap.addEventListener("click", () => {
    // Who swaps by hand wants to look as long as it takes.
    clearInterval(turning);
    turning = null;
    shown = !shown;
    redraw();
  });

  return ({ tether }, { look }) => {
    const row = frameAt(tether, look.index);
    const reference = referenceRow(tether);
    const can = reference?.preview != null && row !== null && !isReference(tether, row) && look.patch === null;
    show(byId("compare"), reference !== null);
    const beside = can && mode === "beside";
    const inTurn = can && mode === "turn";
    byId("stage").toggleAttribute("data-beside", beside);
    show(byId("beside"), beside);
    if (beside) set(byId("beside-image"), "src", address(reference.preview));
    show(swap, inTurn);
    show(turn, inTurn && shown);
    if (inTurn) set(turn, "src", address(reference.preview));
    show(word, beside || inTurn);
    write(word, inTurn && shown ? "Reference" : row === null ? "" : `Frame ${row.index}`);
  };
}
