import { byId, write } from "../dom.js";
import * as format from "../format.js";
import { frameWords } from "../lapse.js";
import { elapsedSeconds } from "../session.js";

export function progressWords(state, here) {
  const tether = state.kind === "tether";
  if (state.kind === "lapse" && state.opened !== null) return joined([frameWords(state), time(state)], state, here);
  const most = tether ? state.opened.mostFrames || undefined : state.opened?.goal?.maxFrames;
  const { frames } = tether ? state.tether : state;
  const words = [];
  if (state.opened !== null) {
    words.push(
      most === undefined
        ? format.count(frames.length, "frame")
        : `${frames.length} of at most ${format.count(most, "frame")}`,
    );
    words.push(time(state));
  }
  return joined(words, state, here);
}

const time = (state) => format.duration(state.report?.elapsedSeconds ?? elapsedSeconds(state));

function joined(words, state, here) {
  if (state.strays > 0) words.push(format.count(state.strays, "stray"));
  if (state.skipped > 0) words.push(`${state.skipped} skipped`);
  if (here.link.state === "behind") {
    words.push(`catching up, ${format.count(here.link.newest - here.link.last, "record")} behind`);
  }
  if (here.link.state === "connecting") words.push("connecting");
  if (here.link.state === "lost") words.push("not connected");
  return words.join(" · ");
}

export function createProgress() {
  const progress = byId("progress");
  return (state, here) => write(progress, progressWords(state, here));
}
