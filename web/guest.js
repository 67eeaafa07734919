/**
 * The guest page: one picture, or a quiet card. It knows nothing of the session but that. The link's
 * secret leaves the address at once and is exchanged for a cookie that no script reads.
 */

import { byId, show, write } from "./dom.js";
import { createWatch } from "./guests.js";

const ENDED = "This link is not valid any more.";

const picture = byId("shown");

function words(text) {
  write(byId("card-words"), text);
  show(byId("card"), text !== "");
}

/** A picture takes the other's place when all of it is here, and is described by nothing. */
async function change(view) {
  if (view === null) {
    show(picture, false);
    picture.removeAttribute("src");
    words("Nothing is shown at the moment.");
    return;
  }
  const next = new Image();
  next.src = `guest/picture?view=${view}`;
  await next.decode();
  picture.src = next.src;
  show(picture, true);
  words("");
}

// Guests came for the pictures' own colours, which night has not.
if (document.documentElement.dataset.theme === "night") document.documentElement.dataset.theme = "dark";

const secret = location.hash.slice(1);
if (location.hash !== "") history.replaceState(null, "", location.pathname);

const watch = createWatch({
  send: (address, wish) => fetch(address, wish),
  change,
  ended: () => {
    show(picture, false);
    picture.removeAttribute("src");
    words(ENDED);
  },
  link: (there) => write(byId("wall-told"), there ? "" : "Not connected; trying again."),
  wait: (task, ms) => setTimeout(task, ms),
  isSeen: () => document.visibilityState === "visible",
});
document.addEventListener("visibilitychange", watch.look);
if (secret === "" || (await watch.enter(secret))) watch.look();

const full = byId("wall-full");
show(full, document.fullscreenEnabled === true);
full.addEventListener("click", () => byId("wall").requestFullscreen().catch(() => {}));
document.addEventListener("fullscreenchange", () => show(full, document.fullscreenElement === null));
