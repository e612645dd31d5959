/** Keeps out of texts, comments and names the words that have been replaced, and notes that are too long to read. */
import { readdirSync, readFileSync } from "node:fs";
import { extname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { JOB_FIELDS } from "../functions/audit/fields";
import { LOG_FIELDS } from "../functions/log/fields";
import { FIELDS } from "../functions/plan/fields";

const ROOT = join(import.meta.dirname, "..");
const TEXTS = new Set([".ts", ".mjs", ".cjs", ".md", ".html", ".css", ".json"]);
const PAGES = ["README.md", "DEVELOPERS.md", ".github/CONTRIBUTING.md"];

/** By itself, or at a hump of a name. */
const word = (lower: string) => {
  const capital = lower[0]!.toUpperCase() + lower.slice(1);
  return new RegExp(`(?<![A-Za-z])(?:${lower}|${capital})(?![a-z])|(?<=[a-z])${capital}(?![a-z])`);
};

/** What to look for, and by what it has been replaced. */
const REPLACED: readonly [old: string, found: RegExp, by: string][] = [
  ["mend", word("mend(?:s|ed|ing)?"), "fix"],
  ["overtype", word("overtyp(?:e|es|ed|ing)"), "replace"],
  ["twin", word("twins?"), "duplicate"],
  ["lesson", word("lessons?"), "calibration"],
  ["learn", word("learn(?:s|ed|t|ing)?"), "calibration"],
  ["slip", word("slips?"), "margin fade"],
  ["labour", word("labour"), "labor"],
  ["colour", word("colours?"), "color"],
  ["grey", word("greys?"), "gray"],
  ["trowelled", word("trowelled"), "troweled"],
  ["metre", /metres?\b/i, "meter"],
  ["litre", /(?<![a-z])litres?\b/i, "liter"],
  ["set-up", /\bset-up\b/i, "setup"],
  ["of all time", /\bof all time\b/i, "what it is a share of"],
  ["20 %", /(?<![\w.])\d[\d.]* %(?! ?[\d(])|\} %[`"']/, "20%"],
  ["preview in what ships", /\bpreview\b/i, "nothing: the spreadsheet is Excel"],
];

/** How it is spelled in the US, in tests too. */
const SPELLED: readonly [old: string, found: RegExp, by: string][] = [
  ["cancelled", /cancell(?:ed|ing|able)/i, "canceled"],
  ["recognise", /(?:recogn|organ|minim|optim)is(?:e|ed|es|ing)(?![a-z])/i, "-ize"],
  ["licence", word("licen[c]es?"), "license"],
  ["half-way, clean-up", /\b(?:half-way|clean-up)\b/i, "halfway, cleanup"],
];

/** Where a word means something else: an id that workbooks store, wet floors, Excel's own names, and what users type. */
const MEANT =
  /MARGINSLIP|[Ll]earnMoreUrl|slip resistance|<b>Slips:|and slip$|Grey\d\d|grey: "#|"labour man|labour_rate|"20 %" are 0\.2/g;

function filesUnder(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" })
    .map((file) => `${folder}/${file.replaceAll("\\", "/")}`)
    .filter((file) => TEXTS.has(extname(file)));
}

const FILES = [...["addin", "functions", "manifest"].flatMap(filesUnder), ...PAGES];
const TESTS = filesUnder("tests").filter((file) => file !== "tests/wording.test.ts");

/** Places, with the line, at which a text has what it should not. */
const placesOf = (files: readonly string[], found: RegExp): string[] =>
  files.flatMap((file) =>
    [file, ...readFileSync(join(ROOT, file), "utf8").split("\n")].flatMap((line, i) =>
      found.test(line.trim().replace(MEANT, "")) ? [`${file}:${i} ${line.trim().slice(0, 120)}`] : [],
    ),
  );

const SHIPPED = /^addin\/(?:pane|sheet|share|common)\//;

describe("texts, comments and names", () => {
  it.each(REPLACED)("do without %s", (old, found, by) => {
    const files = old.includes("preview") ? FILES.filter((file) => SHIPPED.test(file)) : FILES;
    const places = placesOf(files, found);
    expect(places, `use ${by}`).toEqual([]);
  });

  it.each(SPELLED)("are not spelled %s", (_, found, by) => {
    expect(placesOf([...FILES, ...TESTS, "webpack.config.js"], found), `use ${by}`).toEqual([]);
  });
});

describe("the note of a field", () => {
  const notes = [FIELDS, JOB_FIELDS, LOG_FIELDS]
    .flatMap((fields) => Object.values(fields))
    .flatMap(({ note }: { note?: string }) => (note ? [note] : []));

  it.each(notes)("has at most ten words: %s", (note) => {
    expect(note.split(/\s+/).length).toBeLessThanOrEqual(10);
  });
});
