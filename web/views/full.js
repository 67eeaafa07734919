import { show, write } from "../dom.js";

/** A section on the whole screen, where the browser lets it. */
export function createFull(button, look) {
  show(button, document.fullscreenEnabled === true);
  button.addEventListener("click", () => {
    if (document.fullscreenElement === null) look.requestFullscreen().catch(() => {});
    else document.exitFullscreen();
  });
  document.addEventListener("fullscreenchange", () => {
    write(button, document.fullscreenElement === null ? "Full screen" : "Leave full screen");
  });
}
