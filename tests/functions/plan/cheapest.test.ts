import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cheapest } from "../../../functions/plan/cheapest";
import { estimate } from "../../../functions/plan/estimate";
import { type Inputs, startInputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import type { Shelf, Tool } from "../../../functions/plan/shelf";
import type { PlannedStage } from "../../../functions/plan/stage";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import { expectClose, reference } from "../../helpers";
import { everySequence } from "../../reference/every-sequence";
import { assignments, hourAPass, machine, tool } from "./fixtures";

const holding = (tools: Tool[], machines: Shelf["machines"] = []): Shelf => ({ tools, liquids: [], machines });
const toolsOf = (inputs: Inputs, shelf: Shelf) => cheapest(inputs, shelf).stages.map((stage) => stage.tool);
const stagesCost = (inputs: Inputs, shelf: Shelf, stages: readonly PlannedStage[]) =>
  estimate(inputs, shelf, stages).rows.reduce((sum, row) => sum + row.cost, 0);

/** Worn by one pass: its price comes on top of the hour that the pass costs. */
const worn = (name: string, grit: number, cut: number | null, over: Partial<Tool> = {}) =>
  tool(name, { grit, cut, life: 2400, price: 50, ...over });

const m30 = worn("M30", 30, 100);
const m40 = worn("M40", 40, 75);
const m60 = worn("M60", 60, 25);

describe("the cheapest sequence", () => {
  reference(
    "of two tools takes the coarse one too, where that saves more passes than it costs",
    "hand: scratches 300 and 125 µm; a pass costs 100 + 50, a change 0.2 × 75 = 15. M60 alone (500 − 125) / 25 = 15 passes, 2265; M30 first (500 − 300) / 100 = 2 and (300 − 125) / 25 = 7, 9 × 150 + 2 × 15 = 1380",
    () => {
      const inputs = { ...hourAPass, depth: 500 };
      const shelf = holding([m60, m30]);
      expect(toolsOf(inputs, shelf)).toEqual(["M30", "M60"]);
      expectClose(stagesCost(inputs, shelf, cheapest(inputs, shelf).stages), 1380);
    },
  );

  reference(
    "of three tools leaves out the one that is not worth its change, and takes all three where there is more to take off",
    "hand: M40 leaves 212.5 µm. From 500: M40 4 + M60 4 passes, 1230; M30 2 + M40 2 + M60 4, 1245; M30 2 + M60 7, 1380. From 700: M30 4 + M40 2 + M60 4, 1545; M40 7 + M60 4, 1680; M30 4 + M60 7, 1680. With a change of 2.5 h, 187.5: 2062.5 for the three, 2025 for either two",
    () => {
      const shelf = holding([m30, m40, m60]);
      const from = (depth: number, changeHours = 0.2) => {
        const inputs = { ...hourAPass, depth, changeHours };
        const { stages } = cheapest(inputs, shelf);
        return { tools: stages.map((stage) => stage.tool), cost: stagesCost(inputs, shelf, stages) };
      };
      expect(from(500).tools).toEqual(["M40", "M60"]);
      expectClose(from(500).cost, 1230);
      expect(from(700).tools).toEqual(["M30", "M40", "M60"]);
      expectClose(from(700).cost, 1545);
      expect(from(700, 2.5).tools).toHaveLength(2);
      expectClose(from(700, 2.5).cost, 2025);
    },
  );

  reference(
    "puts each stage on the machine that does it for least",
    "hand: edges take 6 h a stage. M30 twice at half speed: own machine 4 h, 6 × 75 + 4 × 25 = 550; Wide 2 h, 450 + 2 × 60 = 570. M60 7 times: own 7 h, 525 + 175 = 700; Wide 3.5 h, 450 + 3.5 × 60 = 660. With 9 × 50 of tools and two changes 550 + 660 + 450 + 30 = 1690; M60 alone 15 times on Wide is 562.50 + 450 + 750 + 15",
    () => {
      const inputs = { ...hourAPass, depth: 500, edgeLength: 360, edgeRate: 60 };
      const shelf = holding([{ ...m30, speedFactor: 0.5 }, m60], [machine("Wide", { width: 48, cost: 60 })]);
      const { stages } = cheapest(inputs, shelf);
      expect(stages.map((stage) => [stage.tool, stage.machine])).toEqual([
        ["M30", ""],
        ["M60", "Wide"],
      ]);
      expectClose(stagesCost(inputs, shelf, stages), 1690);
    },
  );

  it("says from what depth it starts", () => {
    expect(cheapest({ ...hourAPass, depth: 500 }, holding([m30, m60])).stages[0]!.reason).toBe(
      "Cheapest start for removing 500 µm.",
    );
  });

  it("is never dearer than any other allowed sequence, on any machines, as estimate prices them", () => {
    // ASTM E11 openings, and 15000 / grit beyond them.
    const sizes = { 30: 600, 60: 250, 120: 125, 200: 75, 400: 38, 800: 18.75 } as const;
    const grits = Object.keys(sizes).map(Number) as (keyof typeof sizes)[];
    const anyTool = fc.record({
      grit: fc.constantFrom(...grits),
      bond: fc.constantFrom("metal" as const, "transitional" as const, "resin" as const),
      cut: fc.integer({ min: 3, max: 200 }),
      life: fc.integer({ min: 1000, max: 12_000 }),
      price: fc.integer({ min: 0, max: 900 }),
      speedFactor: fc.constantFrom(0.5, 0.8, 1, 1.2),
    });
    const anyMachine = fc.record({ width: fc.constantFrom(16, 32, 48), cost: fc.constantFrom(5, 40, 120) });
    let withAChoice = 0;
    fc.assert(
      fc.property(
        fc.array(anyTool, { minLength: 1, maxLength: 5 }),
        fc.array(anyMachine, { maxLength: 1 }),
        fc.constantFrom(40, 100, 310, 700),
        fc.constantFrom(0, 100),
        fc.constantFrom(0, 0.25, 2),
        fc.constantFrom("larger" as const, "scratch" as const),
        (given, others, depth, edgeLength, changeHours, passesFrom) => {
          const tools = given.map((t, i) => ({ ...tool(`T${i}`), ...t, size: sizes[t.grit], cut: t.cut }));
          const machines = others.map((m, i) => machine(`machine ${i}`, m));
          const shelf = holding(tools, machines);
          const finishGrit = tools[0]!.grit;
          const inputs = { ...hourAPass, depth, edgeLength, changeHours, lastGrit: finishGrit, passesFrom };
          const task = { startScratch: depth, finishGrit, maxRatio: inputs.maxRatio! };
          const inSteps = everySequence(tools, { ...task, area: 1, hourCost: 1, areaRate: 1, changeCost: 0 });
          // Metal opens class B wherever there is some.
          const hasMetal = tools.some(({ bond }) => bond === "metal");
          const allowed = inSteps.filter(([first]) => first!.bond === "metal" || !hasMetal);

          const { stages, notes } = cheapest(inputs, shelf);
          const names = stages.map((stage) => stage.tool);
          if (allowed.length === 0) {
            expect(stages).toEqual([]);
            expect(notes.join()).toMatch(/The shelf has no workable sequence/);
            return;
          }
          if (allowed.length > 1) withAChoice++;
          expect(allowed.map((sequence) => sequence.map((t) => t.name))).toContainEqual(names);
          const cost = stagesCost(inputs, shelf, stages);
          for (const sequence of allowed) {
            for (const on of assignments(["", ...machines.map((m) => m.name)], sequence.length)) {
              const other = sequence.map((t, i) => ({ work: "grind" as const, tool: t.name, machine: on[i]! }));
              expect(cost).toBeLessThanOrEqual(stagesCost(inputs, shelf, other) * (1 + 1e-12));
            }
          }
        },
      ),
    );
    expect(withAChoice).toBeGreaterThan(10);
  });
});

describe("a slab and its matrix", () => {
  const inputs = { ...hourAPass, depth: 500, hardness: 5 };

  it("keep out a tool of another matrix, though it would be cheaper (a medium slab wants a medium matrix)", () => {
    const soft = { ...m30, matrix: "soft" as const };
    const { stages, notes } = cheapest(inputs, holding([soft, { ...m60, matrix: "medium" }]));
    expect(stages.map((stage) => stage.tool)).toEqual(["M60"]);
    expect(notes).toEqual([]);
    expect(toolsOf({ ...inputs, hardness: 8 }, holding([soft, m60]))).toEqual(["M30", "M60"]);
  });

  it("have to do with another matrix where none other leads to the finish, and that is told", () => {
    const shelf = holding([m30, { ...m60, matrix: "soft" }]);
    const { stages, notes } = cheapest(inputs, shelf);
    expect(stages.map((stage) => stage.tool)).toEqual(["M30", "M60"]);
    expect(notes).toEqual([
      "This slab needs a medium matrix. The shelf has none at this grit, so M60 may wear fast or glaze.",
    ]);
  });

  it("ask for no matrix of a tool that is not metal, even where the table has one", () => {
    const hybrid = worn("T60", 60, 25, { bond: "transitional", matrix: "soft" });
    expect(cheapest({ ...inputs, exposure: "A" }, holding([hybrid])).notes).toEqual([]);
  });
});

describe("what is said of the cheapest sequence", () => {
  const inputs = { ...hourAPass, depth: 500 };

  it("names the tools whose cut nobody has measured, and goes on without them", () => {
    const { stages, notes } = cheapest(inputs, holding([{ ...m30, cut: null }, { ...m40, cut: null }, m60]));
    expect(stages.map((stage) => stage.tool)).toEqual(["M60"]);
    expect(notes).toEqual(["Left out (no measured cut per pass): M30, M40."]);
  });

  it("leaves none out with a cutting coefficient, which gives each its cut", () => {
    const strip = { ...inputs, cutCoefficient: 200, stripSize: 600, slideSpeed: 2000 };
    const { stages, notes } = cheapest(strip, holding([m30, m60].map((t) => ({ ...t, cut: null }))));
    expect(stages.length).toBeGreaterThan(0);
    expect(notes).toEqual([]);
  });

  it("is why there is none: the last tool not measured, every tool too coarse, an empty shelf", () => {
    expect(cheapest(inputs, holding([m30, { ...m60, cut: null }]))).toEqual({
      stages: [],
      notes: [
        "Left out (no measured cut per pass): M60.",
        "The shelf has no workable sequence: no measured tool of grit 60.",
      ],
    });
    // By hand: half of No. 400's 38 µm is there; M60 leaves 125.
    const fine = { ...hourAPass, surface: "ground" as const, groundGrit: 400 };
    expect(cheapest(fine, holding([m30, m60])).notes).toEqual([
      "The shelf has no workable sequence: no steps of at most 2.5 lead from 19 µm to grit 60.",
    ]);
    expect(cheapest(inputs, holding([]))).toEqual({
      stages: [],
      notes: ["The shelf has no tools; fill in the tooling table."],
    });
  });

  it("warns of a start without metal where the aggregate has to be opened", () => {
    const resin = worn("R60", 60, 25, { bond: "resin" });
    const warned = cheapest({ ...inputs, surface: "bare", exposure: "C" }, holding([resin])).notes.join();
    expect(warned).toMatch(/Starts with R60, but metal usually opens this floor/);
    const onGround = { ...inputs, surface: "ground" as const, groundGrit: 30 };
    expect(cheapest(onGround, holding([resin])).notes.join()).toMatch(/metal or a transitional usually opens/);
    expect(cheapest(onGround, holding([{ ...resin, bond: "transitional" }])).notes).toEqual([]);
  });
});

describe("the cheapest sequence from the starter shelf", () => {
  const shelf = starterShelf("us");
  const floor = (given: Partial<Inputs> = {}): Inputs => ({
    ...startInputs("us"),
    area: 4000,
    passesFrom: "scratch",
    ...given,
  });

  it("densifies once the floor is open and before the last tool, and guards at the end", () => {
    const works = cheapest(floor(), shelf).stages.map((stage) => stage.work);
    expect(works.indexOf("densify")).toBeGreaterThan(0);
    expect(works.indexOf("densify")).toBeLessThan(works.lastIndexOf("polish"));
    expect(works.at(-1)).toBe("guard");
  });

  it("for a coating strips the old one, then is metal only, with neither densifier nor guard", () => {
    const { stages } = cheapest(floor({ finish: "coating", film: 12, surface: "coated" }), shelf);
    const [strip, ...ground] = stages.map((stage) => stage.work);
    expect(strip).toBe("strip");
    expect(ground.length).toBeGreaterThan(0);
    expect(ground).toEqual(ground.map(() => "grind"));
  });

  it("goes on from what a ground floor was left at, with tools that scratch no deeper", () => {
    // By hand: No. 200's 75 µm leave 37.5 µm; Resin 100 leaves 0.2 × 150 = 30, Transitional 100 0.35 × 150 = 52.5.
    const { stages } = cheapest(floor({ surface: "ground", groundGrit: 200 }), shelf);
    expect(stages[0]!.tool).toMatch(/^Resin/);
    expect(stages[0]!.reason).toBe("Cheapest start for removing 38 µm.");
    expect(stages.filter((stage) => stage.work !== "guard").at(-1)!.tool).toBe("Resin 800");
  });

  it("is in order, and costs no more than the usual one with as many passes as that needs", () => {
    for (const finish of ["flat", "satin", "polished", "highly polished"] as const) {
      for (const surface of ["bare", "coated"] as const) {
        for (const exposure of ["A", "B", "C"] as const) {
          const inputs = floor({ finish, surface, exposure });
          const { rows, directCost } = estimate(inputs, shelf, cheapest(inputs, shelf).stages);
          const verdicts = rows.map((row) => row.verdict).filter((verdict) => verdict !== "");
          const job = `${finish}, ${surface}, ${exposure}`;
          expect(verdicts, job).toEqual(["start", ...verdicts.slice(1).map(() => "ok")]);
          const usual = estimate(inputs, shelf, propose(inputs, shelf).stages).directCost;
          expect(directCost, job).toBeLessThanOrEqual(usual * (1 + 1e-12));
        }
      }
    }
  });
});

it("starts as coarse as usual on a coating, though a finer tool would take it off for less, and not on a bare floor", () => {
  // Common practice, no source: grit 16 on a coating. Fine alone clears (590 − 300) / 400, one pass.
  const tools = [tool("Coarse", { grit: 16, cut: 400 }), tool("Fine", { grit: 30, cut: 400 })];
  const on = (surface: Inputs["surface"]) =>
    cheapest({ ...hourAPass, surface, lastGrit: 30, depth: 590 }, holding(tools));
  expect(on("coated").stages.map((stage) => stage.tool)).toEqual(["Coarse", "Fine"]);
  expect(on("bare").stages.map((stage) => stage.tool)).toEqual(["Fine"]);
  expect([...on("coated").notes, ...on("bare").notes]).toEqual([]);
});
