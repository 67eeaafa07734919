import { byId, fill, make, show, write } from "../dom.js";
import * as format from "../format.js";
import { dueAt, frameWords, nextPlace, offWords, secondsAt, sunAt, twilightOf } from "../lapse.js";
import { crossingName, shownStart } from "./course.js";

const POINTS = ["north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest"];

export const compass = (azimuth) => POINTS[Math.round(azimuth / 45) % 8];

/** "4.2° below the horizon, in the northeast (52°); civil twilight". */
export function sunWords(position) {
  if (position === null) return "";
  const { altitude, azimuth } = position;
  const side = altitude >= 0 ? "above" : "below";
  return (
    `${format.degrees(Math.abs(altitude))} ${side} the horizon, in the ${compass(azimuth)} ` +
    `(${format.degrees(azimuth, 0)}); ${twilightOf(altitude)}`
  );
}

/** The sun's next crossing after some seconds, in words: "sunrise at 05:41"; "" where none is known. */
export function nextCrossing(sun, seconds, start) {
  const next = (sun?.crossings ?? []).find((each) => each.seconds > seconds);
  return next === undefined ? "" : `${crossingName(next)} at ${format.timeOfDay(start + next.seconds * 1000)}`;
}

/** What changes next and when, in words. */
export function changeWords(change, seconds, start, aperture) {
  if (change === null || seconds === null) return "none in sight";
  const left = Math.max(0, change.seconds - seconds);
  const to = [format.shutter(change.shutterSeconds), format.iso(change.iso)].join("  ");
  return `${to} in about ${format.seconds(left)}, at ${format.timeOfDay(start + change.seconds * 1000)}`;
}

/** The numbers of the end: [name, words]. */
export function reportRows(report) {
  const fine = (value) => (Number.isFinite(value) ? format.fineWidth(value) : "–");
  return [
    ["Off what was meant", `${fine(report.rmsErrorStops)} RMS, ${fine(report.largestErrorStops)} at most`],
    ["Frame to frame, as taken", `${fine(report.sigmaStops)} (σ)`],
    ["With the evening gains", `${fine(report.evenedSigmaStops)} (σ), ${fine(report.evenedLargestStops)} at most`],
    ["Changes of setting", String(report.settingChanges)],
    ["Lost, not taken", `${format.count(report.framesLost, "frame")}, ${format.count(report.placesSkipped, "place")}`],
  ];
}

/** What the large type says of a lapse that runs. */
export function vigilWords(state) {
  const { lapse, report, held } = state;
  if (report !== null) return { heading: "Result", large: "Ended", rest: report.why ?? "", why: "" };
  const exposure = lapse.chosen?.exposure ?? null;
  if (exposure === null) return { heading: "First exposure", large: "–", rest: "", why: "The lapse is starting." };
  return {
    heading: held ? "Held: no frame is taken" : `Exposure of frame ${lapse.chosen.place}`,
    large: format.shutter(exposure.shutterSeconds),
    rest: [format.aperture(exposure.aperture), format.iso(exposure.iso), format.ev(exposure.ev)].join("   "),
    why: lapse.chosen.reason ?? "",
  };
}

/** What goes on with time, as rows: [name, words]. */
export function runningRows(state, outlook, hostNow) {
  const { lapse, opened } = state;
  const seconds = secondsAt(lapse, hostNow);
  const start = shownStart(state) ?? 0;
  const place = nextPlace(state);
  const rows = [["Frames", frameWords(state)]];
  if (seconds === null) return rows;
  rows.unshift(["Next change", changeWords(outlook.change, seconds, start)]);
  const end = opened.frames * opened.intervalSeconds;
  rows.push(["Time left", place === null ? "–" : format.duration(Math.max(0, end - seconds))]);
  const position = sunWords(sunAt(outlook.sun, seconds));
  const next = nextCrossing(outlook.sun, seconds, start);
  if (position !== "") rows.push(["The sun", next === "" ? position : `${position}; ${next}`]);
  const off = offWords(lapse.frames.at(-1));
  if (off !== "") rows.push(["Last frame", off]);
  return rows;
}

/** How long it is until the next release: "0:07"; "" where none is due. */
export function countdownWords(state, hostNow) {
  const { lapse, opened, report, held } = state;
  const seconds = secondsAt(lapse, hostNow);
  if (report !== null || held || seconds === null) return "";
  const chosen = lapse.chosen?.place ?? null;
  // A shot is chosen a moment before it is due.
  const place = chosen !== null && dueAt(chosen, opened) > seconds ? chosen : nextPlace(state);
  if (place === null) return "";
  const left = Math.ceil(dueAt(place, opened) - seconds);
  return left <= 0 ? "now" : format.duration(left);
}

function createRow() {
  const row = make("div", "other");
  row.append(make("dt"), make("dd"));
  return row;
}

function updateRow(row, [name, words]) {
  write(row.children[0], name);
  write(row.children[1], words);
}

/** Alarms of a lapse, the newest first, in words. */
export const alarmRows = ({ alarms }) =>
  alarms
    .slice(-8)
    .reverse()
    .map(({ at, words, endedAt }) => [format.clock(at), endedAt === null ? words : `${words} Over at ${format.clock(endedAt)}.`]);

/** How a lapse stands: what is exposed, when the next frame is due, what comes. */
export function createVigil() {
  const parts = {
    heading: byId("vigil-heading"),
    large: byId("vigil-shutter"),
    rest: byId("vigil-rest"),
    why: byId("vigil-why"),
  };
  return (state, here) => {
    if (state.opened === null) return;
    const now = here.hostNow();
    for (const [name, words] of Object.entries(vigilWords(state))) {
      write(parts[name], words);
      show(parts[name], words !== "");
    }
    const countdown = countdownWords(state, now);
    write(byId("vigil-countdown"), countdown);
    show(byId("vigil-due"), countdown !== "");
    const rows = state.report === null ? runningRows(state, here.outlook, now) : [["Frames", frameWords(state)], ...reportRows(state.report)];
    fill(byId("vigil-rows"), rows, createRow, updateRow);
    const alarms = alarmRows(state.lapse);
    show(byId("vigil-alarms"), alarms.length > 0);
    fill(byId("vigil-alarm-rows"), alarms, createRow, updateRow);
    show(byId("vigil-after"), state.report !== null);
    const name = state.opened.session;
    write(byId("vigil-export"), `scenespan sessions export ${name} --to evening`);
    write(byId("vigil-report"), `scenespan sessions report ${name}`);
    write(byId("vigil-proof"), `scenespan proof ${name}`);
  };
}
