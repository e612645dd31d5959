/** Plans that are opened from their sheets and written anew where they stand. */
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { insertPlan, listPlans, NeedsAnswer, type Plan, readPlan, undo, updatePlan } from "../../../addin/sheet";
import { FIELDS, KEYS } from "../../../functions/plan/fields";
import { applies, type Inputs, startInputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import { WORKS } from "../../../functions/plan/works";
import { close, expectSheetAgrees, floor, planFor } from "./agreement";
import { cellValue, openGrit, openGritForEach, protect, snapshot, write } from "./workbook";

vi.setConfig({ testTimeout: 120_000 });

const theSheet = async () => (await listPlans())[0]!;
const opened = async () => readPlan((await theSheet()).sheetId);

/** A range of one cell is written either way. */
const asOneCell = (entry: string) => entry.replace(/\b([A-Z]+)\$(\d+):\1\2\b/g, "$1$$$2");

/** All formulas of a plan's sheet, and its number formats and names. */
async function layoutOf(sheet: string): Promise<unknown> {
  return Excel.run(async (context) => {
    const home = context.workbook.worksheets.getItem(sheet);
    const range = home.getRange("A1").getBoundingRect(home.getUsedRange()).load("formulas,numberFormat,values");
    home.names.load("items/name,items/formula");
    context.workbook.names.load("items/name,items/formula");
    const table = home.tables.getItemAt(0).getRange().load("address");
    await context.sync();
    const named = [...home.names.items, ...context.workbook.names.items].map(
      ({ name, formula }) => `${name} ${formula.slice(formula.indexOf("!"))}`,
    );
    return {
      formulas: range.formulas.map((row) =>
        row.map((entry) => (typeof entry === "number" ? Number(entry.toPrecision(12)) : asOneCell(entry))),
      ),
      formats: range.numberFormat,
      names: named.sort(),
      table: table.address.slice(table.address.indexOf("!")),
      errors: range.values.flat().filter((value) => /^#/.test(String(value))),
    };
  });
}

/** The same plan, freshly inserted into another workbook. */
async function fresh(plan: Plan): Promise<unknown> {
  const other = await openGrit();
  try {
    await insertPlan(plan, "new sheet");
    return await layoutOf((await theSheet()).sheet);
  } finally {
    await other.dispose();
  }
}

const named = (plan: Plan, over: Partial<Inputs>): Plan => {
  const inputs = { ...plan.inputs, ...over };
  return { ...plan, inputs, stages: propose(inputs, plan.shelf).stages };
};

const START = planFor(floor({ hardness: 5 }));
const CHANGES: [string, Plan][] = [
  ["another area", { ...START, inputs: { ...START.inputs, length: 100 } }],
  ["another finish, with other stages", named(START, { finish: "coating", film: 20, coats: "yes" })],
  ["a stage less", { ...START, stages: START.stages.filter((_, i) => i !== 3) }],
  ["a stage more at the end", { ...START, stages: [...START.stages, { work: "burnish", tool: "Burnish" }] }],
  ["a stage more at the start", { ...START, stages: [{ work: "grind", tool: "Metal 16 medium" }, ...START.stages] }],
  [
    "passes counted by hand",
    { ...START, stages: START.stages.map((stage, i) => (i === 1 ? { ...stage, passes: 7 } : stage)) },
  ],
  ["inputs that had no rows", named(START, { jointLength: 300, floor: "Hall A", area: 4100 })],
  ["inputs that lose their rows", { ...START, inputs: { ...START.inputs, length: null, width: null, area: 4000 } }],
  ["the crew's exposure", { ...START, inputs: { ...START.inputs, vibration: 4, vibrationHours: 3 } as Inputs }],
  ["wet work and a warning", { ...named(START, { grinding: "wet" }), notes: ["A note of the pane."] }],
];

describe("an updated plan", () => {
  let other: Awaited<ReturnType<typeof openGrit>>;
  beforeEach(async () => {
    other = await openGrit();
  });
  afterEach(() => other.dispose());

  it.each(CHANGES)("stands as one that was newly inserted, and is undone: %s", async (_, plan) => {
    const wanted = await fresh(plan);
    await other.dispose();
    other = await openGrit();
    await insertPlan(START, "new sheet");
    const before = await snapshot();
    const inserted = await updatePlan((await theSheet()).sheetId, plan);
    expect(inserted.what).toBe("Plan updated on “Stage plan”");
    const now = await layoutOf("Stage plan");
    expect(now).toEqual(wanted);
    await expectSheetAgrees(plan);
    await undo(inserted);
    expect(await snapshot()).toEqual(before);
    // And back by another update.
    await updatePlan((await theSheet()).sheetId, plan);
    await updatePlan((await theSheet()).sheetId, START);
    await expectSheetAgrees(START);
  });
});

describe("what the user has put on the sheet", () => {
  openGritForEach();

  it("stays where it belongs: rows, notes, formats, columns of the table, figures typed over", async () => {
    await insertPlan(START, "new sheet");
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Stage plan");
      sheet.getRange("1:2").insert("Down");
      sheet.getRange("A1").values = [["My heading"]];
      const table = sheet.tables.getItemAt(0);
      table.columns.add(undefined, [["Foreman"], ...START.stages.map((_, i) => [`man ${i + 1}`])]);
      sheet.name = "Bay 4";
      await context.sync();
    });
    const before = await opened();
    expect(before.stages.map(({ tool }) => tool)).toEqual(START.stages.map(({ tool }) => tool));
    const plan = { ...START, stages: START.stages.filter((_, i) => i !== 2) };
    const sheetId = (await theSheet()).sheetId;
    const asked = await updatePlan(sheetId, plan).catch((error) => error);
    expect(asked).toBeInstanceOf(NeedsAnswer);
    expect(asked.message).toContain("cells of your own: ");
    const whole = await snapshot();
    const inserted = await updatePlan(sheetId, plan, asked.asked);
    await expectSheetAgrees(plan);
    expect(await cellValue("Bay 4!A1")).toBe("My heading");
    const men = await Excel.run(async (context) => {
      const column = context.workbook.tables
        .getItem("Stages")
        .columns.getItem("Foreman")
        .getDataBodyRange()
        .load("values");
      await context.sync();
      return column.values.flat();
    });
    expect(men).toEqual(START.stages.map((_, i) => `man ${i + 1}`).filter((_, i) => i !== 2));
    await undo(inserted);
    expect(await snapshot()).toEqual(whole);
  });

  it("is given back with what other sheets had of a row that went", async () => {
    await insertPlan(START, "new sheet");
    await write("Sheet1!A1:A2", [["='Stage plan'!D12"], ["='Stage plan'!D10"]]);
    const before = await snapshot();
    const inserted = await updatePlan((await theSheet()).sheetId, {
      ...START,
      stages: START.stages.filter((_, i) => i !== 2),
    });
    expect(await snapshot()).not.toEqual(before);
    await undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  it("asks before an undo takes a later change with it", async () => {
    await insertPlan(START, "new sheet");
    const inserted = await updatePlan((await theSheet()).sheetId, {
      ...START,
      inputs: { ...START.inputs, length: 90 },
    });
    await write("'Stage plan'!Z60", [["my note"]]);
    await expect(undo(inserted)).rejects.toThrow(NeedsAnswer);
    await undo(inserted, true);
    expect(await cellValue("'Stage plan'!Z60")).toBe("my note");
    expect((await opened()).inputs.length).toBe(80);
  });
});

describe("a plan that can't be read or written", () => {
  openGritForEach();

  it("names each cell and why, and nothing is written", async () => {
    await insertPlan(START, "new sheet");
    const { inputs, sheetId } = await theSheet();
    await write(`'Stage plan'!${inputs.area}`, [["four thousand"]]);
    await write(`'Stage plan'!${inputs.finish}`, [["shiny"]]);
    const before = await snapshot();
    const cell = (key: "area" | "finish") => inputs[key]!.replaceAll("$", "");
    const words = `'Stage plan'!${cell("area")} (Floor area) holds “four thousand”, which is no number; 'Stage plan'!${cell("finish")} (Target finish) holds “shiny”, which can't be chosen`;
    await expect(opened()).rejects.toThrow(words);
    await expect(updatePlan(sheetId, START)).rejects.toThrow(words);
    expect(await snapshot()).toEqual(before);
  });

  it.each([
    ["a protected sheet", () => protect("Stage plan"), "is protected"],
    [
      "a hidden row",
      () =>
        Excel.run(async (context) => {
          context.workbook.worksheets.getItem("Stage plan").getRange("30:30").rowHidden = true;
          await context.sync();
        }),
      "are hidden or filtered",
    ],
    [
      "a shelf that is gone",
      () =>
        Excel.run(async (context) => {
          context.workbook.worksheets.getItem("Shelf").delete();
          await context.sync();
        }),
      "has no shelf",
    ],
    [
      "a stage row left blank",
      () =>
        Excel.run(async (context) => {
          const { values } = await Promise.resolve({ values: [["", ""]] });
          context.workbook.tables.getItem("Stages").getDataBodyRange().getCell(1, 1).getResizedRange(0, 1).values =
            values;
          await context.sync();
        }),
      "is a blank stage",
    ],
  ])("is refused for %s", async (_, prepare, told) => {
    await insertPlan(START, "new sheet");
    const { sheetId } = await theSheet();
    await prepare();
    const before = await snapshot();
    await expect(updatePlan(sheetId, { ...START, inputs: { ...START.inputs, length: 90 } })).rejects.toThrow(told);
    expect(await snapshot()).toEqual(before);
  });
});

/** What a plan says, where a blank and what it stands for are one, and inputs that don't apply are left out. */
function meaning({ inputs, links, stages }: Pick<Plan, "inputs" | "links" | "stages">): unknown {
  const plain = Object.entries(links).map(([key, cell]) => [key, cell!.replaceAll("$", "").replaceAll("'", "")]);
  return {
    inputs: Object.fromEntries(
      KEYS.filter((key) => applies(key, inputs) && FIELDS[key].group !== "exposure").map((key) => [key, inputs[key]]),
    ),
    links: Object.fromEntries(plain.sort()),
    stages: stages.map(({ work, tool, machine = "", passes }) => ({ work, tool, machine, passes })),
  };
}

describe("any plan, written and read", () => {
  openGritForEach();

  it("is the same plan", async () => {
    const shelf = starterShelf("us");
    const names = [...shelf.tools.map(({ name }) => name), "Densifier", "Guard"];
    const stage = fc.record({
      work: fc.constantFrom(...WORKS.slice(1, 4)),
      tool: fc.constantFrom(...names),
      passes: fc.option(fc.integer({ min: 1, max: 9 }), { nil: undefined }),
    });
    const inputs = fc.record({
      jobName: fc.constantFrom("", "=Mill & Co.", "12", "Hall 7"),
      floor: fc.constantFrom("", "'Bay 3'", "West/East", "History"),
      length: fc.option(fc.integer({ min: 10, max: 300 }), { nil: null }),
      area: fc.option(fc.integer({ min: 100, max: 90_000 }), { nil: null }),
      edgeLength: fc.option(fc.integer({ min: 0, max: 900 }), { nil: null }),
      hardness: fc.constantFrom(3, 4.5, 5, 7),
      surface: fc.constantFrom(...FIELDS.surface.choices.map(([word]) => word)),
      exposure: fc.constantFrom(...FIELDS.exposure.choices.map(([word]) => word)),
      grinding: fc.constantFrom(...FIELDS.grinding.choices.map(([word]) => word)),
      grout: fc.constantFrom(...FIELDS.grout.choices.map(([word]) => word)),
      depth: fc.option(fc.integer({ min: 50, max: 3000 }), { nil: null }),
      crew: fc.integer({ min: 1, max: 9 }),
      overhead: fc.constantFrom(0, 0.12, 0.333),
      minimum: fc.option(fc.integer({ min: 0, max: 5000 }), { nil: null }),
      jointLength: fc.option(fc.integer({ min: 1, max: 900 }), { nil: null }),
      currency: fc.constantFrom("", "$", "€", "CHF"),
    });
    const plans = fc.record({ inputs, stages: fc.array(stage, { minLength: 1, maxLength: 9 }), linked: fc.boolean() });
    await write("Sheet1!B2", [[77]]);
    await fc.assert(
      fc.asyncProperty(plans, async ({ inputs: over, stages, linked }) => {
        const width = over.length === null ? null : 40;
        const area = over.area ?? (over.length === null ? 4000 : null);
        const given = { ...startInputs("us"), ...over, width, area } as Inputs;
        const plan: Plan = {
          inputs: linked ? { ...given, obstacles: 77 } : given,
          links: linked ? { obstacles: "Sheet1!B2" } : {},
          stages,
          shelf,
        };
        const inserted = await insertPlan(plan, "new sheet");
        const read = await opened();
        expect(meaning({ ...plan, ...read })).toEqual(meaning(plan));
        await undo(inserted);
      }),
      { numRuns: Number(process.env.GRIT_CASES ?? 4000) / 200 },
    );
  });

  it("has the price that its sheet shows", async () => {
    await insertPlan(START, "new sheet");
    close((await opened()).price, (await expectSheetAgrees(START)).price);
  });
});
