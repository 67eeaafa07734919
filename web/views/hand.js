import { byId, show, write } from "../dom.js";
import * as format from "../format.js";

/** One instruction at a time: the first dial large, what comes after it below. */
export function handWords({ dial, planned, kind }) {
  const [first, ...more] = dial.turns;
  if (kind !== "bracket" && first === undefined) {
    // The camera goes on by its own timer, or by the photographer's finger.
    return { heading: "By hand", large: "Dials as they are", rest: "", change: "", why: dial.words, settles: "", left: "" };
  }
  const exposure = planned?.exposure ?? null;
  const name = (turn) => turn.dial.charAt(0).toUpperCase() + turn.dial.slice(1);
  return {
    heading: kind === "bracket" ? `By hand: frame ${dial.shot}` : "By hand: turn before the next frame",
    large: first === undefined ? handLarge(exposure) : format.clicks(first.clicks),
    rest: first === undefined ? "" : `${name(first)}: ${first.way}, to ${first.to}`,
    change: more
      .map((turn) => `Then ${turn.dial}: ${format.clicks(turn.clicks)} ${turn.way}, to ${turn.to}`)
      .join(". "),
    why: dial.words,
    settles: planned?.reason ?? "",
    left: leftWords(planned),
  };
}

/** Nothing is turned by clicks: what to set, or to take the frame as it is. */
function handLarge(exposure) {
  return exposure === null ? "One frame" : format.shutter(exposure.shutterSeconds);
}

/** How much is expected to be left; a guess, and said as one. */
export function leftWords(planned) {
  if (!(planned?.framesLeft > 0)) return "";
  const frames = format.count(planned.framesLeft, "frame");
  const time = Number.isFinite(planned.secondsLeft)
    ? `, about ${format.seconds(planned.secondsLeft)}`
    : "";
  return `Probably ${frames} to go${time}.`;
}

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
