import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { estimate, onCheapestMachines } from "../../../functions/plan/estimate";
import type { Inputs } from "../../../functions/plan/inputs";
import type { Machine, Shelf } from "../../../functions/plan/shelf";
import type { PlannedStage } from "../../../functions/plan/stage";
import { expectClose, reference } from "../../helpers";
import { assignments, densifier, inputs, machine, shelf, stages, tool } from "./fixtures";

describe("a machine of the table", () => {
  const wide = machine("Wide", { width: 48, toolsASet: 18, cost: 60 });
  const owned: Shelf = { ...shelf, tools: [tool("M30", { life: 5000, onHand: 1 })], machines: [wide] };
  const [row] = estimate({ ...inputs, toolsASet: 9 }, owned, [{ work: "grind", tool: "M30", machine: "Wide" }]).rows;

  reference(
    "covers the floor in its own width and costs its own rate; the edges take as long as ever",
    "hand: 4 ft × 20 ft/min × 60 × 0.8 = 3840 ft²/h; 3200 × 2 / 3840 = 1.6667 h at 60 is 100; edges 240 / 60 = 4 h; crew 4 × 75 = 300",
    () => {
      expect(row).toMatchObject({ machine: "Wide", edgeHours: 4, hours: 4 });
      expectClose(row!.machineHours, 5 / 3);
      expectClose(row!.parts.machine, 100);
      expectClose(row!.parts.crew, 300);
    },
  );

  reference(
    "carries sets of its own size, for the same money in tools",
    "hand: 18 tools are 2 sets of 9, so a set lasts 10000 ft² and the 1 on hand is half a set: 6400 / 10000 = 0.64 used, 0.64 − 0.5 up is 1 to buy; tools worn are 6400 / 5000 of 9, × 500 = 640",
    () => {
      expect(row).toMatchObject({ setsUsed: 0.64, setsToBuy: 1 });
      expectClose(row!.parts.tooling, 640);
    },
  );
});

describe("the cheapest machines", () => {
  const from = (...values: number[]) => fc.constantFrom(...values);
  const anyMachine = fc.record({
    width: from(16, 20, 24, 32, 40),
    speed: from(8, 12, 20, 30),
    load: from(200, 500, 900),
    toolsASet: from(3, 6, 9, 12),
    cost: from(0, 15, 40, 90),
  });
  const tools = [
    tool("M30", { cut: 90, speedFactor: 0.5 }),
    tool("T60", { bond: "transitional", grit: 60, cut: 40 }),
    tool("R100", { bond: "resin", grit: 100, cut: 20, speedFactor: 1.5 }),
  ];
  const sequence = [...stages, { work: "hone", tool: "R100" }] as const;

  reference(
    "cost the job no more than any other machines at its stages",
    "identity: the least of all assignments, each priced",
    () => {
      fc.assert(
        fc.property(
          fc.array(anyMachine, { minLength: 1, maxLength: 2 }),
          fc.record({
            edgeLength: from(0, 100, 400),
            edgeWork: fc.constantFrom("alongside" as const, "after" as const),
            passesFrom: fc.constantFrom("shelf" as const, "scratch" as const, "larger" as const),
            cutCoefficient: fc.constantFrom(null, 150),
          }),
          (given, over) => {
            const machines = given.map((m, i) => ({ ...m, name: `machine ${i}` }));
            const owned: Shelf = { tools, liquids: [densifier], machines };
            const job: Inputs = { ...inputs, changeHours: 0.25, stripSize: 600, slideSpeed: 2000, ...over };
            const costOf = (names: readonly string[]) =>
              estimate(
                job,
                owned,
                sequence.map((stage, i) => ({ ...stage, machine: names[i]! })),
              ).directCost;
            const costs = assignments(["", ...machines.map(({ name }) => name)], sequence.length).map(costOf);
            const chosen = estimate(job, owned, onCheapestMachines(job, owned, sequence)).directCost;
            expectClose(chosen, Math.min(...costs), 1e-12);
          },
        ),
        { numRuns: 40 },
      );
    },
  );

  it("are the inputs' own where another would cost the same, and for a liquid", () => {
    const { machineWidth, speed, load, toolsASet, machineCost } = inputs;
    const duplicate: Machine = {
      name: "Twin",
      width: machineWidth!,
      speed: speed!,
      load: load!,
      toolsASet: toolsASet!,
      cost: machineCost!,
    };
    const free = { ...duplicate, name: "Free", cost: 0 };
    const chosen = (machines: Machine[]) =>
      onCheapestMachines<PlannedStage>(inputs, { ...shelf, machines }, stages).map((stage) => stage.machine);
    expect(chosen([duplicate])).toEqual(["", "", ""]);
    expect(chosen([duplicate, free])).toEqual(["Free", "", "Free"]);
  });
});
