import { byId, fill, make, set, write } from "./dom.js";
import { ev, exposure, iso, length, millimetres, speed, width } from "./format.js";
import { question, speedOf } from "./planning.js";
import { createThemes } from "./views/themes.js";

/** Every number is computed by the program: the page asks and shows. */
const form = byId("plan-wishes");
const said = [
  [byId("plan-ev"), byId("plan-ev-said"), (value) => ev(value)],
  [byId("plan-focal"), byId("plan-focal-said"), (value) => millimetres(value)],
  [byId("plan-near"), byId("plan-near-said"), (value) => length(value)],
  [byId("plan-speed"), byId("plan-speed-said"), (value) => speed(value)],
  [byId("plan-subject"), byId("plan-subject-said"), (value) => length(value)],
  [byId("plan-iso"), byId("plan-iso-said"), (value) => iso(speedOf(value))],
  [byId("plan-nd"), byId("plan-nd-said"), (value) => width(value)],
];

function wishes() {
  return [...form.elements]
    .filter((field) => field.name !== "")
    .filter((field) => field.type !== "checkbox" || field.checked)
    .filter((field) => !field.dataset.with || byIdOf(field).checked)
    .map((field) => [field.name, field.value]);
}

const byIdOf = (field) => document.getElementById(field.dataset.with);

/**
 * @param asking the parameters that were asked with: a link to one of the settings asks anew
 */
function draw(answer, asking) {
  let number = 0;
  write(
    byId("plan-verdict"),
    answer.met ? "These hold every wish" : "Nothing holds every wish: what has to give",
  );
  fill(
    byId("plan-settings"),
    answer.settings,
    () => {
      const item = make("li");
      const save = make("a");
      save.download = "scenespan-plan.json";
      item.append(make("strong"), make("span"), save);
      return item;
    },
    (item, settings) => {
      number += 1;
      const [head, words, save] = item.children;
      write(head, exposure(settings.exposure));
      write(words, settings.words);
      write(save, "Save as a file");
      set(save, "href", `api/plan?${asking}&choose=${number}`);
      set(save, "aria-label", `Save ${exposure(settings.exposure)} as a file`);
    },
  );
  fill(byId("plan-remedies"), answer.remedies, () => make("li"), write);
}

let asked = 0;
let due = 0;
async function ask() {
  const mine = ++asked;
  const asking = question(wishes());
  let told;
  try {
    const answer = await fetch(`api/plan?${asking}`);
    told = await answer.json();
    if (!answer.ok) throw new Error(told.error);
  } catch (failure) {
    if (mine === asked) write(byId("plan-verdict"), `No answer: ${failure.message}`);
    return;
  }
  // A slider asks often; only the newest answer counts.
  if (mine === asked) draw(told, asking);
}

function changed() {
  for (const [field, output, words] of said) {
    const text = words(Number(field.value));
    write(output, text);
    set(field, "aria-valuetext", text);
    field.disabled = Boolean(field.dataset.with) && !byIdOf(field).checked;
  }
  clearTimeout(due);
  due = setTimeout(ask, 80);
}

createThemes();
form.addEventListener("input", changed);
form.addEventListener("submit", (event) => event.preventDefault());
changed();
