import { byId, fill, make, write } from "../dom.js";
import { clock } from "../format.js";

/** Faults that stand, the session's and the page's own: nothing else comes here. */
export function alarmsOf(state, here) {
  const alarms = state.faults.map((fault) => fault.text);
  // When the session has ended, the program ends with it.
  if (here.link.state === "lost" && state.report === null) {
    const since = state.at === null ? "" : ` What is shown is from ${clock(state.at)}.`;
    alarms.push(`The program does not answer; trying again.${since}`);
  }
  if (here.refusal !== null) alarms.push(here.refusal);
  return alarms;
}

export function createAlarms() {
  const box = byId("alarms");
  return (state, here) => {
    fill(box, alarmsOf(state, here), () => make("p", "alarm"), write);
  };
}
