import { describe, expect, it } from "vitest";
import { demoPlan } from "../../../addin/preview/demo-workbook";
import { insertPlan, type Plan } from "../../../addin/sheet";
import { asSheetName, freeSheetName } from "../../../addin/sheet/names";
import { findPlans } from "../../../addin/sheet/plans";
import { openGritForEach } from "./workbook";

const floor = (name: string, over: Partial<Plan["inputs"]> = {}): Plan => {
  const plan = demoPlan();
  return { ...plan, links: {}, inputs: { ...plan.inputs, floor: name, ...over } };
};

const found = () => Excel.run(findPlans);
const valueAt = (sheet: string, address: string) =>
  Excel.run(async (context) => {
    const range = context.workbook.worksheets.getItem(sheet).getRange(address).load("values");
    await context.sync();
    return range.values[0]![0];
  });
const change = (work: (context: Excel.RequestContext) => void) =>
  Excel.run(async (context) => {
    work(context);
    await context.sync();
  });

describe("plans of a workbook", () => {
  openGritForEach();

  it("are none where there is none", async () => {
    expect(await found()).toEqual([]);
  });

  it("are known by the names on their sheets, which are named after their floors", async () => {
    await insertPlan(floor("Hall A", { area: 4200 }), "new sheet");
    await insertPlan(floor("Office: 2nd floor/east", { area: 1000 }), "new sheet");
    const plans = await found();
    expect(plans.map(({ sheet, floor: name, units }) => [sheet, name, units])).toEqual([
      ["Hall A", "Hall A", "us"],
      ["Office 2nd floor east", "Office: 2nd floor/east", "us"],
    ]);
    const [first, second] = plans;
    expect(await valueAt("Hall A", first!.inputs.area!)).toBe(4200);
    expect(await valueAt(second!.sheet, second!.inputs.area!)).toBe(1000);
    expect(await valueAt(second!.sheet, second!.lines.price!)).toBeLessThan(
      await valueAt("Hall A", first!.lines.price!),
    );
    expect([first!.stages.table, second!.stages.table]).toEqual(["Stages", "Stages_2"]);
    expect(first!.stages.headings).toMatchObject({ tool: "Tool", cost: "Stage cost", setsUsed: "Sets used" });
  });

  it("are found where rows were inserted, the sheet and the table were renamed, and the sheet was copied", async () => {
    await insertPlan(floor("Hall A"), "new sheet");
    await change((context) => {
      const sheet = context.workbook.worksheets.getItem("Hall A");
      sheet.getRange("1:3").insert("Down");
      sheet.name = "West hall";
      context.workbook.tables.getItem("Stages").name = "Our_stages";
    });
    await change((context) => void context.workbook.worksheets.getItem("West hall").copy("End"));
    const plans = await found();
    expect(plans.map(({ sheet, floor: name, stages }) => [sheet, name, stages.table])).toEqual([
      ["West hall", "Hall A", "Our_stages"],
      ["West hall (2)", "Hall A", "Our_stages2"],
    ]);
    const [, copy] = plans;
    const price = await valueAt("West hall (2)", copy!.lines.price!);
    expect(price).toBe(await valueAt("West hall", plans[0]!.lines.price!));
    // The copy lives by its own cells.
    await change((context) => {
      context.workbook.worksheets.getItem("West hall (2)").getRange(copy!.inputs.area!).values = [[8400]];
    });
    expect(await valueAt("West hall (2)", copy!.lines.price!)).toBeGreaterThan(price * 1.5);
    expect(await valueAt("West hall", plans[0]!.lines.price!)).toBe(price);
  });

  it("are passed over where their table or their units are gone", async () => {
    await insertPlan(floor("Hall A"), "new sheet");
    const [plan] = await found();
    await change((context) => {
      context.workbook.worksheets.getItem("Hall A").getRange(plan!.inputs.units!).values = [["furlongs"]];
    });
    expect(await found()).toEqual([]);
  });

  it("take as many trips however many there are", async () => {
    const trips = async () => {
      let syncs = 0;
      await Excel.run(async (context) => {
        const { sync } = context;
        context.sync = ((...args: []) => {
          syncs++;
          return sync.apply(context, args);
        }) as typeof context.sync;
        await findPlans(context);
      });
      return syncs;
    };
    await insertPlan(floor("A"), "new sheet");
    // The last of them is of Excel.run.
    expect(await trips()).toBe(3);
    await insertPlan(floor("B"), "new sheet");
    await insertPlan(floor("C"), "new sheet");
    expect([(await found()).length, await trips()]).toEqual([3, 3]);
  });
});

describe("a sheet's name after its floor", () => {
  it.each([
    ["Hall A", "Hall A"],
    ["", "Stage plan"],
    [" a/b\\c?d*e[f]g:h ", "a b c d e f g h"],
    ["'quoted'", "quoted"],
    ["History", "Stage plan"],
    ["???", "Stage plan"],
    ["The very long name of a floor in a building", "The very long name of a floor i"],
  ])("%j is %j", (given, name) => {
    expect(asSheetName(given, "Stage plan")).toBe(name);
  });

  it("is numbered where it's taken, and stays within 31 characters", () => {
    const long = "The very long name of a floor i";
    expect(freeSheetName(long, [long])).toBe("The very long name of a floor 2");
    expect(freeSheetName("Hall A", ["hall a", "Hall A 2"])).toBe("Hall A 3");
  });
});
