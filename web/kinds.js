/** The views that one kind of session alone needs. They are made when a session is of that kind. */

import { viewsOf as ofBracket } from "./kinds/bracket.js";
import { viewsOf as ofLapse } from "./kinds/lapse.js";
import { viewsOf as ofTether } from "./kinds/tether.js";

const MAKERS = { bracket: ofBracket, lapse: ofLapse, tether: ofTether };

/**
 * The kind whose views are to be shown; null while a page that shows none yet has still to hear of
 * which it is. A session that has not begun is shown as a bracket.
 *
 * @param before the kind that is shown already, or null
 */
export function kindOf({ opened, kind }, { link }, before) {
  if (before === null && opened === null && link.state !== "live") return null;
  return Object.hasOwn(MAKERS, kind) ? kind : "bracket";
}

/**
 * Answers a kind's views, none for null; being asked for the first time makes them.
 *
 * @param page what a kind makes its views of
 * @param makers what makes the views of each kind, or stand-ins
 */
export function createKinds(page, makers = MAKERS) {
  const views = new Map();
  return (kind) => {
    if (kind === null) return [];
    if (!views.has(kind)) views.set(kind, makers[kind](page));
    return views.get(kind);
  };
}
