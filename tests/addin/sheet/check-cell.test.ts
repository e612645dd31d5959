import { beforeAll, describe, expect, it } from "vitest";
import { cellAddress } from "../../../addin/common/a1";
import { translate } from "../../../addin/share/translate";
import { insertPlan } from "../../../addin/sheet";
import { CHECK_WORDS, FIX } from "../../../addin/sheet/plan-texts";
import { startInputs } from "../../../functions/plan/inputs";
import { starterMachines, starterShelf } from "../../../functions/plan/starter-shelf";
import { referenceRows, SURROUNDINGS } from "../share/engine";
import { close, floor, planFor, putShelf } from "./agreement";
import { named, openGritForEach, openGritOnce, putBackAfterEach } from "./workbook";

// Expected words: what the issue asks for (a cell that says when numbers are stale), put as the workbook's state demands.

const inputs = floor({ ...startInputs("us"), jobName: "Test floor", length: 80, width: 50, passesFrom: "scratch" });

type Cell = { address: string; formula: any; value: any };

/** Every filled cell of a sheet. */
async function cellsOf(sheetName: string): Promise<Cell[]> {
  return Excel.run(async (context) => {
    const used = context.workbook.worksheets.getItem(sheetName).getUsedRange(true);
    used.load("formulas,values,rowIndex,columnIndex");
    await context.sync();
    return used.formulas.flatMap((row, i) =>
      row.flatMap((formula, j) => {
        const address = cellAddress(used.rowIndex + i, used.columnIndex + j);
        return formula === "" ? [] : [{ address, formula, value: used.values[i]![j] }];
      }),
    );
  });
}

/** Cells that take these contents at once. */
async function put(sheetName: string, contents: readonly (readonly [address: string, content: any])[]): Promise<void> {
  await Excel.run(async (context) => {
    const sheet = context.workbook.worksheets.getItem(sheetName);
    for (const [address, content] of contents) sheet.getRange(address).formulas = [[content]];
    await context.sync();
  });
}

const isOurs = ({ formula }: Cell) => String(formula).includes("GRIT.");

/** The spreadsheet keeps what our functions last gave and calculates the rest: as where the add-in does not answer. */
async function freeze(sheetName: string): Promise<void> {
  const ours = (await cellsOf(sheetName)).filter(isOurs);
  expect(ours.length).toBeGreaterThan(20);
  // As formulas without a reference, since a value in the place of a formula is told for what it is.
  const kept = (value: unknown) => (typeof value === "string" ? `="${value}"` : `=${value}`);
  await put(
    sheetName,
    ours.map(({ address, value }) => [address, kept(value)]),
  );
}

const ANSWERS: readonly string[] = Object.values(CHECK_WORDS);
const isAnswer = (value: unknown) => ANSWERS.includes(String(value)) || String(value).startsWith(FIX);

/** What the check cell of a sheet says; on a plan's sheet it says it twice. */
async function answerOn(sheetName: string): Promise<string> {
  const said = (await cellsOf(sheetName)).map(({ value }) => value).filter(isAnswer);
  expect(new Set(said).size, `one answer among ${said}`).toBe(1);
  return said[0];
}

/** Something else of the same kind: a hundredth more, another last letter. */
function changed(content: string | number): string | number {
  if (typeof content === "number") return content * 1.01 + 0.001;
  return content.startsWith("=") ? `${content}+0.1` : `${content.slice(0, -1)}ø`;
}

/** Changes one cell after the other, and gives those whose change the check cell does not notice. */
async function unnoticed(cells: readonly { sheet: string; address: string; formula: any }[]) {
  const missed: string[] = [];
  let before: (typeof cells)[number] | undefined;
  for (const cell of cells) {
    const { sheet, address, formula } = cell;
    // In one go with putting back the one before, so that the sheet calculates once for both.
    await Excel.run(async (context) => {
      const { worksheets } = context.workbook;
      if (before) worksheets.getItem(before.sheet).getRange(before.address).formulas = [[before.formula]];
      worksheets.getItem(sheet).getRange(address).formulas = [[changed(formula)]];
      await context.sync();
    });
    const said = await answerOn(PLAN);
    // What is no longer possible is named instead.
    if (said !== CHECK_WORDS.outOfDate && !said.startsWith(FIX)) missed.push(`${sheet}!${address} ${formula}`);
    before = cell;
  }
  if (before) await put(before.sheet, [[before.address, before.formula]]);
  return missed;
}

/** The cell of a figure that the plan's sheet has beside this label. */
async function besideLabel(sheetName: string, label: string): Promise<Cell> {
  const cells = await cellsOf(sheetName);
  const at = cells.findIndex(({ value }) => value === label);
  expect(at, label).toBeGreaterThanOrEqual(0);
  return cells[at + 1]!;
}

/** Cells of inputs on the plan's sheet, by their names. */
async function inputCells(): Promise<{ sheet: string; address: string; formula: any }[]> {
  return Excel.run(async (context) => {
    const sheet = context.workbook.worksheets.getItem(PLAN);
    sheet.names.load("items/name");
    await context.sync();
    const ranges = sheet.names.items.map((item) => item.getRange().load("address,formulas"));
    await context.sync();
    return ranges
      .map(({ address, formulas }) => ({ sheet: PLAN, address: address.split("!")[1]!, formula: formulas[0]![0] }))
      .filter(({ formula }) => formula !== "");
  });
}

const PLAN = "Stage plan";

/** A plan over the user's own shelf, with machines. */
async function planOverShelf(): Promise<void> {
  const { tools, liquids } = starterShelf("us");
  await putShelf({ tools, liquids, machines: starterMachines("us") }, "us");
  const plan = planFor(inputs);
  await insertPlan({ ...plan, stages: plan.stages.map((stage) => ({ ...stage, machine: MACHINE })) }, "new sheet");
}
const MACHINE = starterMachines("us")[0]!.name;

describe("where our functions keep their last values", () => {
  openGritOnce();
  beforeAll(async () => {
    await planOverShelf();
    expect(await answerOn(PLAN)).toBe(CHECK_WORDS.upToDate);
    await freeze(PLAN);
    expect(await answerOn(PLAN)).toBe(CHECK_WORDS.upToDate);
  });
  putBackAfterEach();

  it("notices a change of every input", async () => {
    const cells = await inputCells();
    expect(cells.length).toBeGreaterThan(25);
    expect(await unnoticed(cells)).toEqual([]);
    expect(await answerOn(PLAN)).toBe(CHECK_WORDS.upToDate);
  }, 120_000);

  it("notices a change of every column of the shelf, and of what is typed into the stage table", async () => {
    const shelf = await Promise.all(
      [
        ["Tools", 3],
        ["Liquids", 2],
        ["Machines", 6],
      ].map(async ([sheet, row]) =>
        (await cellsOf(String(sheet)))
          .filter(({ address }) => address.replace(/[A-Z]+/, "") === String(row))
          .map((cell) => ({ ...cell, sheet: String(sheet) })),
      ),
    );
    const [no, ...stage] = (await cellsOf(PLAN)).filter(({ address }) => /^[A-D]11$/.test(address));
    expect(no!.formula).toMatch(/ROW/);
    expect(stage.map(({ value }) => value)).toContain(MACHINE);
    const cells = [...shelf.flat(), ...stage.map((cell) => ({ ...cell, sheet: PLAN }))];
    // Blank in that row, or not: 12 columns of tools, 8 of liquids, 6 of machines; work, tool and machine of a stage.
    expect(cells.length).toBeGreaterThan(24);
    expect(await unnoticed(cells)).toEqual([]);
  }, 120_000);

  it("notices that two cells were exchanged, whatever they add up to", async () => {
    const cells = await inputCells();
    const [first, second] = cells.filter(({ formula }) => typeof formula === "number");
    expect(first!.formula).not.toBe(second!.formula);
    await put(PLAN, [
      [first!.address, second!.formula],
      [second!.address, first!.formula],
    ]);
    expect(await answerOn(PLAN)).toBe(CHECK_WORDS.outOfDate);
  });

  it("notices passes that the user types over ours", async () => {
    const cells = await cellsOf(PLAN);
    const header = cells.find(({ value }) => value === "Passes")!;
    const address = header.address.replace("9", "11");
    await put(PLAN, [[address, 7]]);
    expect(await answerOn(PLAN)).toBe(CHECK_WORDS.outOfDate);
  });
});

describe("the check cell", () => {
  openGritForEach();

  it("says up to date again as soon as our functions follow a change", async () => {
    await planOverShelf();
    const margin = (await inputCells()).find(({ formula }) => formula === inputs.margin)!;
    await put(PLAN, [[margin.address, 0.4]]);
    expect(await answerOn(PLAN)).toBe(CHECK_WORDS.upToDate);
  });

  it("says up to date in a calculating copy, which follows every change by itself", async () => {
    await planOverShelf();
    const rows = referenceRows();
    await Excel.run(async (context) => {
      const reference = context.workbook.worksheets.add("Reference");
      reference.getRangeByIndexes(0, 0, rows.length, rows[0]!.length).values = rows;
      await context.sync();
    });
    const ours = (await cellsOf(PLAN)).filter(isOurs);
    await put(
      PLAN,
      ours.map(({ address, formula }) => [address, translate(formula, SURROUNDINGS)]),
    );
    expect((await cellsOf(PLAN)).filter(isOurs)).toEqual([]);
    expect(await answerOn(PLAN)).toBe(CHECK_WORDS.upToDate);
    const before = await besideLabel(PLAN, "Price at margin or minimum");
    const length = await besideLabel(PLAN, "Floor length");
    await put(PLAN, [[length.address, 160]]);
    expect((await besideLabel(PLAN, "Price at margin or minimum")).value).toBeGreaterThan(1.5 * before.value);
    expect(await answerOn(PLAN)).toBe(CHECK_WORDS.upToDate);
  });
});

describe("the check cell of a plan over the starter shelf", () => {
  openGritOnce();
  beforeAll(async () => {
    await insertPlan(planFor(inputs), "new sheet");
  });
  putBackAfterEach();

  it("notices figures left behind even where the check figures were worked out", async () => {
    const cells = await inputCells();
    const price = await besideLabel(PLAN, "Price at margin or minimum");
    await put(PLAN, [[price.address, `=${price.value}`]]);
    expect(await answerOn(PLAN)).toBe(CHECK_WORDS.upToDate);
    const margin = cells.find(({ formula }) => formula === inputs.margin)!;
    await put(PLAN, [[margin.address, 0.4]]);
    expect(await answerOn(PLAN)).toBe(CHECK_WORDS.outOfDate);
    await put(PLAN, [
      [margin.address, margin.formula],
      [price.address, price.formula],
    ]);
    expect(await answerOn(PLAN)).toBe(CHECK_WORDS.upToDate);
    const setup = await besideLabel(PLAN, "Setup and cleanup");
    await put(PLAN, [[setup.address, `=${setup.value * 1.1}`]]);
    expect(await answerOn(PLAN)).toBe(CHECK_WORDS.outOfDate);
  });

  it("says that our functions do not work where the spreadsheet does not know them", async () => {
    const ours = (await cellsOf(PLAN)).filter(isOurs);
    await put(
      PLAN,
      ours.map(({ address, formula }) => [address, formula.replaceAll("GRIT.", "NOADDIN.")]),
    );
    const price = await besideLabel(PLAN, "Price at margin or minimum");
    expect(price.value).toBe("#NAME?");
    expect(await answerOn(PLAN)).toBe(CHECK_WORDS.notWorking);
  });

  it("tells an input that shows an error, one that makes the price an error, and a price that is one by itself", async () => {
    const cells = await inputCells();
    const width = cells.find(({ formula }) => formula === inputs.machineWidth)!;
    const told = async () =>
      (await cellsOf(PLAN)).map(({ value }) => value).find((value) => String(value).startsWith(FIX));
    const words = `${FIX}Working width, ${width.address.replaceAll("$", "")}, must be above 0 and at most 10,000`;
    for (const wrong of ["=NA()", "wide"]) {
      await put(PLAN, [[width.address, wrong]]);
      expect(await told()).toBe(words);
    }
    await put(PLAN, [[width.address, inputs.machineWidth]]);
    const price = (await cellsOf(PLAN)).find(({ formula }) => String(formula).startsWith("=GRIT.PRICEAT("))!;
    await put(PLAN, [[price.address, "=NA()"]]);
    expect(await answerOn(PLAN)).toBe(CHECK_WORDS.badPrice);
  });
});

describe("a plan that learns from past jobs", () => {
  // By hand: 12.5/10, 20/20 and 8/10 of the quoted hours, a factor of 1 and a spread of ln 1.25; t(0.8, 2) = 0.6 / √0.32.
  const TIMES = Math.exp((0.6 / Math.sqrt(0.32)) * Math.log(1.25) * Math.sqrt(4 / 3));
  const PAST = { estimated: "Past!$A$1:$A$3", actual: "Past!$B$1:$B$3", slab: "medium slab" };

  openGritOnce();
  beforeAll(async () => {
    await Excel.run(async (context) => {
      context.workbook.worksheets.add("Past").getRange("A1:B3").values = [
        [10, 12.5],
        [20, 20],
        [10, 8],
      ];
      await context.sync();
    });
    const learning = { ...inputs, pastJobs: "medium slab, 3 jobs", confidence: 0.8, hoursADay: 6 };
    await insertPlan({ ...planFor(learning), pastJobs: PAST }, "new sheet");
  });
  putBackAfterEach();

  const addressOf = async (name: string) => {
    return Excel.run(async (context) => {
      const cell = context.workbook.worksheets.getItem(PLAN).names.getItem(name).getRange().load("address");
      await context.sync();
      return cell.address.split("!")[1]!;
    });
  };

  it("gives the quote hours, days and price at the confidence by names beside the plain ones", async () => {
    const hours = await named("Stages_Hours");
    close(await named("Stages_HoursAt"), hours * TIMES);
    const setup = inputs.setup!;
    expect(await named("Stages_Days")).toBe(Math.ceil((hours + setup) / 6));
    expect(await named("Stages_DaysAt")).toBe(Math.ceil((hours * TIMES + setup) / 6));
    expect(await named("Stages_DaysAt")).toBeGreaterThan(await named("Stages_Days"));
    expect(await named("Stages_PriceAt")).toBe((await besideLabel(PLAN, "Price at 80%")).value);
    expect(await named("Stages_PriceAt")).toBeGreaterThan(await named("Stages_Price"));
    expect(await answerOn(PLAN)).toBe(CHECK_WORDS.upToDate);
  });

  it.each([
    ["blank", ""],
    ["80, typed for 80 %", 80],
    ["a word", "high"],
    ["0", 0],
  ])("shows no price at a confidence that is %s, and the check cell tells", async (_, confidence) => {
    await put(PLAN, [[await addressOf("Price_Confidence"), confidence]]);
    expect((await besideLabel(PLAN, "Price at ?")).value).toMatch(/^#/);
    expect((await besideLabel(PLAN, "Days on site at ?")).value).toMatch(/^#/);
    const at = (await addressOf("Price_Confidence")).replaceAll("$", "");
    expect(await answerOn(PLAN)).toBe(`${FIX}Confidence, ${at}, must be above 0% and below 100% (30% is 0.3)`);
  });

  it("shows no price when the past jobs are gone, and the check cell tells", async () => {
    await put("Past", [
      ["B1", ""],
      ["B2", ""],
    ]);
    expect(await answerOn(PLAN)).toBe(CHECK_WORDS.badCalibration);
  });

  it("says when the slab is of another kind than theirs", async () => {
    // common practice, the classes of the bond to try first: Mohs 5 is a medium slab, 7.5 a hard one
    const slab = () => besideLabel(PLAN, "Past jobs on slabs like this?");
    expect((await slab()).value).toBe(0);
    await put(PLAN, [[await addressOf("Floor_Hardness"), 7.5]]);
    const { value, address } = await slab();
    expect(value).toBe(1);
    const words = (await cellsOf(PLAN)).find((cell) => cell.address === address.replace(/^D/, "E"))!;
    expect(words.value).toBe("the past jobs were on medium slabs");
  });
});
