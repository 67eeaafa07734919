import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { test } from "node:test";
import { fileURLToPath } from "node:url";

const web = fileURLToPath(new URL("../", import.meta.url));
const read = (name) => readFileSync(web + name, "utf8");

const themes = new Map(
  [...read("styles/themes.css").matchAll(/\[data-theme="(\w+)"\]\s*\{([^}]*)\}/g)].map(([, name, body]) => [
    name,
    new Map([...body.matchAll(/(--[\w-]+):\s*([^;]+);/g)].map(([, key, value]) => [key, value])),
  ]),
);

/** Relative luminance and contrast, WCAG 2.2. */
function luminance(hex) {
  const [red, green, blue] = [1, 3, 5].map((at) => {
    const code = parseInt(hex.slice(at, at + 2), 16) / 255;
    return code <= 0.04045 ? code / 12.92 : ((code + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function contrast(one, other) {
  const [low, high] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (high + 0.05) / (low + 0.05);
}

const WORDS = [
  ["--ink", "--ground"],
  ["--quiet", "--ground"],
  ["--ink", "--raised"],
  ["--bar-ink", "--bar"],
  ["--open", "--ground"],
  ["--fault-ink", "--fault-ground"],
  ["--act-ink", "--act"],
  ["--grave-ink", "--grave"],
];
const MARKS = [
  ["--mark", "--ground"],
  ["--bar-edge", "--ground"],
  ["--hatch", "--ground"],
  ["--open", "--ground"],
  ["--focus", "--ground"],
  ["--focus", "--raised"],
  ["--grave-ink", "--raised"],
  ["--bar-edge", "--raised"],
];

test("contrast is computed as the standard has it", () => {
  assert.equal(contrast("#000000", "#ffffff"), 21);
  assert.ok(Math.abs(contrast("#ff0000", "#000000") - 5.25) < 0.01);
  assert.ok(Math.abs(contrast("#777777", "#ffffff") - 4.48) < 0.01);
});

test("there are three themes with the same properties", () => {
  assert.deepEqual([...themes.keys()], ["day", "dark", "night"]);
  const names = [...themes.get("day").keys()].sort();
  for (const theme of themes.values()) assert.deepEqual([...theme.keys()].sort(), names);
});

for (const [name, theme] of themes) {
  test(`${name}: words have a contrast of at least 4.5, marks of at least 3`, () => {
    for (const [pairs, least] of [[WORDS, 4.5], [MARKS, 3]]) {
      for (const [ink, ground] of pairs) {
        const found = contrast(theme.get(ink), theme.get(ground));
        assert.ok(found >= least, `${ink} on ${ground}: ${found.toFixed(2)}`);
      }
    }
  });
}

test("night is red on true black", () => {
  const night = themes.get("night");
  assert.equal(night.get("--ground"), "#000000");
  for (const [key, value] of night) {
    if (value.startsWith("#")) assert.match(value, /^#[0-9a-f]{2}0000$/, key);
  }
});

test("colours are written in the themes and nowhere else", () => {
  for (const name of readdirSync(`${web}styles`).filter((file) => file !== "themes.css")) {
    const css = read(`styles/${name}`).replaceAll("rgb(0 0 0 / 0.6)", "");
    assert.doesNotMatch(css, /#[0-9a-f]{3,8}\b(?!-)|rgb|hsl|oklch/i, name);
    for (const [, used] of css.matchAll(/var\((--[\w-]+)\)/g)) {
      assert.ok(themes.get("day").has(used) || used === "--edge", `${used} in ${name}`);
    }
  }
});
