import { byId, fill, make, show, write } from "../dom.js";
import * as format from "../format.js";

/** Entries in the page at once, the newest first. */
export const MOST_SHOWN = 60;

function create() {
  const item = make("li", "entry");
  item.append(make("span", "when"), make("span", "what"), make("span", "reason"));
  return item;
}

function update(item, entry) {
  const [when, what, reason] = item.children;
  write(when, format.clock(entry.at));
  const shot = entry.exposure ? `Shot ${entry.shot}: ${format.exposure(entry.exposure)}` : "";
  write(what, shot);
  show(what, shot !== "");
  write(reason, entry.text ?? "");
}

export function createLog() {
  const list = byId("entries");
  const earlier = byId("earlier");
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
