/**
 * The demo workbook with an audit of its past jobs and a plan that learns from them: a copy without the add-in, calculated
 * by LibreOffice, has the add-in's value in every cell; and so it has after a person without the add-in types other inputs.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { columnLetters } from "../../../../addin/common/a1";
import { buildDemo } from "../../../../addin/preview/demo-workbook";
import { type CalculatingReport, calculatingCopy } from "../../../../addin/share/calculating-copy";
import { openWorkbook } from "../../../../addin/share/parts/workbook";
import { insertPlan } from "../../../../addin/sheet";
import { FIX } from "../../../../addin/sheet/plan-texts";
import { startInputs } from "../../../../functions/plan/inputs";
import { CATALOGUE } from "../../../catalogue";
import { reportCompared } from "../../../run/compared";
import { floor, planFor } from "../../sheet/agreement";
import { auditList } from "../../sheet/job-lists";
import { cellValue, type GritWorkbook, named, openGrit, select, write } from "../../sheet/workbook";
import { unzipped, zipped } from "../copy-files";
import { isError } from "../engine";
import { isSame, recalculated, type Sheets } from "./soffice";

const OPTIONS = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [] };

/** Where the demo has them, and what else they could be. */
const AREA = { "Quote!C6": 5150 };
const HARDNESS = { "Quote!C7": 7.5 };

type Values = Map<string, Map<string, unknown>>;

/** The add-in's values of all cells, by sheet and address. */
const valuesOfSheets = (): Promise<Values> =>
  Excel.run(async (context) => {
    const { worksheets } = context.workbook;
    worksheets.load("items/name");
    await context.sync();
    const used = worksheets.items.map((sheet) => sheet.getUsedRange().load("rowIndex,columnIndex,values"));
    await context.sync();
    return new Map(
      worksheets.items.map(({ name }, i) => {
        const { rowIndex, columnIndex, values } = used[i]!;
        const cells = values.flatMap((line, r) =>
          line.map((value, c): [string, unknown] => [`${columnLetters(columnIndex + c)}${rowIndex + r + 1}`, value]),
        );
        return [name, new Map(cells)];
      }),
    );
  });

/** A copy in which someone has typed these numbers, and nothing else is touched. */
function typedInto(bytes: Uint8Array, typed: Readonly<Record<string, number>>): Uint8Array {
  const parts = unzipped(bytes);
  const { sheets } = openWorkbook(bytes);
  for (const [address, value] of Object.entries(typed)) {
    const [name, cell] = address.split("!");
    const { part } = sheets.find((sheet) => sheet.name === name)!;
    const number = new RegExp(`(<c r="${cell}"[^>]*><v>)[^<]*(</v></c>)`);
    expect(parts[part]).toMatch(number);
    parts[part] = parts[part]!.replace(number, `$1${value}$2`);
  }
  return zipped(parts);
}

/** A copy in which someone has emptied this cell. */
function emptied(bytes: Uint8Array, address: string): Uint8Array {
  const parts = unzipped(bytes);
  const [name, cell] = address.split("!");
  const { part } = openWorkbook(bytes).sheets.find((sheet) => sheet.name === name)!;
  const value = new RegExp(`(<c r="${cell}"[^>]*>)<v>[^<]*</v>(</c>)`);
  expect(parts[part]).toMatch(value);
  parts[part] = parts[part]!.replace(value, "$1$2");
  return zipped(parts);
}

const cellOfName = (name: string, sheet: string): Promise<string> =>
  Excel.run(async (context) => {
    const range = context.workbook.worksheets.getItem(sheet).names.getItem(name).getRange().load("address");
    await context.sync();
    return range.address.replace(/[$']/g, "");
  });

const typeAll = async (typed: Readonly<Record<string, number>>) => {
  for (const [address, value] of Object.entries(typed)) await write(address, [[value]]);
};

let workbook: GritWorkbook;
let report: CalculatingReport;
/** As it is, with another floor area, with all four inputs changed. */
const ours: Values[] = [];
const prices: number[] = [];
let theirs: Sheets[];
let compared = 0;

beforeAll(async () => {
  workbook = await openGrit();
  await buildDemo();
  await select("'Past jobs'!A1");
  const { written } = await auditList();
  const inputs = floor({ jobName: "A hall like the past ones", pastJobs: "all past jobs", passesFrom: "scratch" });
  await insertPlan({ ...planFor(inputs), pastJobs: written.calibrationRefs[0]! }, "new sheet");
  // In metric units, from the shelf that is in US units, with a stage of nearly every kind.
  const filled = { surface: "coated", grout: "yes", jointLength: 60, crackLength: 12, grinding: "wet" } as const;
  await insertPlan(planFor(floor({ ...startInputs("metric"), length: 24, width: 15, ...filled })), "new sheet");
  await insertPlan(planFor(floor({ finish: "coating", film: 20, coats: "yes" })), "new sheet");

  const changes = {
    ...HARDNESS,
    [await cellOfName("Crew_Rate", "Packing hall")]: 52.5,
    [await cellOfName("Price_Margin", "Packing hall")]: 0.35,
  };
  const copy = calculatingCopy(await workbook.xlsx(), OPTIONS);
  report = copy.report;
  for (const typed of [{}, AREA, changes]) {
    await typeAll(typed);
    ours.push(await valuesOfSheets());
    prices.push(await named("Bid_Offered"));
  }
  theirs = await recalculated([
    copy.bytes,
    typedInto(copy.bytes, AREA),
    typedInto(copy.bytes, { ...AREA, ...changes }),
    emptied(copy.bytes, "Quote!C6"),
  ]);
}, 600_000);
reportCompared("a workbook with demo, audit and plan, LibreOffice", () => compared);
afterAll(() => workbook.dispose());

/** Cells that differ. */
function different(which: number): string[] {
  const wrong: string[] = [];
  for (const [sheet, cells] of ours[which]!) {
    for (const [address, value] of cells) {
      const found = theirs[which]!.get(sheet)!.get(address);
      compared++;
      const shown = isError(found) ? found.code : found;
      if (!isSame(shown, value)) wrong.push(`${sheet}!${address} is ${value}, in LibreOffice ${shown}`);
    }
  }
  return wrong;
}

describe("the demo workbook in LibreOffice, without the add-in", () => {
  it("has plain formulas throughout: nothing became a value", () => {
    expect(report.values).toEqual([]);
    expect(report.formulas).toBeGreaterThan(200);
  });

  it("has the add-in's value in every cell", () => {
    expect([...ours[0]!.keys()]).toEqual([
      "Quote",
      "Past jobs",
      "Shelf",
      "Packing hall",
      "Cold store",
      "Shop",
      "Bid",
      "Proposal",
      "Audit",
      "Audit jobs",
      "Stage plan",
      "Stage plan 2",
      "Stage plan 3",
    ]);
    expect(different(0)).toEqual([]);
  });

  it("has the same price as the add-in when someone changes the floor area", async () => {
    const [before, after] = prices as [number, number];
    expect(after).toBeGreaterThan(before);
    expect(isSame(theirs[1]!.get("Quote")!.get("C10"), after)).toBe(true);
    expect(different(1)).toEqual([]);
  });

  it("has the add-in's value in every cell when hardness, crew rate and margin are changed too", async () => {
    expect(prices[2]).toBeGreaterThan(prices[1]!);
    expect(await cellValue("Quote!C10")).toBe(prices[2]);
    expect(different(2)).toEqual([]);
  });

  it("gives no price for a floor area that someone has emptied, and its check cell says why", () => {
    const cells = theirs[3]!;
    expect(cells.get("Quote")!.get("C10")).toEqual({ code: "#N/A" });
    const told = [...cells.get("Packing hall")!.values()].filter((value) => String(value).startsWith(FIX));
    expect(told[0]).toMatch(new RegExp(`^${FIX}Floor area, D\\d+, must be above 0`));
  });
});
