import { byId, set, show, write } from "../dom.js";
import { askGuests, modulesPath } from "../guests.js";
import { phaseOf } from "../session.js";

/** What an operator is told of the link. */
export function guestWords({ link, came = 0, error }) {
  if (error !== undefined) return `Not done: ${error}.`;
  if (link === undefined) return "There is no link yet. Whoever has it sees what you choose here, and nothing else.";
  if (new URL(link).hostname === "127.0.0.1") {
    return "Only this machine can open it: the page was started without --lan.";
  }
  if (came === 0) return "Nobody has opened it yet.";
  return came === 1 ? "One browser has opened it." : `${came} browsers have opened it.`;
}

/**
 * The guest page's link and what it shows, for an operator to choose.
 *
 * @param ask see askGuests
 */
export function createGuests(ask = askGuests) {
  const open = byId("guests");
  const dialog = byId("guest-dialog");
  let known = {};

  async function wish(what) {
    const answer = await ask(what);
    known = answer.error === undefined ? answer : { ...known, error: answer.error };
    draw();
  }

  function draw() {
    const linked = known.link !== undefined;
    write(byId("guest-told"), guestWords(known));
    show(byId("guest-make"), !linked);
    show(byId("guest-withdraw"), linked);
    show(byId("guest-linked"), linked);
    if (!linked) return;
    write(byId("guest-link"), known.link);
    const side = known.drawing.length;
    set(byId("guest-drawing"), "viewBox", `0 0 ${side} ${side}`);
    set(byId("guest-modules"), "d", modulesPath(known.drawing));
    for (const choice of document.querySelectorAll("input[name=guest-shows]")) {
      choice.checked = choice.value === known.shows;
    }
  }

  open.addEventListener("click", () => {
    known = {};
    draw();
    dialog.showModal();
    wish(null);
  });
  byId("guest-make").addEventListener("click", () => wish({ link: true }));
  byId("guest-withdraw").addEventListener("click", () => wish({ link: false }));
  byId("guest-close").addEventListener("click", () => dialog.close());
  for (const choice of document.querySelectorAll("input[name=guest-shows]")) {
    choice.addEventListener("change", () => wish({ shows: choice.value }));
  }

  return (state, { me }) => {
    const offered = me.role === "operator" && phaseOf(state) !== "unopened";
    show(byId("guesting"), offered);
    if (!offered && dialog.open) dialog.close();
  };
}
