import { byId, show, write } from "../dom.js";
import * as format from "../format.js";
import { phaseOf } from "../session.js";
import { handWords, leftWords } from "./hand.js";

/** What the large type says: {heading, large, rest, change, why}. */
export function nextWords(state) {
  const { planned, underWay, last, report } = state;
  if (report !== null) return resultWords(state);
  if (state.dial !== null) return handWords(state);
  const exposure = planned?.exposure ?? underWay?.exposure ?? null;
  if (exposure === null && (planned !== null || underWay !== null)) return ownWords(state);
  if (exposure === null) {
    const idle =
      phaseOf(state) === "unopened"
        ? "The session has not begun."
        : last === null
          ? "The session is starting."
          : "The last frame is being weighed.";
    return { heading: "Next exposure", large: "–", rest: "", change: "", why: idle, settles: "", left: "" };
  }
  const againOf = underWay?.attempt > 1 ? `, attempt ${underWay.attempt}` : "";
  return {
    heading: underWay === null ? "Next exposure" : `Exposing now: shot ${underWay.shot}${againOf}`,
    large: format.shutter(exposure.shutterSeconds),
    rest: [format.aperture(exposure.aperture), format.iso(exposure.iso), format.ev(exposure.ev)].join("   "),
    change: last === null ? "" : changeWords(exposure.ev - last.ev),
    why: planned?.reason ?? "",
    settles: settlesWords(planned),
    left: leftWords(planned),
  };
}

/** Of a camera that keeps its own exposure only the frame tells what it was. */
function ownWords({ planned, underWay }) {
  return {
    heading: underWay === null ? "Next release" : `Released: shot ${underWay.shot}`,
    large: "Own",
    rest: "as the camera exposes by itself",
    change: "",
    why: planned?.reason ?? "",
    settles: settlesWords(planned),
    left: "",
  };
}

/** A bigger EV is a darker exposure. */
function changeWords(difference) {
  if (Math.abs(difference) < 0.05) return "as bright as the last frame";
  return `${format.width(difference)} ${difference > 0 ? "darker" : "brighter"} than the last frame`;
}

/** What is not known yet and the coming frame is expected to tell. */
function settlesWords(planned) {
  return planned?.settles ? `It is expected to settle ${planned.settles}.` : "";
}

/** Which frames add nothing to the set. */
function setWords({ frames }) {
  const spare = (frames ?? []).filter((frame) => frame.inSet === false);
  if (spare.length === 0) return "";
  const numbers = spare.map((frame) => frame.index).join(", ");
  return spare.length === 1
    ? `Frame ${numbers} adds nothing and can be left out of the set.`
    : `Frames ${numbers} add nothing and can be left out of the set.`;
}

function resultWords({ report, frames }) {
  const openWords = [
    report.openBelowStops > 0 ? `open below by ${format.width(report.openBelowStops)}` : null,
    report.openAboveStops > 0 ? `open above by ${format.width(report.openAboveStops)}` : null,
  ].filter(Boolean);
  const taken = `${format.count(frames.length, "frame")} in ${format.duration(report.elapsedSeconds)}`;
  return {
    heading: "Result",
    large: report.covered === true ? "Covered" : "Open",
    rest: [taken, ...openWords].join("   "),
    change: "",
    why: report.why ?? "",
    settles: "",
    left: setWords(report),
  };
}

export function createNext() {
  const parts = {
    heading: byId("next-heading"),
    large: byId("next-shutter"),
    rest: byId("next-rest"),
    change: byId("next-change"),
    why: byId("next-why"),
    settles: byId("next-settles"),
    left: byId("next-left"),
  };
  return (state) => {
    for (const [name, words] of Object.entries(nextWords(state))) {
      write(parts[name], words);
      show(parts[name], words !== "");
    }
  };
}
