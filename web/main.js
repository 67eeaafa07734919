import { ask } from "./asks.js";
import { byId, show } from "./dom.js";
import { openFeed } from "./feed.js";
import { frameOf } from "./frames.js";
import { createKinds, kindOf } from "./kinds.js";
import { NO_OUTLOOK, clockOffset, fetched } from "./outlook.js";
import { askRole } from "./pairing.js";
import { NOTHING, reduce } from "./session.js";
import { createStore } from "./store.js";
import { createTones } from "./tones.js";
import { createAlarms } from "./views/alarms.js";
import { createAloud } from "./views/aloud.js";
import { createControls } from "./views/controls.js";
import { letIn } from "./views/entry.js";
import { createFrame } from "./views/frame.js";
import { createFull } from "./views/full.js";
import { createHand } from "./views/hand.js";
import { createHead } from "./views/head.js";
import { createLog } from "./views/log.js";
import { createMarking } from "./views/marking.js";
import { createMissed } from "./views/missed.js";
import { createProgress } from "./views/progress.js";
import { createRoll } from "./views/roll.js";
import { createThemes } from "./views/themes.js";
import { createZoom } from "./views/zoom.js";

/** A browser that is let in already need not wait for that to be told before it asks. */
const early = fetched("api/so-far");

const store = createStore(reduce, NOTHING);
/** What is true of this page alone: its line to the program, and a wish that was turned down. */
const here = {
  link: { state: "connecting", last: 0, newest: 0 },
  refusal: null,
  me: await letIn(),
  /** Of a tether: which frame is looked at (null follows the last), of which, and a patch in the making. */
  look: { index: null, filter: "all", patch: null },
  /** Of a lapse: what is to come. */
  outlook: NO_OUTLOOK,
  /** By how much the host's clock is before this device's, milliseconds. */
  offset: 0,
  hostNow: () => Date.now() + here.offset,
};

function look(change) {
  here.look = { ...here.look, ...change };
  draw();
}

function refused(refusal) {
  here.refusal = refusal;
  draw();
}

show(byId("before"), false);
show(byId("page"), true);
createThemes();
createFull(byId("full"), byId("look"));
createFull(byId("frame-full"), byId("frame"));

const choose = (index) => look({ index });

/** What every session has. */
const common = [createHead(), createAlarms(), createProgress(), createControls(ask, refused)];

/** What shows a bracket's and a lapse's frames, and what is said of them. */
const saying = createMarking(
  ask,
  refused,
  {
    group: byId("frame-marking"),
    keep: byId("frame-keep"),
    reject: byId("frame-reject"),
    note: byId("frame-note"),
    told: byId("frame-told"),
  },
  (state, { index }) => frameOf(state, index),
);
const shown = [
  createFrame(choose),
  saying.view,
  createZoom({
    stage: byId("frame-stage"),
    sheet: byId("picture"),
    image: byId("preview"),
    closer: byId("frame-closer"),
    farther: byId("frame-farther"),
    films: [{ film: byId("frame-film"), detail: byId("preview-detail"), rowOf: (state, { index }) => frameOf(state, index) }],
  }),
  createRoll(choose, saying),
];
const log = createLog(byId("entries"), byId("earlier"));
const tones = createTones();
const missed = createMissed(tones, choose, () => draw());
const voice = [window.speechSynthesis, (words) => new SpeechSynthesisUtterance(words)];

/** Of a lapse and a tether, where a hand turns the dials. */
const byHand = [createHand(), createAloud(byId("hand-aloud"), ...voice)];

function foretell({ outlook, offset }) {
  here.outlook = outlook;
  here.offset = offset;
  draw();
}

const kinds = createKinds({
  ask,
  refused,
  look,
  choose,
  foretell,
  tones,
  voice,
  byHand,
  missed,
  shown,
  log,
  redraw: () => draw(),
});

function showLapse(lapse) {
  for (const id of ["next", "cover"]) show(byId(id), !lapse);
  for (const id of ["vigil", "course", "cautions"]) show(byId(id), lapse);
  byId("desk").toggleAttribute("data-lapse", lapse);
  if (!lapse || byId("missed").parentElement === byId("vigil")) return;
  // Alarms and their sound are the same as a tether's; they stand where a lapse is looked at first.
  byId("vigil").prepend(byId("missed"));
  byId("switches").after(byId("sound-switch"));
}

// A replay brings thousands of records at once: they are drawn together, and seldom.
const DRAW_MS = { behind: 150, other: 16 };
/** Views are drawn for so long at a time, milliseconds: a touch does not wait for all of them. */
const SLICE_MS = 30;

function drawSome(views) {
  const end = performance.now() + SLICE_MS;
  const left = views.slice();
  while (left.length > 0 && performance.now() < end) left.shift()(store.get(), here);
  if (left.length > 0) setTimeout(() => drawSome(left), 0);
}

/** How long after the page has come its files are kept for when the program is away. */
const SHELL_MS = 3_000;

let due = false;
let arranged = null;
function draw() {
  if (due) return;
  due = true;
  setTimeout(() => {
    due = false;
    const kind = kindOf(store.get(), here, arranged);
    const views = [...common, ...kinds(kind)];
    const anew = kind !== null && kind !== arranged;
    if (anew) arrange(kind);
    // What is shown for the first time is laid out in a task of its own, before a view asks how wide
    // it is. A page that nobody sees has no such task.
    if (anew && !document.hidden) requestAnimationFrame(() => setTimeout(() => drawSome(views), 0));
    else drawSome(views);
  }, DRAW_MS[here.link.state] ?? DRAW_MS.other);
}

function arrange(kind) {
  const tether = kind === "tether";
  showLapse(kind === "lapse");
  show(byId("desk"), !tether);
  show(byId("studio"), tether);
  byId("page").toggleAttribute("data-studio", tether);
  arranged = kind;
}

// Another run of the program knows this browser no more: the stream fails, and a code is due.
let watching = false;
async function watchForShutOut() {
  if (watching) return;
  watching = true;
  while (here.link.state === "lost") {
    if ((await askRole())?.role === "none") location.reload();
    await new Promise((done) => setTimeout(done, 2_000));
  }
  watching = false;
}

store.listen(draw);

// A long lapse is told in short: from there on the records go on.
const soFar = (await early) ?? (await fetched("api/so-far")) ?? {};
if (typeof soFar.now === "string") here.offset = clockOffset(soFar.now, Date.now());
for (const record of soFar.records ?? []) store.take(record);

// A count-down moves by itself.
setInterval(() => store.get().kind === "lapse" && store.get().report === null && draw(), 1_000);

const feed = openFeed(
  {
    record: store.take,
    reset: () => {
      // Of a lapse the page began in the middle: it begins anew in the middle of what it is now.
      if (store.get().kind === "lapse") location.reload();
      store.reset();
      look({ index: null, patch: null });
    },
    link: (link) => {
      here.link = link;
      draw();
      if (link.state === "lost") watchForShutOut();
    },
  },
  {
    open: (address) => new EventSource(address),
    setTimeout: (task, wait) => setTimeout(task, wait),
    clearTimeout: (task) => clearTimeout(task),
    now: () => performance.now(),
    since: soFar.seq ?? 0,
  },
);
addEventListener("offline", feed.cut);
addEventListener("online", feed.mended);
// A page that is kept for the way back would keep its line, and a browser has six for a program.
addEventListener("pagehide", feed.rest);
addEventListener("pageshow", ({ persisted }) => persisted && feed.mended());
draw();

// Only where the address is one that the browser trusts: on this machine, or behind a certificate.
// It gets every file anew: after those that this page draws with.
const keepShell = () => navigator.serviceWorker?.register("shell-worker.js").catch(() => {});
if (document.readyState === "complete") setTimeout(keepShell, SHELL_MS);
else addEventListener("load", () => setTimeout(keepShell, SHELL_MS));
