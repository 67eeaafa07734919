/**
 * Keeps the page's own files, so that an installed page opens while the program is away and says so.
 * Frames, events and answers are never kept: only what is in this list is.
 */

const KEPT_IN = "scenespan-shell";

const SHELL = [
  "./",
  "guest.html",
  "guest.js",
  "icon.svg",
  "index.html",
  "main.js",
  "manifest.json",
  "plan.html",
  "plan.js",
  "styles/guest.css",
  "styles/index.css",
  "styles/plan.css",
  "theme.js",
];

const addresses = new Set(SHELL.map((name) => new URL(name, self.location).href));

// An earlier version's worker does not know all of this one's files: it hands over at once.
self.addEventListener("install", (event) => {
  self.skipWaiting();
  event.waitUntil(caches.open(KEPT_IN).then((kept) => kept.addAll(SHELL)));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(forgetOthers());
});

/** An earlier version's files that are none of this one's. */
async function forgetOthers() {
  const kept = await caches.open(KEPT_IN);
  const others = (await kept.keys()).filter(({ url }) => !addresses.has(url));
  await Promise.all(others.map((request) => kept.delete(request)));
}

// The program's own file comes first: what is kept is for when it does not answer.
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !addresses.has(request.url)) return;
  event.respondWith(answer(event));
});

async function answer(event) {
  try {
    const fetched = await fetch(event.request);
    // Beside the answer: the page does not wait for the disk.
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
