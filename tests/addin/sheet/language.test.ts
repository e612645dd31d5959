/** In a spreadsheet where 1,5 and =SUM(1;2) are right: the add-in writes and reads the same cells as in one of English notation. */
import { readdirSync, readFileSync } from "node:fs";
import { afterEach, describe, expect, it, vi } from "vitest";
import { ENGLISH, GERMAN, type Separators } from "../../../addin/preview/host/local";
import {
  findJobList,
  hasDecimalComma,
  insertFunction,
  problemText,
  readJobs,
  readSelectedCell,
  readShelf,
} from "../../../addin/sheet";
import { guessMapping } from "../../../functions/audit/headings";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import { putShelf } from "./agreement";
import { isInserted, outcomeOf, WRITING_COMMANDS } from "./faults-commands";
import { quietly, typeList } from "./job-lists";
import { cellValue, type GritWorkbook, openGrit, select, snapshot, write } from "./workbook";

// Whole sheets are written twice, on a machine that may be busy.
vi.setConfig({ testTimeout: 60_000 });

let workbook: GritWorkbook;
async function open(separators: Separators) {
  workbook = await openGrit();
  workbook.host.model.separators = separators;
}
afterEach(async () => {
  vi.restoreAllMocks();
  await workbook.dispose();
});

/** What typing does in the user's own notation. */
const typeLocally = (address: string, texts: string[][]) =>
  Excel.run(async (context) => {
    const [sheet, cells] = address.split("!") as [string, string];
    context.workbook.worksheets.getItem(sheet).getRange(cells).formulasLocal = texts;
    await context.sync();
  });

const shownLocally = (address: string) =>
  Excel.run(async (context) => {
    const [sheet, cells] = address.split("!") as [string, string];
    const range = context.workbook.worksheets.getItem(sheet).getRange(cells).load("formulasLocal,text");
    await context.sync();
    return [range.formulasLocal[0]![0], range.text[0]![0]];
  });

/** Formulas, formats, names and values of everything, without the ids that differ from workbook to workbook. */
async function everything(): Promise<unknown> {
  const { sheets, ...rest } = (await snapshot()) as any;
  const values = await Excel.run(async (context) => {
    const all = context.workbook.worksheets.load("items/name");
    await context.sync();
    const used = all.items.map((one) => one.getUsedRange().load("values"));
    await context.sync();
    return used.map((range) => range.values);
  });
  return { ...rest, sheets: sheets.map(({ id: _, ...sheet }: any) => sheet), values };
}

it.each(WRITING_COMMANDS)("the cells are the same in both notations after $name", async ({ prepare }) => {
  const found: unknown[] = [];
  for (const separators of [ENGLISH, GERMAN]) {
    if (found.length > 0) await workbook.dispose();
    await open(separators);
    const outcome = await outcomeOf(await prepare(workbook));
    if (outcome instanceof Error) expect.fail(outcome.message);
    found.push([await everything(), isInserted(outcome) ? outcome.what : null]);
  }
  expect(found[1]).toEqual(found[0]);
});

it("a call is written in English notation and shown in the user's, with decimals as decimals", async () => {
  await open(GERMAN);
  await select("Sheet1!B2");
  await insertFunction("=GRIT.PASSTIME(4200,28,15,,0.2,0.75)");
  // By hand: 28 / 12 × 15 × 60 × 0.8 × 0.75 = 1260 ft²/h; 4200 / 1260 = 10 / 3.
  expect(await cellValue("Sheet1!B2")).toBeCloseTo(10 / 3, 12);
  expect((await shownLocally("Sheet1!B2"))[0]).toBe("=GRIT.PASSTIME(4200;28;15;;0,2;0,75)");
});

it("numbers that were typed as 1,5 and 1.000 are numbers: of a cell that is read, and of a list of jobs", async () => {
  await open(GERMAN);
  await typeLocally("Sheet1!A1:A3", [["1,5"], ["1.000"], ["=SUM(0,5;1,25)"]]);
  for (const [cell, value] of [
    ["A1", 1.5],
    ["A2", 1000],
    ["A3", 1.75],
  ] as const) {
    await select(`Sheet1!${cell}`);
    expect((await readSelectedCell()).value).toBe(value);
  }
  expect(await shownLocally("Sheet1!A1")).toEqual(["1,5", "1,5"]);
  await typeList("Jobs", "A1", [
    ["Job", "Bid price", "Billed", "Bid cost", "Final cost"],
    ["A1", "", "", "", ""],
  ]);
  await typeLocally("Jobs!B2:E2", [["1.000", "1.000,00", "700,5", "780,25"]]);
  const source = await findJobList();
  const { jobs, problems } = await readJobs(source, guessMapping(source.headings), quietly());
  expect(problems).toEqual([]);
  expect(jobs).toMatchObject([{ price: { quoted: 1000, actual: 1000 }, cost: { quoted: 700.5, actual: 780.25 } }]);
});

describe("texts in place of numbers are told with the reason, and never guessed at:", () => {
  const HEADINGS = ["Job", "Bid price", "Billed", "Bid cost", "Final cost", "Date"];
  const GOOD = ["A1", 1000, 1000, 700, 700, 46000];

  it.each([
    // A comma and two digits can be nothing but decimals; what it was meant to be is told, and not taken.
    ["Final cost", "1,5", /must be 0 or more; got the text "1,5"\. .*1\.5/, "left out"],
    ["Final cost", "1.234,56", /must be 0 or more; got the text "1\.234,56"\. .*1234\.56/, "left out"],
    // 1000 to a reader in Berlin and 1 to one in Boston.
    ["Final cost", "1.000", /must be 0 or more; got the text "1\.000"\.$/, "left out"],
    ["Date", "12.05.2026", /got the text "12\.05\.2026"\. .*date/, "counted"],
  ] as const)("%s is %s in a list of jobs", async (heading, text, reason, effect) => {
    await open(GERMAN);
    await typeList("Jobs", "A1", [HEADINGS, GOOD.map((cell, i) => (HEADINGS[i] === heading ? text : cell))]);
    const source = await findJobList();
    const { problems } = await readJobs(source, guessMapping(HEADINGS), quietly());
    expect(problems).toMatchObject([{ wrong: { kind: "badValue", got: text }, effect }]);
    expect(problemText(source, problems[0]!)).toMatch(reason);
  });

  it.each(["1,5", "1.000", "12.05.2026"])("%s in a tool's life, whose row is left out", async (text) => {
    await open(GERMAN);
    await putShelf(starterShelf("us"), "us");
    await write("Tools!G3", [[`'${text}`]]);
    const { shelf, problems } = await readShelf("us");
    expect(problems).toEqual([
      expect.stringContaining(`Life of a set must be above 0; got the text "${text}"; the row is`),
    ]);
    expect(shelf.tools).toEqual(starterShelf("us").tools.slice(1));
  });
});

it.each([
  [ENGLISH, false],
  [GERMAN, true],
])("the pane knows of %o whether decimals come after a comma", async (separators, comma) => {
  await open(separators);
  expect(await hasDecimalComma()).toBe(comma);
});

it("where Excel is too old to tell, the language of the document does", async () => {
  await open(ENGLISH);
  const languages = { "de-DE": true, "en-US": false, "fr-FR": true, "en-GB": false };
  for (const [contentLanguage, comma] of Object.entries(languages)) {
    const requirements = { isSetSupported: () => false };
    vi.stubGlobal("Office", { context: { requirements, contentLanguage } });
    expect(await hasDecimalComma(), contentLanguage).toBe(comma);
  }
  vi.unstubAllGlobals();
});

it("nothing of the add-in reads or writes cells in the language of the user's Excel, where = SUM(1;2) and 1,5 are right", () => {
  // Excel's documentation: formulas, values and numberFormat are in English notation whatever the locale; these are not.
  const local = /\b(?:formulasLocal|numberFormatLocal|addressLocal|nameLocal|refersToLocal)\b/;
  const files = ["sheet", "pane"].flatMap((layer) =>
    readdirSync(`addin/${layer}`, { recursive: true, encoding: "utf8" }).map((name) => `addin/${layer}/${name}`),
  );
  const read = files.filter((name) => name.endsWith(".ts")).map((name) => [name, readFileSync(name, "utf8")] as const);
  expect(read.length).toBeGreaterThan(40);
  expect(read.some(([, text]) => text.includes(".formulas"))).toBe(true);
  expect(read.filter(([, text]) => local.test(text)).map(([name]) => name)).toEqual([]);
});
