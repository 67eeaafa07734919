import { byId, set, show, write } from "../dom.js";
import { count } from "../format.js";
import { unnotedAlarms } from "../lapse.js";
import { unnoted } from "../tether.js";

const SOUND_KEY = "scenespan-sound";

/**
 * Alarms that nobody has noted yet, the newest first: by what they are noted, their words, and the
 * frame that shows them, where one does.
 */
export function alarmsOf(state, noted) {
  if (state.kind === "lapse") {
    return unnotedAlarms(state.lapse, noted).map(({ seq, words }) => ({ key: seq, words, frame: null }));
  }
  return unnoted(state.tether, noted).map((row) => ({
    key: row.index,
    words: `Frame ${row.index}, ${row.file}: ${row.findings.find(({ weight }) => weight === "alarm").words}`,
    frame: row.index,
  }));
}

/** The same in words; "" where there are none. */
export function missedWords(rows) {
  if (rows.length === 0) return "";
  const [newest] = rows;
  const more = rows.length === 1 ? "" : ` Before it, ${count(rows.length - 1, "alarm")} more.`;
  return newest.words + more;
}

function kept(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

function keep(key, value) {
  try {
    localStorage.setItem(key, value);
  } catch {
    // Storage may be forbidden; it then lasts as long as the page.
  }
}

/**
 * Alarms stand until they are noted on this device, and sound once if that is wished. What a replay
 * brings does not sound: it is long over.
 *
 * @param tones see tones.js
 */
export function createMissed(tones, choose, redraw) {
  const sound = byId("sound");
  sound.checked = kept(SOUND_KEY) !== "off";
  let session = null;
  let noted = 0;
  /** The newest alarm that was heard, or that was there before anything could be heard. */
  let heard = null;
  let rows = [];

  sound.addEventListener("change", async () => {
    keep(SOUND_KEY, sound.checked ? "on" : "off");
    if (sound.checked) {
      await tones.unlock();
      tones.sound();
    }
    redraw();
  });
  for (const touch of ["pointerdown", "keydown"]) {
    addEventListener(
      touch,
      async () => {
        if (!sound.checked || tones.ready()) return;
        await tones.unlock();
        redraw();
      },
      { capture: true },
    );
  }
  byId("missed-show").addEventListener("click", () => rows.length > 0 && choose(rows[0].frame));
  byId("missed-noted").addEventListener("click", () => {
    if (rows.length === 0) return;
    noted = rows[0].key;
    keep(`scenespan-noted-${session}`, String(noted));
    redraw();
  });

  const view = (state, { link }) => {
    const name = state.opened?.session ?? null;
    if (name !== session) {
      session = name;
      noted = name === null ? 0 : Number(kept(`scenespan-noted-${name}`) ?? 0);
      heard = null;
    }
    rows = alarmsOf(state, noted);
    const words = missedWords(rows);
    write(byId("missed-words"), words);
    show(byId("missed"), words !== "");
    if (rows.length > 0) {
      show(byId("missed-show"), rows[0].frame !== null);
      write(byId("missed-show"), `Show frame ${rows[0].frame}`);
      write(byId("missed-noted"), rows.length === 1 ? "Noted" : "All noted");
    }
    const newest = rows[0]?.key ?? 0;
    if (heard === null) {
      if (link.state === "live") heard = newest;
    } else if (newest > heard) {
      heard = newest;
      if (sound.checked) tones.sound();
    }
    const waits = sound.checked && !tones.ready();
    const what = state.opened?.trigger ? "Sound at an alarm and a count-down" : "Sound at an alarm";
    write(byId("sound-words"), waits ? `${what}, once this page is touched` : what);
    set(sound, "data-waits", waits);
  };
  return { view, wantsSound: () => sound.checked };
}
