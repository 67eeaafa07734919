import { createOutlook, fetched } from "../outlook.js";
import { createCourse } from "../views/course.js";
import { createVigil } from "../views/vigil.js";

/** What a lapse's page has beside what every page has. */
export function viewsOf({ redraw, foretell, byHand, missed, shown, log }) {
  const outlook = createOutlook(foretell, {
    fetched,
    now: () => Date.now(),
    setTimeout: (task, wait) => setTimeout(task, wait),
  });
  // The picture is asked for before the course is drawn, and comes meanwhile.
  return [...byHand, missed.view, createVigil(), ...shown, createCourse(redraw), log, outlook];
}
