/** The views that one kind of session alone needs. They come when a session is of that kind. */

/** What did not come is asked for again after so long, milliseconds. */
export const AGAIN_MS = 2_000;

const MODULES = {
  bracket: () => import("./kinds/bracket.js"),
  lapse: () => import("./kinds/lapse.js"),
  tether: () => import("./kinds/tether.js"),
};

/**
 * The kind whose views are to be shown; null while a page that shows none yet has still to hear of
 * which it is. A session that has not begun is shown as a bracket.
 *
 * @param before the kind that is shown already, or null
 */
export function kindOf({ opened, kind }, { link }, before) {
  if (before === null && opened === null && link.state !== "live") return null;
  return Object.hasOwn(MODULES, kind) ? kind : "bracket";
}

/**
 * Answers a kind's views, null while they have not come; being asked for the first time loads them.
 *
 * @param page what a kind's module makes its views of
 * @param tell told whether something did not come, each time that it is worth asking again
 * @param edge the modules and setTimeout(task, wait), or stand-ins
 */
export function createKinds(page, tell, edge = { modules: MODULES, setTimeout: (task, wait) => setTimeout(task, wait) }) {
  const views = new Map();

  async function load(kind) {
    const module = await edge.modules[kind]().catch(() => null);
    if (module !== null) views.set(kind, module.viewsOf(page));
    else {
      edge.setTimeout(() => {
        views.delete(kind);
        tell(true);
      }, AGAIN_MS);
    }
    tell(module === null);
  }

  return (kind) => {
    if (kind === null) return null;
    if (!views.has(kind)) {
      views.set(kind, null);
      load(kind);
    }
    return views.get(kind);
  };
}
