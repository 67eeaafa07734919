/** What passes between the guest page and the program, and between it and an operator. */

/** The program is asked this often, milliseconds: what is switched is seen within a second. */
export const EVERY_MS = 400;

/** After a failure less often. */
export const AFTER_FAILURE_MS = 2_000;

/**
 * Asks what is to be seen, again and again while the page is seen.
 *
 * @param edge.send sends a request as fetch does
 * @param edge.change shows a view, null for none; it may fail, and is then asked for again
 * @param edge.ended told once when the link was withdrawn
 * @param edge.link told whether the program answers
 */
export function createWatch(edge) {
  let view;
  let over = false;
  let underWay = false;

  async function answer() {
    const told = await edge.send("guest/now", { headers: { Accept: "application/json" } });
    if (told.status === 401 || told.status === 403) {
      over = true;
      edge.ended();
      return;
    }
    if (told.status !== 200) throw new Error("no answer");
    const { view: next = null } = await told.json();
    if (next !== view) {
      await edge.change(next);
      view = next;
    }
    edge.link(true);
  }

  async function look() {
    if (over || underWay || !edge.isSeen()) return;
    underWay = true;
    let wait = EVERY_MS;
    try {
      await answer();
    } catch {
      edge.link(false);
      wait = AFTER_FAILURE_MS;
    }
    underWay = false;
    if (!over) edge.wait(look, wait);
  }

  return {
    look,
    /** Hands the link's secret in, in a header: an address would be kept in histories and logs. */
    async enter(secret) {
      for (;;) {
        try {
          const told = await edge.send("guest/enter", {
            method: "POST",
            headers: { "Content-Type": "application/json", "X-Scenespan": "1", "X-Scenespan-Code": secret },
          });
          if (told.status === 200) return true;
          over = true;
          edge.ended();
          return false;
        } catch {
          edge.link(false);
          await new Promise((done) => edge.wait(done, AFTER_FAILURE_MS));
        }
      }
    },
  };
}

/**
 * What an operator asks of the guest page's link: {shows, came, link, drawing}, or {error}.
 *
 * @param wish nothing to look, {shows} to choose, {link} to make one or withdraw it
 */
export async function askGuests(wish = null, send = (address, request) => fetch(address, request)) {
  const request =
    wish === null
      ? { headers: { Accept: "application/json" } }
      : {
          method: "POST",
          headers: { "Content-Type": "application/json", "X-Scenespan": "1" },
          body: JSON.stringify(wish),
        };
  try {
    const told = await send("api/guests", request);
    const answer = await told.json().catch(() => ({}));
    return told.status === 200 ? answer : { error: answer.error ?? `the program answered ${told.status}` };
  } catch {
    return { error: "the program does not answer" };
  }
}

/** The path of a drawing's dark modules, one unit each; a row's neighbours are one part. */
export function modulesPath(rows) {
  return rows
    .flatMap((row, y) => [...row.matchAll(/1+/g)].map(({ index, 0: run }) => `M${index} ${y}h${run.length}v1H${index}Z`))
    .join("");
}
