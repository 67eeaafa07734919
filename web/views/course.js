import { cuesOf, domainOf, scaleOf, ticksOf } from "../charts/axis.js";
import { crossesPath, linePath, stepPath, timeScale, timeTicks } from "../charts/course.js";
import { byId, fill, make, makeSvg, set, show, write } from "../dom.js";
import * as format from "../format.js";
import { secondsAt } from "../lapse.js";

/** Pixels. */
const NARROW = 560;
const LEFT = 76;
const TOP = 74;
const LEAST_TALL = 300;
const MOST_TALL = 620;

/** The near view: so much behind and before now, seconds. */
const BEHIND = 1_800;
const BEFORE = 900;

/** Rows of the table. */
const ROWS = 12;

const CROSSINGS = {
  "rise-and-set": ["sunrise", "sunset"],
  civil: ["civil dawn", "civil dusk"],
  nautical: ["nautical dawn", "nautical dusk"],
  astronomical: ["astronomical dawn", "astronomical dusk"],
};

export const crossingName = ({ horizon, rising }) => CROSSINGS[horizon]?.[rising ? 0 : 1] ?? horizon;

/** What of the time is shown: {from, to} in seconds since the start. */
export function spanOf(mode, seconds, opened) {
  const whole = Math.max(opened.frames * opened.intervalSeconds, 1);
  const now = Math.min(Math.max(seconds ?? 0, 0), whole);
  if (mode === "whole" || whole <= BEHIND + BEFORE) return { from: 0, to: whole };
  const from = Math.min(Math.max(0, now - BEHIND), whole - BEHIND - BEFORE);
  return { from, to: from + BEHIND + BEFORE };
}

/** Columns as points of one of them: [{seconds, ev}]. */
export function coursePoints(course, opened, name) {
  return course.map((point) => ({ seconds: (point.place - 1) * opened.intervalSeconds, ev: point[name] }));
}

const comingPoints = (coming, name) =>
  (coming?.seconds ?? []).map((seconds, i) => ({ seconds, ev: coming[name][i] }));

/** When the lapse's first frame was, by the clock that is shown: of a rehearsal the scene's own. */
export const shownStart = ({ opened, lapse }) =>
  opened?.sky?.from !== undefined ? Date.parse(opened.sky.from) : lapse.startAt;

/** The chart in words. */
export function courseCaption(state, outlook) {
  const { course } = state.lapse;
  const told = course.filter(({ light }) => light !== null);
  if (told.length === 0) return "No frame has told the light yet.";
  const [first, last] = [told[0], told.at(-1)];
  const way = last.light - first.light;
  const went =
    Math.abs(way) < 0.1
      ? `has stayed at ${format.ev(last.light)}`
      : `has ${way > 0 ? "risen" : "fallen"} from ${format.ev(first.light)} to ${format.ev(last.light)}`;
  const ahead = outlook.coming?.light?.at(-1);
  const then = ahead === undefined ? "" : ` ${format.ev(ahead)} is expected at the end of what is drawn.`;
  return `The light ${went}; the last exposure stands at ${format.ev(course.at(-1).set)}.${then}`;
}

/** A lapse's light and exposures: the EV axis on top, time hanging down from it. */
export function createCourse(redraw) {
  const figure = byId("course-chart").parentElement;
  const chart = byId("course-chart");
  let wide = 0;
  let mode = "whole";
  let drawn = {};

  new ResizeObserver(() => {
    const now = Math.floor(figure.clientWidth);
    if (now !== wide) {
      wide = now;
      redraw();
    }
  }).observe(figure);
  for (const choice of document.querySelectorAll("#course-spans input")) {
    choice.addEventListener("change", () => {
      mode = choice.value;
      redraw();
    });
  }
  byId("course-table").addEventListener("toggle", redraw);

  return (state, here) => {
    const { lapse, opened } = state;
    if (opened === null) return;
    const seconds = state.report === null ? secondsAt(lapse, here.hostNow()) : null;
    // The line of now moves by a pixel in some seconds: the chart is not drawn for less.
    const span = spanOf(mode, seconds, opened);
    const tall = Math.round(Math.min(Math.max(innerHeight * 0.55, LEAST_TALL), MOST_TALL));
    const time = timeScale(span.from, span.to, TOP, TOP + tall);
    const nowY = seconds === null ? null : Math.round(time.y(seconds));
    const inputs = { course: lapse.course, outlook: here.outlook, wide, tall, mode, nowY, open: byId("course-table").open };
    if (Object.keys(inputs).every((key) => inputs[key] === drawn[key])) return;
    drawn = inputs;
    write(byId("course-caption"), courseCaption(state, here.outlook));
    if (wide > LEFT) draw(state, here.outlook, { wide, tall, time, seconds });
    if (byId("course-table").open) table(state);
  };

  function draw(state, outlook, { wide: w, tall, time, seconds }) {
    const { lapse, opened } = state;
    const light = coursePoints(lapse.course, opened, "light");
    const chosen = coursePoints(lapse.course, opened, "set");
    const ideal = coursePoints(lapse.course, opened, "wanted");
    const sunlit = comingPoints(outlook.coming, "light");
    const later = comingPoints(outlook.coming, "set");
    const all = [light, chosen, ideal, sunlit, later].flat().map(({ ev }) => ev).filter(Number.isFinite);
    const bottom = TOP + tall;
    set(chart, "viewBox", `0 0 ${w} ${bottom + 8}`);
    set(chart, "width", w);
    set(chart, "height", bottom + 8);
    const { low, high } = domainOf(all);
    const scale = scaleOf({ low, high }, LEFT, w - 12);
    const x = (ev) => scale.x(ev);
    axis(scale, bottom, w < NARROW);
    clockAxis(time, w, (shownStart(state) ?? 0) / 1000);
    set(byId("course-light"), "d", linePath(light, x, time));
    set(byId("course-set"), "d", stepPath(chosen, x, time));
    set(byId("course-ideal"), "d", linePath(ideal, x, time));
    set(byId("course-coming-light"), "d", linePath(sunlit, x, time));
    set(byId("course-coming-set"), "d", stepPath([...chosen.slice(-1), ...later], x, time));
    const told = lapse.course.slice(0, -3).filter((point) => point.light === null);
    const missed = told.map(({ place }) => (place - 1) * opened.intervalSeconds);
    set(byId("course-missed"), "d", crossesPath(missed, LEFT - 10, time));
    sun(outlook.sun, time, w);
    const now = seconds !== null && seconds >= time.from && seconds <= time.to ? time.y(seconds) : null;
    set(byId("course-now"), "d", now === null ? "" : `M${LEFT - 4} ${now}H${w}`);
    show(byId("course-now-word"), now !== null);
    if (now !== null) {
      set(byId("course-now-word"), "x", w - 4);
      set(byId("course-now-word"), "y", now - 6);
    }
  }
}

function axis(scale, bottom, narrow) {
  const { major, minor, numerals } = ticksOf(scale, 8);
  set(byId("course-axis"), "d", major);
  set(byId("course-minor"), "d", minor);
  set(byId("course-guides"), "d", numerals.map(({ x }) => `M${x} ${TOP}V${bottom}`).join(""));
  fill(byId("course-numerals"), numerals, () => makeSvg("text", "numeral"), (text, { ev, x }) => {
    write(text, format.evNumber(ev, 0));
    set(text, "x", x);
    set(text, "y", 36);
    set(text, "text-anchor", "middle");
  });
  fill(byId("course-cues"), cuesOf(scale, narrow ? 7.1 : 7.7), () => makeSvg("text", "cue"), (text, { word, x }) => {
    write(text, word);
    set(text, "x", x);
    set(text, "y", 56);
    set(text, "text-anchor", "middle");
  });
}

function clockAxis(time, wide, startSeconds) {
  const zone = new Date(startSeconds * 1000).getTimezoneOffset() * 60;
  const ticks = timeTicks(time, startSeconds - zone);
  set(byId("course-times"), "d", ticks.map(({ y }) => `M${LEFT - 6} ${y}h6`).join("") + `M${LEFT} ${time.top}V${time.bottom}`);
  fill(byId("course-clock"), ticks, () => makeSvg("text", "numeral"), (text, { seconds, y }) => {
    const clock = format.clock((startSeconds + seconds) * 1000);
    write(text, clock.endsWith(":00") ? clock.slice(0, 5) : clock);
    set(text, "x", LEFT - 18);
    set(text, "y", y + 5);
    set(text, "text-anchor", "end");
  });
}

/** Where the sun crosses the horizon and the twilights: a line across, with its name at the right. */
function sun(told, time, wide) {
  const seen = (told?.crossings ?? []).filter(({ seconds }) => seconds >= time.from && seconds <= time.to);
  set(byId("course-twilights"), "d", seen.map(({ seconds }) => `M${LEFT} ${time.y(seconds)}H${wide}`).join(""));
  fill(byId("course-twilight-words"), seen, () => makeSvg("text", "cue"), (text, crossing) => {
    write(text, crossingName(crossing));
    set(text, "x", LEFT + 8);
    set(text, "y", time.y(crossing.seconds) - 5);
  });
}

/** The newest places as a table. */
function table(state) {
  const { lapse, opened } = state;
  const start = shownStart(state) ?? 0;
  fill(
    byId("course-rows"),
    lapse.course.slice(-ROWS).reverse(),
    () => {
      const row = make("tr");
      for (let i = 0; i < 5; i++) row.append(make(i === 0 ? "th" : "td"));
      set(row.firstElementChild, "scope", "row");
      return row;
    },
    (row, point) => {
      const cells = [
        String(point.place),
        format.clock(start + (point.place - 1) * opened.intervalSeconds * 1000),
        point.light === null ? "–" : format.evNumber(point.light),
        format.evNumber(point.set),
        format.evNumber(point.wanted),
      ];
      cells.forEach((text, i) => write(row.children[i], text));
    },
  );
}
