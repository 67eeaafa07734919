import { set, show } from "../dom.js";

/**
 * Reads what a hand has to do aloud, once each, if the photographer wants it: the eye is at the
 * finder and the screen is in the sun.
 *
 * @param button that switches it
 * @param voice the browser's speech; undefined where it has none
 * @param utter makes from words what the voice can say
 */
export function createAloud(button, voice, utter) {
  let wanted = false;
  let said = null;
  let words = null;

  function say() {
    if (!wanted || words === null || words === said) return;
    said = words;
    voice.cancel();
    voice.speak(utter(words));
  }

  button.addEventListener("click", () => {
    wanted = !wanted;
    said = null;
    if (!wanted) voice.cancel();
    set(button, "aria-pressed", String(wanted));
    say();
  });

  return ({ dial, report }) => {
    show(button, voice !== undefined && dial !== null);
    words = dial?.words ?? (report === null ? null : report.why);
    say();
  };
}
