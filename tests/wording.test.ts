/** Keeps out of texts, comments and names the words that have been replaced, and notes that are too long to read. */
import { readdirSync, readFileSync } from "node:fs";
import { extname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { JOB_FIELDS } from "../functions/audit/fields";
import { FIELDS } from "../functions/plan/fields";

const ROOT = join(import.meta.dirname, "..");
const TEXTS = new Set([".ts", ".mjs", ".cjs", ".md", ".html", ".css", ".json"]);
const PAGES = ["README.md", "DEVELOPERS.md", ".github/CONTRIBUTING.md"];

/** By itself, or at a hump of a name. */
const word = (lower: string) => {
  const capital = lower[0]!.toUpperCase() + lower.slice(1);
  return new RegExp(`(?<![A-Za-z])(?:${lower}|${capital})(?![a-z])|(?<=[a-z])${capital}(?![a-z])`);
};

const REPLACED: readonly [found: RegExp, by: string][] = [
  [word("mend(?:s|ed|ing)?"), "fix"],
  [word("overtyp(?:e|es|ed|ing)"), "replace"],
  [word("twins?"), "duplicate"],
  [word("lessons?"), "calibration"],
  [word("learn(?:s|ed|t|ing)?"), "calibration"],
  [word("slips?"), "margin fade"],
  [word("labour"), "labor"],
  [word("colours?"), "color"],
  [word("greys?"), "gray"],
  [word("trowelled"), "troweled"],
  [/metres?\b/i, "meter"],
  [/(?<![a-z])litres?\b/i, "liter"],
  [/\bset-up\b/i, "setup"],
  [/\bof all time\b/i, "say what it is"],
  [/(?<![\w.])\d[\d.]* %(?! ?[\d(])|\} %[`"']/, "20%, without a space"],
];

/** Where a word means something else: an id that workbooks store, and floors that are slippery. */
const MEANT = /MARGINSLIP|slip resistance/g;

function filesUnder(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" })
    .map((file) => `${folder}/${file.replaceAll("\\", "/")}`)
    .filter((file) => TEXTS.has(extname(file)));
}

const FILES = [...["addin", "functions", "manifest"].flatMap(filesUnder), ...PAGES];

/** Places, with the line, at which a text has what it should not. */
const placesOf = (files: readonly string[], found: RegExp): string[] =>
  files.flatMap((file) =>
    [file, ...readFileSync(join(ROOT, file), "utf8").split("\n")].flatMap((line, i) =>
      found.test(line.replace(MEANT, "")) ? [`${file}:${i} ${line.trim().slice(0, 120)}`] : [],
    ),
  );

describe("texts, comments and names", () => {
  it.each(REPLACED)("do without %s: %s", (found) => {
    expect(placesOf(FILES, found)).toEqual([]);
  });

  it("of what ships don't speak of the preview", () => {
    const shipped = FILES.filter((file) => /^addin\/(?:pane|sheet|share|common)\//.test(file));
    expect(placesOf(shipped, /\bpreview\b/i)).toEqual([]);
  });
});

describe("the note of a field", () => {
  const notes = [...Object.values(FIELDS), ...Object.values(JOB_FIELDS)].flatMap(({ note }: { note?: string }) => (note ? [note] : []));

  it.each(notes)("has at most ten words: %s", (note) => {
    expect(note.split(/\s+/).length).toBeLessThanOrEqual(10);
  });
});
