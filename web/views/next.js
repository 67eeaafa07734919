import { byId, show, write } from "../dom.js";
import * as format from "../format.js";
import { phaseOf } from "../session.js";

/** What the large type says: {heading, large, rest, change, why}. */
export function nextWords(state) {
  const { planned, underWay, last, report } = state;
  if (report !== null) return resultWords(state);
  const exposure = planned?.exposure ?? underWay?.exposure ?? null;
  if (exposure === null) {
    const idle =
      phaseOf(state) === "unopened"
        ? "The session has not begun."
        : last === null
          ? "The session is starting."
          : "The last frame is being weighed.";
    return { heading: "Next exposure", large: "–", rest: "", change: "", why: idle };
  }
  const againOf = underWay?.attempt > 1 ? `, attempt ${underWay.attempt}` : "";
  return {
    heading: underWay === null ? "Next exposure" : `Exposing now: shot ${underWay.shot}${againOf}`,
    large: format.shutter(exposure.shutterSeconds),
    rest: [format.aperture(exposure.aperture), format.iso(exposure.iso), format.ev(exposure.ev)].join("   "),
    change: last === null ? "" : changeWords(exposure.ev - last.ev),
    why: planned?.reason ?? "",
  };
}

/** A bigger EV is a darker exposure. */
function changeWords(difference) {
  if (Math.abs(difference) < 0.05) return "as bright as the last frame";
  return `${format.width(difference)} ${difference > 0 ? "darker" : "brighter"} than the last frame`;
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
  };
}

export function createNext() {
  const parts = {
    heading: byId("next-heading"),
    large: byId("next-shutter"),
    rest: byId("next-rest"),
    change: byId("next-change"),
    why: byId("next-why"),
  };
  return (state) => {
    for (const [name, words] of Object.entries(nextWords(state))) {
      write(parts[name], words);
      show(parts[name], words !== "");
    }
  };
}
