import { byId, write } from "../dom.js";
import { count, seconds, width } from "../format.js";
import { phaseOf } from "../session.js";

const ENDINGS = {
  limit: "Ended with a part of the scene open",
  "most-frames": "Ended at the most frames allowed",
  asked: "Ended as asked",
  done: "Ended: all that was asked for has come",
  "trigger-failed": "Ended: the trigger failed",
  "frames-missing": "Ended: frames did not arrive",
};

/** The phase of the session in words. */
export function phaseWords(state) {
  const shot = state.underWay?.shot ?? state.planned?.shot;
  switch (phaseOf(state)) {
    case "unopened":
      return "Waiting for the session";
    case "ended":
      return state.report.covered === true
        ? `Covered with ${count(state.frames.length, "frame")}`
        : (ENDINGS[state.report.stopped] ?? "Ended");
    case "without-trigger":
      return "Waiting for the trigger";
    case "without-folder":
      return "Waiting for the hot folder";
    case "counting":
      return `Release ${state.counting.shot} is counted down`;
    case "exposing":
      return state.kind === "tether" ? `Release ${shot} is on its way` : `Exposing shot ${shot}`;
    case "arriving":
      return `Waiting for the frame of ${state.kind === "tether" ? "release" : "shot"} ${shot}`;
    case "running":
      return `A frame each ${seconds(state.opened.intervalSeconds)}`;
    case "empty":
      return "Waiting for the first frame";
    case "watching":
      return state.tether.reference === null
        ? "Watching, no reference frame yet"
        : `Watching against ${state.tether.reference.file}`;
    case "held":
      return "Held";
    case "by-hand":
      return state.kind === "bracket"
        ? `By hand: waiting for your frame ${shot ?? ""}`.trimEnd()
        : "By hand: a dial is to be turned";
    case "planned":
      return `Shot ${shot} is planned`;
    case "deciding":
      return "Deciding";
    default:
      return "Starting";
  }
}

/** What the session is about, in words. */
function sourceWords({ opened, trigger }) {
  if (opened === null) return "";
  const goal = opened.goal ?? {};
  return [
    opened.kind === "tether" ? `frames in ${opened.folder}` : opened.source,
    trigger === null ? null : `trigger ${trigger}`,
    goal.snr === undefined ? null : `signal-to-noise ${goal.snr}`,
    opened.jpegMargin?.stops > 0 ? `JPEG margin ${width(opened.jpegMargin.stops)}` : null,
    goal.overlapStops > 0 ? `overlap ${width(goal.overlapStops)}` : null,
  ]
    .filter(Boolean)
    .join(" · ");
}

export function createHead() {
  const phase = byId("phase");
  const source = byId("source");
  return (state) => {
    const words = phaseWords(state);
    write(phase, words);
    write(source, sourceWords(state));
    const title = `${words} – Scenespan`;
    if (document.title !== title) document.title = title;
  };
}
