/** Stages of every kind on the sheet: what the user adds, changes or gets wrong there, held against the pane's arithmetic. */
import { describe, expect, it, vi } from "vitest";
import { cautionFor, insertPlan, type Plan } from "../../../addin/sheet";
import { estimate } from "../../../functions/plan/estimate";
import { type Inputs, startInputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import { LIQUID_COLUMNS, TOOL_COLUMNS } from "../../../functions/plan/shelf";
import type { PlannedStage } from "../../../functions/plan/stage";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import { LIQUID_WORKS } from "../../../functions/plan/works";
import type { System } from "../../../functions/units";
import { close, expectSheetAgrees, floor, planFor, shelfRows } from "./agreement";
import { addTable, figureBeside, openGritForEach, select, setInTable, setNamed, tableRows, valuesOf } from "./workbook";

vi.setConfig({ testTimeout: 90_000 });
openGritForEach();

const SIZE = { us: { length: 80, width: 50 }, metric: { length: 24, width: 15 } };
const JOINTS = { us: { jointLength: 400, crackLength: 60 }, metric: { jointLength: 120, crackLength: 18 } };
const inputsIn = (units: System, over: Partial<Inputs>) =>
  floor({ ...startInputs(units), jobName: "Test floor", ...SIZE[units], ...over });

/** Every kind there is: what is proposed, and all that is only added by hand. */
function wholePlan(units: System): Plan {
  const inputs = inputsIn(units, { surface: "coated", grout: "yes", grinding: "wet", ...JOINTS[units] });
  const shelf = starterShelf(units);
  const of = (work: (typeof LIQUID_WORKS)[number]): PlannedStage => ({
    work,
    tool: shelf.liquids.find((liquid) => liquid.work === work)!.name,
  });
  const { stages } = propose(inputs, shelf);
  const added = (["clean", "dry", "stain", "burnish", "protect"] as const).map(of);
  return {
    inputs,
    links: {},
    shelf,
    stages: [...stages, ...added].map(({ work, tool, machine }) => ({ work, tool, machine })),
  };
}

const change = (plan: Plan, over: Partial<Inputs>): Plan => ({ ...plan, inputs: { ...plan.inputs, ...over } });

describe.each([
  ["us", "new sheet", "Stage plan"],
  ["metric", "new sheet", "Stage plan"],
] as const)("in %s units, on a %s", (units, where, sheet) => {
  it("every kind of stage has the pane's figures", async () => {
    await select("Sheet1!C6");
    const plan = wholePlan(units);
    expect(new Set(plan.stages.map(({ work }) => work)).size).toBe(LIQUID_WORKS.length - 1 + 4);
    await insertPlan(plan, where);
    const found = await expectSheetAgrees(plan);
    expect(found.waits).toBeGreaterThan(0);
    const said = (await valuesOf(`${sheet}!A1:Z140`.replace("Stage plan", "'Stage plan'"))).flat();
    expect(said).toContain("in order");
    expect(said).toContain("up to date");
    // EPA and OSHA on flooring mastic and lead paint: what comes off is tested first.
    expect(said.filter((text) => /may hold asbestos and old paint lead/.test(String(text)))).toHaveLength(1);
    expect(cautionFor(plan.inputs)).toMatch(/may hold asbestos.*Wet floors are slippery/);
    close(await figureBeside("Working hours waiting for cures", sheet), found.waits);
    close(await figureBeside("Concrete ground off", sheet), found.dust);
    close(await figureBeside("Slurry to collect", sheet), found.slurry);
    const [volume, mass] = units === "us" ? ["gal", "lb"] : ["L", "kg"];
    expect(said).toContain(`${volume}: caustic, keep out of drains`);
    expect(said).toContain(`${mass} of solids in the slurry`);
  });
});

describe("on the sheet", () => {
  it("a coating's coats follow its thickness, its solids and their number", async () => {
    const plan = planFor(inputsIn("us", { finish: "coating", film: 12, coats: "yes" }));
    expect(plan.stages.at(-1)!.work).toBe("coat");
    await insertPlan(plan, "new sheet");
    const thin = await expectSheetAgrees(plan);
    await setNamed("Floor_Film", "Stage plan", 24);
    const thick = await expectSheetAgrees(change(plan, { film: 24 }));
    expect(thick.rows.at(-1)!.volume).toBeCloseTo(2 * thin.rows.at(-1)!.volume, 9);
    const at = plan.shelf.liquids.findIndex(({ work }) => work === "coat");
    const liquids = plan.shelf.liquids.map((liquid, i) =>
      i === at ? { ...liquid, solids: 0.5, film: 5, coats: 3 } : liquid,
    );
    await setInTable("Liquids", at, "Solids", 0.5);
    await setInTable("Liquids", at, "Dry film of a coat mil", 5);
    await setInTable("Liquids", at, "Coats", 3);
    await expectSheetAgrees({ ...change(plan, { film: 24 }), shelf: { ...plan.shelf, liquids } });
  });

  it("a cure changes days and no money, as the pane has it", async () => {
    const plan = planFor(inputsIn("us", { grout: "yes" }));
    await insertPlan(plan, "new sheet");
    const before = await expectSheetAgrees(plan);
    const at = plan.shelf.liquids.findIndex(({ work }) => work === "grout");
    await setInTable("Liquids", at, "Wait after a coat h", 48);
    const liquids = plan.shelf.liquids.map((liquid, i) => (i === at ? { ...liquid, wait: 48 } : liquid));
    const after = await expectSheetAgrees({ ...plan, shelf: { ...plan.shelf, liquids } });
    expect(after.days).toBeGreaterThan(before.days);
    expect(after.price).toBe(before.price);
  });

  it("the same grit again is a repeat without grout before it", async () => {
    const plan = planFor(inputsIn("us", { grout: "yes" }));
    await insertPlan(plan, "new sheet");
    const at = plan.stages.findIndex(({ work }) => work === "grout");
    expect((await tableRows("Stages"))[at + 1]!.Check).toBe("ok");
    await setInTable("Stages", at, "Work", "densify");
    await setInTable("Stages", at, "Tool", "Densifier");
    expect((await tableRows("Stages"))[at + 1]!.Check).toBe("repeat");
  });

  it("in dry work there is dust with its care and no slurry, until it's made wet", async () => {
    const plan = planFor(inputsIn("us", {}));
    await insertPlan(plan, "new sheet");
    const said = (await valuesOf("'Stage plan'!A1:Z140")).flat();
    expect(said).toContain("lb: sealed bags, no dry sweeping");
    expect(said.join(" ")).not.toMatch(/asbestos/);
    expect(cautionFor(plan.inputs)).not.toMatch(/asbestos/);
    expect(await figureBeside("Slurry to collect", "Stage plan")).toBe(0);
    expect(said.join(" ")).not.toMatch(/caustic, keep out of drains/);
    // Made wet on the sheet, it has both.
    await setNamed("Floor_Grinding", "Stage plan", "wet");
    const wet = change(plan, { grinding: "wet" });
    const { slurry } = await expectSheetAgrees(wet);
    close(await figureBeside("Slurry to collect", "Stage plan"), slurry);
    expect((await valuesOf("'Stage plan'!A1:Z140")).flat()).toContain("gal: caustic, keep out of drains");
    await setNamed("Machine_Water", "Stage plan", 2);
    const more = estimate({ ...wet.inputs, waterRate: 2 }, plan.shelf, plan.stages).slurry;
    expect(more).toBeGreaterThan(slurry);
    close(await figureBeside("Slurry to collect", "Stage plan"), more);
    close(await figureBeside("Concrete ground off", "Stage plan"), estimate(plan.inputs, plan.shelf, plan.stages).dust);
  });

  it("joints in a plan without their length show no price", async () => {
    const plan = planFor(inputsIn("us", {}));
    await insertPlan(plan, "new sheet");
    const at = plan.stages.length - 1;
    await setInTable("Stages", at, "Tool", "Joint filler");
    await setInTable("Stages", at, "Work", "joints");
    const row = (await tableRows("Stages"))[at]!;
    expect([row.Hours, row["Stage cost"]]).toEqual(["#N/A", "#N/A"]);
    const said = (await valuesOf("'Stage plan'!A1:Z140")).flat().map(String);
    expect(said.some((text) => text.startsWith(`calculated, but row ${at + 1} of the stages shows no figure`))).toBe(
      true,
    );
  });

  it("tables of before, without the newer columns, are still a shelf", async () => {
    const { tools, liquids } = starterShelf("us");
    const bare = { ...starterShelf("us") };
    const shelf = {
      ...bare,
      tools: tools
        .filter(({ stripRate }) => stripRate === null)
        .map((tool) => ({ ...tool, cut: null, edgeLife: null, edgePrice: null })),
      liquids: liquids.slice(0, 2).map((liquid) => ({ ...liquid, wait: null })),
    };
    const must = <Column extends { optional?: true }>(columns: readonly Column[]) => columns.filter((c) => !c.optional);
    await addTable("My_tools", "Tools", "B2", shelfRows(shelf.tools, must(TOOL_COLUMNS), "us"));
    await addTable("My_liquids", "Liquids", "A1", shelfRows(shelf.liquids, must(LIQUID_COLUMNS), "us"));
    const inputs = inputsIn("us", {});
    const plan = { inputs, links: {}, shelf, stages: propose(inputs, shelf).stages };
    await insertPlan(plan, "new sheet");
    const { waits, rows } = await expectSheetAgrees(plan);
    expect(waits).toBe(0);
    expect(rows.at(-1)!.work).toBe("guard");
  });
});
