import { byId, show, write } from "../dom.js";
import { handWords } from "./next.js";

/** What a lapse or a tether asks of the photographer's hand, above everything else. */
export function createHand() {
  return (state) => {
    show(byId("hand"), state.dial !== null);
    if (state.dial === null) return;
    const words = handWords(state);
    write(byId("hand-heading"), words.heading);
    write(byId("hand-large"), words.large);
    write(byId("hand-rest"), words.rest);
    write(byId("hand-more"), words.change);
    write(byId("hand-why"), words.why);
  };
}
