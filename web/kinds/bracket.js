import { byId } from "../dom.js";
import { createAloud } from "../views/aloud.js";
import { createCover } from "../views/cover.js";
import { createCoverage } from "../views/coverage.js";
import { createNext } from "../views/next.js";

/** What a bracket's page has beside what every page has. */
export function viewsOf({ redraw, voice, shown, log }) {
  const aloud = createAloud(byId("aloud"), ...voice);
  return [createNext(), aloud, createCover(redraw), createCoverage(), ...shown, log];
}
