import { ask } from "./asks.js";
import { byId, show } from "./dom.js";
import { openFeed } from "./feed.js";
import { askRole } from "./pairing.js";
import { NOTHING, reduce } from "./session.js";
import { createStore } from "./store.js";
import { createAlarms } from "./views/alarms.js";
import { createAloud } from "./views/aloud.js";
import { createControls } from "./views/controls.js";
import { createCover } from "./views/cover.js";
import { createCoverage } from "./views/coverage.js";
import { letIn } from "./views/entry.js";
import { createFrame } from "./views/frame.js";
import { createHead } from "./views/head.js";
import { createLog } from "./views/log.js";
import { createNext } from "./views/next.js";
import { createProgress } from "./views/progress.js";
import { createThemes } from "./views/themes.js";

const store = createStore(reduce, NOTHING);
/** What is true of this page alone: its line to the program, and a wish that was turned down. */
const here = {
  link: { state: "connecting", last: 0, newest: 0 },
  refusal: null,
  me: await letIn(),
};

show(byId("before"), false);
show(byId("page"), true);
createThemes();

const views = [
  createHead(),
  createAlarms(),
  createNext(),
  createAloud(window.speechSynthesis, (words) => new SpeechSynthesisUtterance(words)),
  createCover(() => draw()),
  createCoverage(),
  createFrame(),
  createLog(),
  createProgress(),
  createControls(ask, (refusal) => {
    here.refusal = refusal;
    draw();
  }),
];

// A replay brings thousands of records at once: they are drawn together.
let due = false;
function draw() {
  if (due) return;
  due = true;
  setTimeout(() => {
    due = false;
    for (const view of views) view(store.get(), here);
  }, 16);
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
openFeed(
  {
    record: store.take,
    reset: store.reset,
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
  },
);
draw();
