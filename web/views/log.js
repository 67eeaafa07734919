import { fill, make, show, write } from "../dom.js";
import * as format from "../format.js";

/** Entries in the page at once, the newest first. */
export const MOST_SHOWN = 60;

function create() {
  const item = make("li", "entry");
  item.append(make("span", "when"), make("span", "what"), make("span", "reason"));
  return item;
}

/** What a shot is taken with; of a camera that keeps its own exposure its frame tells. */
export function shotWords({ shot, exposure }) {
  if (shot === null) return "";
  return `Shot ${shot}: ${exposure === null ? "as the camera exposes" : format.exposure(exposure)}`;
}

function update(item, entry) {
  const [when, what, reason] = item.children;
  write(when, format.clock(entry.at));
  const shot = shotWords(entry);
  write(what, shot);
  show(what, shot !== "");
  write(reason, entry.text ?? "");
}

/**
 * @param list where the entries go
 * @param earlier says how many there were before
 */
export function createLog(list, earlier) {
  let drawn = null;
  return ({ entries, entriesDropped }) => {
    if (entries === drawn) return;
    drawn = entries;
    const shown = entries.slice(-MOST_SHOWN).reverse();
    fill(list, shown, create, update);
    const hidden = entries.length + entriesDropped - shown.length;
    show(earlier, hidden > 0 || entries.length === 0);
    write(
      earlier,
      entries.length === 0
        ? "Nothing yet."
        : `${hidden} earlier ${hidden === 1 ? "entry is" : "entries are"} in the journal.`,
    );
  };
}
