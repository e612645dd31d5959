/** The add-in's own sheets, every formula of them translated in place: the embedded spreadsheet then shows the same figures. */
import { describe, expect, it, vi } from "vitest";
import { Untranslatable } from "../../../addin/share/refusals";
import { hasOurCalls, translate } from "../../../addin/share/translate";

import { insertPlan } from "../../../addin/sheet";
import { startInputs } from "../../../functions/plan/inputs";
import { reportCompared } from "../../run/compared";
import { floor, planFor } from "../sheet/agreement";
import { FIVE_JOBS } from "../sheet/five-jobs";
import { auditList, typeList } from "../sheet/job-lists";
import { openGritForEach, setNamed } from "../sheet/workbook";
import { referenceRows, SURROUNDINGS } from "./engine";

// Whole sheets are written, on a machine that may be busy.
vi.setConfig({ testTimeout: 60_000 });

openGritForEach();

const AROUND = { ...SURROUNDINGS, isRange: (reference: string) => /\[(?!@|\[#This Row)/.test(reference) };

type Sheets = Record<string, { address: string; values: any[][]; formulas: any[][] }>;

const readSheets = (): Promise<Sheets> =>
  Excel.run(async (context) => {
    const { worksheets } = context.workbook;
    worksheets.load("items/name");
    await context.sync();
    const used = worksheets.items.map((sheet) => sheet.getUsedRangeOrNullObject().load("address,values,formulas"));
    await context.sync();
    const filled = worksheets.items
      .map((sheet, i) => [sheet.name, used[i]!] as const)
      .filter(([, range]) => !range.isNullObject);
    return Object.fromEntries(
      filled.map(([name, { address, values, formulas }]) => [name, { address, values, formulas }]),
    );
  });

/** Puts a translation in place of every formula with our calls; gives the formulas that have none, and how many have. */
async function translateAll(): Promise<{ kept: string[]; translated: number }> {
  const sheets = await readSheets();
  const kept: string[] = [];
  let translated = 0;
  await Excel.run(async (context) => {
    const reference = context.workbook.worksheets.add("Reference");
    const rows = referenceRows();
    reference.getRange("A1").getResizedRange(rows.length - 1, rows[0]!.length - 1).values = rows;
    for (const [name, { address, formulas }] of Object.entries(sheets)) {
      const used = context.workbook.worksheets.getItem(name).getRange(address.slice(address.lastIndexOf("!") + 1));
      for (const [r, line] of formulas.entries()) {
        for (const [c, formula] of line.entries()) {
          if (typeof formula !== "string" || !formula.startsWith("=") || !hasOurCalls(formula)) continue;
          try {
            used.getCell(r, c).formulas = [[translate(formula, AROUND)]];
            translated++;
          } catch (failure) {
            if (!(failure instanceof Untranslatable)) throw failure;
            kept.push(formula);
          }
        }
      }
    }
    await context.sync();
  });
  return { kept, translated };
}

let compared = 0;
reportCompared("translated sheets", () => compared);

function expectSame(before: Sheets, after: Sheets): void {
  const formulas = Object.values(after).flatMap((sheet) => sheet.formulas.flat());
  expect(formulas.filter((cell) => hasOurCalls(String(cell)) && !cell.includes("SEQUENCECHECK"))).toEqual([]);
  for (const [name, { values }] of Object.entries(before)) {
    for (const [r, line] of values.entries()) {
      for (const [c, value] of line.entries()) {
        const found = after[name]!.values[r]![c];
        compared++;
        const where = `${name} ${r},${c}: ${value}, plain ${found} of ${after[name]!.formulas[r]![c]}`;
        if (typeof value === "number")
          expect(Math.abs(found - value), where).toBeLessThanOrEqual(1e-9 * Math.abs(value));
        else expect(found, where).toBe(value);
      }
    }
  }
}

describe("the add-in's own sheets without it", () => {
  it.each([
    ["in feet", floor()],
    ["in metres", floor({ ...startInputs("metric"), jobName: "m", length: 24, width: 15, passesFrom: "scratch" })],
  ])("a stage plan %s shows the same figures, and follows its inputs", async (_, inputs) => {
    await insertPlan(planFor(inputs), "new sheet");
    const before = await readSheets();
    await setNamed("Price_Margin", "Stage plan", 0.4);
    await setNamed("Machine_Overlap", "Stage plan", "");
    const changed = await readSheets();
    await setNamed("Price_Margin", "Stage plan", inputs.margin);
    await setNamed("Machine_Overlap", "Stage plan", inputs.overlap);

    const { kept, translated } = await translateAll();
    expect(kept.filter((formula) => !formula.includes("SEQUENCECHECK"))).toEqual([]);
    expect(translated).toBeGreaterThan(50);
    expectSame(before, await readSheets());
    expect(changed).not.toEqual(before);
    await setNamed("Price_Margin", "Stage plan", 0.4);
    await setNamed("Machine_Overlap", "Stage plan", "");
    expectSame(changed, await readSheets());
  });

  it("an audit shows the same figures", async () => {
    await typeList("Old jobs", "A1", FIVE_JOBS, "Jobs");
    await auditList();
    const before = await readSheets();
    const { kept, translated } = await translateAll();
    expect(kept).toEqual([]);
    expect(translated).toBeGreaterThan(10);
    expectSame(before, await readSheets());
  });

  it("a plan that learns from past jobs shows the same figures", async () => {
    await typeList("Past", "A1", [
      ["Estimated", "Taken"],
      [20, 23],
      [35, 33],
      ["", 12],
      [50, 61],
      [28, 30],
    ]);
    const pastJobs = { estimated: "Past!$A$2:$A$6", actual: "Past!$B$2:$B$6" };
    await insertPlan({ ...planFor(floor({ pastJobs: "5 past jobs" })), pastJobs }, "new sheet");
    const before = await readSheets();
    const learned = Object.values(before).flatMap(({ formulas }) =>
      formulas.flat().filter((cell) => /CALIBRATE|HOURSAT/.test(cell)),
    );
    expect(learned.length).toBeGreaterThan(2);
    const { kept } = await translateAll();
    expect(kept.filter((formula) => !formula.includes("SEQUENCECHECK"))).toEqual([]);
    expectSame(before, await readSheets());
  });
});
