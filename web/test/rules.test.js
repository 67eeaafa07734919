import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { test } from "node:test";
import { fileURLToPath } from "node:url";

const web = fileURLToPath(new URL("../", import.meta.url));

function files(folder = "") {
  return readdirSync(web + folder, { withFileTypes: true }).flatMap((entry) => {
    if (entry.isDirectory()) return entry.name === "test" ? [] : files(`${folder}${entry.name}/`);
    return [folder + entry.name];
  });
}

const all = files();
const pages = all.filter((name) => name.endsWith(".html"));
const scripts = all.filter((name) => name.endsWith(".js"));
const text = (name) => readFileSync(web + name, "utf8");

test("there are files to hold the rules against", () => {
  assert.ok(scripts.length > 15);
  assert.ok(all.includes("index.html"));
});

test("no markup is ever made from text", () => {
  for (const name of scripts) {
    assert.doesNotMatch(
      text(name),
      /innerHTML|outerHTML|insertAdjacentHTML|document\.write|DOMParser|createContextualFragment|\beval\b|new Function/,
      name,
    );
  }
});

test("nothing is asked of another address", () => {
  for (const name of all) {
    const addresses = text(name).match(/(https?:)?\/\/[a-z0-9.-]+\.[a-z]{2,}\S*/gi) ?? [];
    const foreign = addresses.filter((address) => !address.startsWith("http://www.w3.org/2000/svg"));
    assert.deepEqual(foreign, [], name);
    assert.doesNotMatch(text(name), /@import (?!"[\w.-]+";)|@font-face/, name);
  }
});

test("no script, style or handler stands in the page", () => {
  for (const page of pages.map(text)) {
    assert.doesNotMatch(page, /<script(?![^>]*\bsrc=)/);
    assert.doesNotMatch(page, /<style|\sstyle=|\son[a-z]+=/);
  }
});

test("units are written in one place", () => {
  for (const name of scripts.filter((file) => file !== "format.js")) {
    const code = text(name).replaceAll(/\/\*[\s\S]*?\*\/|\/\/.*/g, "");
    assert.doesNotMatch(code, /["'`]\s*(f\/|ISO\s\$|EV\s\$)|\}\s?(stops|%|s)[`"' ]/, name);
  }
});

test("no name begins as those do by which the joined modules are known", () => {
  for (const name of scripts) assert.doesNotMatch(text(name), /\$\w/, name);
});

test("charts know no page", () => {
  for (const name of scripts.filter((file) => file.startsWith("charts/"))) {
    assert.doesNotMatch(text(name), /document|window|from "\.\.\//, name);
  }
});

test("every identity that is asked for is in the page, once", () => {
  const idsOf = (page) => [...text(page).matchAll(/\sid="([\w-]+)"/g)].map(([, id]) => id);
  for (const page of pages) assert.equal(new Set(idsOf(page)).size, idsOf(page).length, page);
  for (const name of scripts) {
    const page = { "plan.js": "plan.html", "guest.js": "guest.html" }[name] ?? "index.html";
    const ids = idsOf(page);
    for (const [, id] of text(name).matchAll(/byId\("([\w-]+)"\)/g)) {
      assert.ok(ids.includes(id), `${id} in ${name}`);
    }
  }
});

/** What a script or a style sheet imports, and what those import: the names of all, itself too. */
function joinedOf(name, found = new Set()) {
  found.add(name);
  for (const [, script, sheet] of text(name).matchAll(/^(?:import|export)[^;]*?"(\.[^"]+)";|^@import "([^"]+)";/gm)) {
    const other = new URL(script ?? sheet, `http://page/${name}`).pathname.slice(1);
    if (!found.has(other)) joinedOf(other, found);
  }
  return found;
}

test("a page names one style sheet and one module, and all other files are joined into those", () => {
  const named = pages.flatMap((page) => {
    const sheets = [...text(page).matchAll(/<link rel="stylesheet" href="([^"]+)"/g)];
    const modules = [...text(page).matchAll(/<script type="module" src="([^"]+)"/g)];
    assert.deepEqual([sheets.length, modules.length], [1, 1], page);
    return [sheets[0][1], modules[0][1]];
  });
  const joined = new Set(named.flatMap((name) => [...joinedOf(name)]));
  const own = all.filter((name) => /\.(js|css)$/.test(name) && !/^(theme|shell-worker)\.js$/.test(name));
  assert.deepEqual([...joined].sort(), own.sort());
  const listed = [...text("shell-worker.js").matchAll(/^  "(.*)",$/gm)].map(([, name]) => name);
  assert.deepEqual(listed.sort(), ["./", "icon.svg", "manifest.json", "theme.js", ...pages, ...named].sort());
});

test("the page can be installed", () => {
  const manifest = JSON.parse(text("manifest.json"));
  assert.equal(manifest.display, "standalone");
  for (const { src, sizes, type } of manifest.icons) {
    assert.ok(all.includes(src), src);
    if (type === "image/png") {
      // Width and height stand in the header chunk, big-endian (PNG, third edition, 11.2.1).
      const bytes = readFileSync(web + src);
      assert.equal(`${bytes.readUInt32BE(16)}x${bytes.readUInt32BE(20)}`, sizes);
    }
  }
});
