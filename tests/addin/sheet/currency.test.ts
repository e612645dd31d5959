/** Every amount of a plan has its sign: in the pane, on the sheet, on the shelf that comes with it, and in a copy. */
import { describe, expect, it, vi } from "vitest";
import { money } from "../../../addin/pane/numbers";
import { digest } from "../../../addin/pane/plan/derived";
import { fillInExample, setChoice, setText, startPlan, typeNumber } from "../../../addin/pane/plan/state";
import { calculatingCopy } from "../../../addin/share/calculating-copy";
import { insertPlan } from "../../../addin/sheet";
import { formatCode } from "../../../addin/sheet/styles";
import { signBefore } from "../../../functions/plan/inputs";
import { problemsOf } from "../../../functions/plan/problems";
import { CATALOGUE } from "../../catalogue";
import { unzipped } from "../share/copy-files";
import { floor, planFor } from "./agreement";
import { openGritForEach, select, workbook } from "./workbook";

vi.setConfig({ testTimeout: 60_000 });

describe("the sign", () => {
  it("starts as that of the units, and changes with them while the amounts are the sample ones", () => {
    const plan = fillInExample(startPlan());
    expect(plan.inputs.currency).toBe("$");
    expect(setChoice(plan, "units", "metric").plan.inputs.currency).toBe("€");
    // Amounts aren't converted: what the user has typed stays in the user's own currency.
    const typed = typeNumber(plan, "rate", "45");
    expect(setChoice(typed, "units", "metric").plan.inputs.currency).toBe("$");
    const own = setText(plan, "currency", "CAD");
    expect(setChoice(own, "units", "metric").plan.inputs.currency).toBe("CAD");
  });

  it.each([
    ["$", "$1,234.50", "-$1,234.50"],
    ["€", "€1,234.50", "-€1,234.50"],
    ["CHF", "CHF 1,234.50", "-CHF 1,234.50"],
    ["kr.", "kr. 1,234.50", "-kr. 1,234.50"],
    ["C$", "C$1,234.50", "-C$1,234.50"],
    ["", "1,234.50", "-1,234.50"],
  ])("%j stands before the amount, behind the minus", (currency, above, below) => {
    const sign = signBefore({ currency });
    expect([money(1234.5, sign), money(-1234.5, sign)]).toEqual([above, below]);
  });

  it("is short", () => {
    expect(problemsOf(floor({ currency: "dollars" })).currency).toBe("Currency sign must be at most 4 characters");
    expect(problemsOf(floor({ currency: "" })).currency).toBeUndefined();
  });

  it("goes into formats of money and no others, and can't break one", () => {
    expect(formatCode("moneyInput", "$")).toBe('"$"#,##0.00');
    expect(formatCode("money", "CHF ")).toBe('"CHF "#,##0.00;-"CHF "#,##0.00;"–"');
    expect(formatCode("money", '"')).toBe('""#,##0.00;-""#,##0.00;"–"');
    expect(formatCode("hours", "$")).toBe(formatCode("hours"));
    expect(formatCode("count", "$")).toBe("#,##0");
  });
});

it("stands in the pane's closed sections", () => {
  const { inputs } = fillInExample(startPlan());
  expect(digest("crew", inputs)).toContain("hourly rate $30.00");
  expect(digest("price", { ...inputs, minimum: 500 })).toContain("minimum charge $500.00");
});

describe("in the workbook", () => {
  openGritForEach();

  /** Formats of the cells of a sheet that hold numbers or formulas, by their label in the row. */
  const formatsOf = (sheet: string): Promise<any[][]> =>
    Excel.run(async (context) => {
      const used = context.workbook.worksheets.getItem(sheet).getUsedRange().load("numberFormat");
      await context.sync();
      return used.numberFormat;
    });

  const OF_MONEY = /#,##0\.00(?!\d)/;

  it("every amount of a plan has it", async () => {
    await select("Sheet1!A1");
    await insertPlan(planFor(floor({ currency: "£" })), "new sheet");
    for (const sheet of ["Stage plan", "Shelf"]) {
      const formats = (await formatsOf(sheet)).flat().filter((format) => OF_MONEY.test(format));
      expect(formats.length).toBeGreaterThan(20);
      expect(formats.filter((format) => !format.startsWith('"£"'))).toEqual([]);
    }
  });

  it("without a sign the amounts stand alone", async () => {
    await insertPlan(planFor(floor({ currency: "" })), "new sheet");
    const formats = (await formatsOf("Stage plan")).flat();
    expect(formats).toContain('#,##0.00;-#,##0.00;"–"');
  });

  it("a copy without the add-in keeps it", async () => {
    await insertPlan(planFor(floor({ currency: "£" })), "new sheet");
    const options = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [] };
    const styles = new TextDecoder().decode(
      new TextEncoder().encode(unzipped(calculatingCopy(await workbook.xlsx(), options).bytes)["xl/styles.xml"]!),
    );
    expect(styles).toContain("&quot;£&quot;#,##0.00");
  });
});
