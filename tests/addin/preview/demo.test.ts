/** The demo's plan, worked out by hand from its start values, and its sheet, on which nothing may be amiss. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { buildDemo, demoPlan } from "../../../addin/preview/demo-workbook";
import { CHECK_WORDS, SEQUENCE_FINE } from "../../../addin/sheet/plan-texts";
import { estimate } from "../../../functions/plan/estimate";
import { expectClose, reference } from "../../helpers";
import { close } from "../sheet/agreement";
import { type GritWorkbook, named, openGrit, tableRows, valuesOf } from "../sheet/workbook";

// Common practice, no source: the sequence of a class B, level 3 floor on a medium slab (issue 12).
const SEQUENCE = [
  ["grind", "Metal 30 medium", 2],
  ["grind", "Metal 60 medium", 2],
  ["hone", "Transitional 100", 2],
  ["densify", "Densifier", 1],
  ["hone", "Resin 200", 2],
  ["hone", "Resin 400", 2],
  ["polish", "Resin 800", 2],
  ["guard", "Guard", 2],
];

/** 84 × 50 ft: 268 ft of edge, whose strip of 6 in is 134 ft²; the machine grinds the other 4066. */
const GROUND = 4200 - 268 * 0.5;
/** 28 in × 15 ft/min × 60 × 0.8 × 0.75 are 1260 ft²/h; metal 30 travels at nine tenths of that. */
const MACHINE_HOURS = (2 * GROUND) / 1134 + (5 * 2 * GROUND) / 1260;
/** Six changes of a quarter hour; densifier at 1500 ft²/h, two coats of guard at 1800. Edges, 268 / 60 h a step, run beside. */
const HOURS = MACHINE_HOURS + 6 * 0.25 + 4200 / 1500 + (2 * 4200) / 1800;
/** Two people at 30 and 30% burden; the machine at 28 an hour. */
const CREW = HOURS * 78;
const MACHINE = MACHINE_HOURS * 28;
/** Two passes each, by price over life of a set; along the edges 268 ft by price over life of a hand tool. */
const SETS = 2 * GROUND * (520 / 10_000 + 500 / 12_000 + 330 / 6500 + 260 / 6500 + 260 / 7500 + 260 / 9000);
const EDGE_TOOLS = 268 * (2 * (75 / 1200) + 28 / 400 + 3 * (18 / 400));
/** 4200 / 200 × 1.1 = 23.1 gal are 5 pails of 165; 2 × 4200 / 1000 × 1.1 = 9.24 gal are 2 pails of 310. */
const LIQUIDS = 5 * 165 + 2 * 310;
const DIRECT = CREW + MACHINE + SETS + EDGE_TOOLS + LIQUIDS + 3 * 78;
const PRICE = (DIRECT * 1.12 * 1.05) / 0.7;

describe("the demo", () => {
  const plan = demoPlan();
  const found = estimate(plan.inputs, plan.shelf, plan.stages);

  it("is the sequence that the trade would take (common practice, no source)", () => {
    expect(found.rows.map(({ work, tool, passes }) => [work, tool, passes])).toEqual(SEQUENCE);
  });

  reference("takes the hours, days and money of its start values", "hand: the arithmetic above, step by step", () => {
    expectClose(found.hours, HOURS);
    expectClose(found.directCost, DIRECT);
    expectClose(found.price, PRICE);
    expect(found.days).toBe(Math.ceil((HOURS + 3) / 8));
  });

  it("comes to about 50 hours, 7 days for two and about 40 ft² a man-hour (common practice, no source)", () => {
    expect(Math.abs(found.hours - 50)).toBeLessThan(2.5);
    expect(found.days).toBe(7);
    expect(Math.abs(4200 / found.crewHours - 40)).toBeLessThan(4);
    // With the heavy guard of 450 ft²/gal and no strip it was 3.9 a ft²: 3 pails more are 930, × 1.68 / 4200 is 0.37.
    expect(found.perArea).toBeGreaterThan(3.4);
    expect(found.perArea).toBeLessThan(3.9);
  });
});

describe("the demo's sheet", () => {
  let workbook: GritWorkbook;
  beforeAll(async () => {
    workbook = await openGrit();
    await buildDemo();
  });
  afterAll(() => workbook.dispose());

  it("has the price worked out by hand", async () => {
    close(await named("Stages_Price"), PRICE);
    close(await named("Stages_Hours"), HOURS);
  });

  it("has nothing amiss: steps in order, passes enough, every check fine", async () => {
    const rows = await tableRows("Stages");
    expect(rows.map(({ Check }) => Check)).toEqual(["start", "ok", "ok", "", "ok", "ok", "ok", ""]);
    const cells = (await valuesOf("'Packing hall'!A1:Z140")).map((row) => row.filter((cell) => cell !== ""));
    const beside = (label: string) => cells.filter(([first]) => first === label).map((row) => row.slice(1));
    for (const label of [
      "Enough passes for this floor?",
      "Inputs complete and valid?",
      "All stages calculated?",
      "Stages chosen for these inputs?",
    ]) {
      expect(beside(label), label).toEqual([[0]]);
    }
    expect(beside("Sequence")).toEqual([[SEQUENCE_FINE]]);
    for (const said of beside("Numbers up to date?")) expect(said).toEqual([CHECK_WORDS.upToDate]);
  });
});
