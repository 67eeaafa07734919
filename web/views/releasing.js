import { byId, fill, make, set, show, write } from "../dom.js";
import { phaseOf } from "../session.js";

/** Whole seconds that are left of a count-down, 0 at its end; it never shows more than it began with. */
export function secondsLeft({ due, seconds }, now) {
  // A timer may come some milliseconds early.
  return Math.min(seconds, Math.max(0, Math.ceil((due - now) / 1_000 - 0.03)));
}

/**
 * When a count-down ends by this device's steady clock, milliseconds. Where its beginning was seen
 * here no clock matters but that; a page that is opened in its midst takes the device's own.
 *
 * @param witnessed whether its record came while the page was live
 */
export function dueOf({ seconds, at }, witnessed, { now, wall }) {
  const passed = witnessed ? 0 : wall - Date.parse(at);
  return now + 1_000 * seconds - Math.min(Math.max(passed, 0), 1_000 * seconds);
}

/** What the button says: the release that is not over is said to be so. */
export function releaseWords({ counting, underWay }, pending) {
  if (counting !== null) return "Counting down …";
  if (underWay !== null) return underWay.released ? "Waiting for its frame …" : "Releasing …";
  return pending ? "Release asked …" : "Release";
}

/**
 * The release from the page: an operator asks for it, everybody sees it counted down.
 *
 * @param ask sends a wish, answers null or why it was not taken
 * @param onRefusal told why a wish was not taken, null when a new one is made
 * @param tones see tones.js
 * @param wantsSound whether sound is on
 */
export function createReleasing(ask, onRefusal, tones, wantsSound) {
  const group = byId("releasing");
  const release = byId("release");
  const overlay = byId("count");
  const back = byId("count-back");
  let state = null;
  /** The release that was asked for and is not on record yet; whether it was asked back. */
  let pending = null;
  let pendingBack = false;
  /** The count-down that is shown: {shot, seconds, due, witnessed}. */
  let count = null;
  let told = null;
  let timer = null;
  let live = false;
  let fault = null;

  async function wish(act, about, words) {
    onRefusal(null);
    const refusal = await ask(act, about);
    if (refusal !== null) onRefusal(`${words}: ${refusal}.`);
    return refusal === null;
  }

  const isBusy = () => pending !== null || state.counting !== null || state.underWay !== null;

  release.addEventListener("click", async () => {
    if (state === null || isBusy()) return;
    const wished = state.releases + 1;
    pending = wished;
    drawButton();
    const seconds = Number(document.querySelector("input[name=count]:checked").value);
    const taken = await wish("release", { countSeconds: seconds }, "There is no release");
    if (!taken && pending === wished) pending = null;
    drawButton();
  });

  back.addEventListener("click", async () => {
    if (pendingBack || count === null) return;
    pendingBack = true;
    drawButton();
    if (!(await wish("withdraw", {}, "The release was not taken back"))) pendingBack = false;
    drawButton();
  });

  function drawButton() {
    if (state === null) return;
    const busy = isBusy();
    write(release, releaseWords(state, pending !== null));
    set(release, "aria-disabled", busy ? "true" : null);
    set(release, "data-pending", busy);
    write(back, pendingBack ? "Taking it back …" : "Take it back");
    set(back, "data-pending", pendingBack);
  }

  function run() {
    clearTimeout(timer);
    if (count === null) return;
    const now = performance.now();
    const left = secondsLeft(count, now);
    write(byId("count-number"), left > 0 ? String(left) : "now");
    fill(
      byId("count-ticks"),
      Array.from({ length: count.seconds }),
      () => make("li"),
      (tick) => set(tick, "data-gone", [...tick.parentNode.children].indexOf(tick) >= left),
    );
    if (left !== told) {
      told = left;
      if (count.witnessed && wantsSound()) tones.tick(left === 0);
    }
    if (left > 0) timer = setTimeout(run, Math.max(count.due - 1_000 * (left - 1) - now, 1));
  }

  function follow({ counting }) {
    if (counting?.shot === count?.shot) return;
    count = null;
    told = null;
    pendingBack = false;
    if (counting !== null && counting.seconds > 0) {
      const clocks = { now: performance.now(), wall: Date.now() };
      count = { ...counting, witnessed: live, due: dueOf(counting, live, clocks) };
      write(byId("count-words"), `Release in ${count.seconds === 1 ? "a second" : `${count.seconds} seconds`}`);
    }
    run();
  }

  /** A release that failed is told by the alarms; while this page looks on it also sounds. */
  function soundAt({ faults }) {
    const now = faults.find(({ key }) => key === "shot")?.text ?? null;
    if (live && now !== null && now !== fault && wantsSound()) tones.sound();
    fault = now;
  }

  return (next, { me, link }) => {
    if (state !== null && next.seq < state.seq) pending = null;
    state = next;
    const phase = phaseOf(state);
    const running = phase !== "unopened" && phase !== "ended";
    const mayAct = me.role === "operator";
    if (!running || (pending !== null && state.releases >= pending)) pending = null;
    show(group, running && mayAct && Boolean(state.opened.trigger));
    follow(state);
    show(overlay, count !== null);
    show(back, mayAct);
    soundAt(state);
    drawButton();
    live = link.state === "live";
  };
}
