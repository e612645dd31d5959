import { describe, expect, it } from "vitest";
import { estimate } from "../../../functions/plan/estimate";
import { type Inputs, startInputs } from "../../../functions/plan/inputs";
import type { Liquid, Shelf, Tool } from "../../../functions/plan/shelf";
import { reference } from "../../helpers";

const tool = (name: string, over: Partial<Tool> = {}): Tool => ({
  name,
  bond: "metal",
  grit: 30,
  size: null,
  matrix: null,
  life: 10_000,
  price: 500,
  passes: 2,
  speedFactor: 1,
  onHand: 0,
  ...over,
});
const densifier: Liquid = {
  name: "Densifier",
  work: "densify",
  coverage: 200,
  coats: 1,
  waste: 0.1,
  container: 5,
  price: 165,
  rate: 1600,
};
const shelf: Shelf = {
  tools: [tool("M30"), tool("T60", { bond: "transitional", grit: 60, passes: 1 })],
  liquids: [densifier],
};
const inputs: Inputs = {
  ...startInputs("us"),
  area: 3200,
  edgeLength: 240,
  machineWidth: 24,
  speed: 20,
  overlap: 0,
  efficiency: 0.8,
  machineCost: 25,
  edgeRate: 60,
  crew: 2,
  rate: 30,
  burden: 0.25,
  setup: 3,
  hoursADay: 8,
  overhead: 0.1,
  contingency: 0.05,
  margin: 0.3,
  minimum: 0,
};
const stages = [
  { work: "grind", tool: "M30" },
  { work: "densify", tool: "Densifier" },
  { work: "hone", tool: "T60" },
] as const;

describe("an estimate", () => {
  const found = estimate(inputs, shelf, stages);

  reference(
    "of a stage is hours, tooling, crew and machine",
    "hand: 2 ft × 20 ft/min × 60 × 0.8 = 1920 ft²/h; 3200 × 2 / 1920 = 3.3333 h; edges 240 × 2 / 60 = 8 h alongside; sets 6400 / 10000; crew 8 × 2 × 30 × 1.25 = 600",
    () => {
      const [row] = found.rows;
      expect(row).toMatchObject({ verdict: "start", edgeHours: 8, hours: 8, setsUsed: 0.64, setsToBuy: 1 });
      expect(row!.machineHours).toBeCloseTo(10 / 3, 12);
      expect(row!.parts.tooling).toBeCloseTo(320, 9);
      expect(row!.parts.crew).toBeCloseTo(600, 9);
      expect(row!.parts.machine).toBeCloseTo(250 / 3, 9);
    },
  );

  reference(
    "of a liquid is whole containers and the hours to spread it",
    "hand: 3200 / 200 × 1.1 = 17.6 gal, 4 containers of 5, 4 × 165 = 660; 3200 / 1600 = 2 h; crew 2 × 2 × 37.5 = 150",
    () => {
      const row = found.rows[1]!;
      expect(row).toMatchObject({ verdict: "", hours: 2, machineHours: 0 });
      expect(row.parts.liquids).toBe(660);
      expect(row.parts.crew).toBeCloseTo(150, 9);
    },
  );

  reference(
    "of the job adds set-up, overhead, contingency and margin",
    "hand: T60 1.6667 h machine, 4 h edges; its crew 300, machine 41.6667, tooling 160. Stages 1003.3333 + 810 + 501.6667 = 2315; set-up 225; × 1.1 × 1.05 = 2933.70; / 0.7 = 4191; hours 8 + 2 + 4 = 14; (14 + 3) × 2 = 34; 17 / 8 up is 3 days",
    () => {
      expect(found.rows[2]!.verdict).toBe("ok");
      expect(found.directCost).toBeCloseTo(2540, 9);
      expect(found.cost).toBeCloseTo(2933.7, 9);
      expect(found.price).toBeCloseTo(4191, 9);
      expect(found.perArea).toBeCloseTo(4191 / 3200, 12);
      expect([found.hours, found.crewHours, found.days]).toEqual([14, 34, 3]);
    },
  );

  it("adds edge hours when they come after the machine", () => {
    const after = estimate({ ...inputs, edgeWork: "after" }, shelf, stages);
    expect(after.rows[0]!.hours).toBeCloseTo(10 / 3 + 8, 12);
  });

  it("is never below the minimum charge", () => {
    expect(estimate({ ...inputs, minimum: 9000 }, shelf, stages).price).toBe(9000);
  });

  it("checks a step against the last tool, over a liquid between them", () => {
    const backwards = estimate(inputs, shelf, [stages[2], stages[1], stages[0]]);
    expect(backwards.rows.map((row) => row.verdict)).toEqual(["start", "", "backwards"]);
  });

  it("names a tool that is not on the shelf", () => {
    expect(() => estimate(inputs, shelf, [{ work: "grind", tool: "M16" }])).toThrow("The shelf has no M16");
  });
});
