/**
 * Keeps the page's own files, so that an installed page opens while the program is away and says so.
 * Frames, events and answers are never kept: only what is in this list is.
 */

const KEPT_IN = "scenespan-shell";

const SHELL = [
  "./",
  "asks.js",
  "charts/axis.js",
  "charts/columns.js",
  "charts/course.js",
  "charts/coverage.js",
  "charts/light.js",
  "charts/offsets.js",
  "charts/reaches.js",
  "dom.js",
  "feed.js",
  "format.js",
  "guest.html",
  "guest.js",
  "guests.js",
  "frames.js",
  "icon.svg",
  "index.html",
  "kinds.js",
  "kinds/bracket.js",
  "kinds/lapse.js",
  "kinds/tether.js",
  "lapse.js",
  "main.js",
  "manifest.json",
  "outlook.js",
  "pairing.js",
  "patches.js",
  "plan.html",
  "plan.js",
  "planning.js",
  "reel.js",
  "session.js",
  "store.js",
  "styles/course.css",
  "styles/cover.css",
  "styles/desk.css",
  "styles/entry.css",
  "styles/guest.css",
  "styles/page.css",
  "styles/plan.css",
  "styles/releasing.css",
  "styles/strip.css",
  "styles/studio.css",
  "styles/themes.css",
  "tether.js",
  "theme.js",
  "tones.js",
  "views/against.js",
  "views/alarms.js",
  "views/aloud.js",
  "views/compare.js",
  "views/controls.js",
  "views/course.js",
  "views/cover-tables.js",
  "views/cover.js",
  "views/coverage.js",
  "views/entry.js",
  "views/frame.js",
  "views/full.js",
  "views/guests.js",
  "views/hand.js",
  "views/head.js",
  "views/light.js",
  "views/log.js",
  "views/look.js",
  "views/marking.js",
  "views/missed.js",
  "views/next.js",
  "views/patch.js",
  "views/progress.js",
  "views/releasing.js",
  "views/roll.js",
  "views/strip.js",
  "views/themes.js",
  "views/vigil.js",
  "views/zoom.js",
  "zoom.js",
];

const addresses = new Set(SHELL.map((name) => new URL(name, self.location).href));

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(KEPT_IN).then((kept) => kept.addAll(SHELL)));
});

// The program's own file comes first: what is kept is for when it does not answer.
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !addresses.has(request.url)) return;
  event.respondWith(answer(event));
});

async function answer(event) {
  try {
    const fetched = await fetch(event.request);
    // Beside the answer: a page of sixty files does not wait for the disk at each.
    if (fetched.ok) event.waitUntil(keep(event.request, fetched.clone()));
    return fetched;
  } catch (gone) {
    const kept = await caches.open(KEPT_IN);
    const before = await kept.match(event.request);
    if (before === undefined) throw gone;
    return before;
  }
}

async function keep(request, fetched) {
  const kept = await caches.open(KEPT_IN);
  await kept.put(request, fetched);
}
