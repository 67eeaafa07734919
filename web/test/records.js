import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

/** The sample journal's records. */
export const sample = readFileSync(
  fileURLToPath(new URL("../../src/test/resources/journals/bracket-sample.jsonl", import.meta.url)),
  "utf8",
)
  .trim()
  .split("\n")
  .map((line) => JSON.parse(line));

/** Records of a type and fields each, numbered from 1. */
export const numbered = (...records) =>
  records.map(([type, fields = {}], index) => ({
    seq: index + 1,
    at: `2026-11-25T07:00:${String(index % 60).padStart(2, "0")}Z`,
    type,
    ...fields,
  }));
