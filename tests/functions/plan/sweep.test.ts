/**
 * Every plan that the starter shelf is asked for: whatever the surface, the class, the finish, the slab and the units, both
 * sequences keep to the rules of the trade and say nothing against themselves. The rules are said here a second time, in
 * the trade's own words; nothing of them comes from functions/.
 */
import { describe, expect, it } from "vitest";
import { derive } from "../../../addin/pane/plan/derived";
import { allDoubts } from "../../../addin/pane/plan/doubts";
import { shortStages } from "../../../addin/pane/plan/sequences";
import { type PlanState, startPlan } from "../../../addin/pane/plan/state";
import { cheapest } from "../../../functions/plan/cheapest";
import { estimate, type StageEstimate } from "../../../functions/plan/estimate";
import { type Inputs, startInputs } from "../../../functions/plan/inputs";
import { type Proposal, propose } from "../../../functions/plan/proposal";
import type { Shelf, Tool } from "../../../functions/plan/shelf";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import type { System } from "../../../functions/units";
import { depthOf, everySequence, isAllowed, type ShelfTool } from "../../reference/every-sequence";

/** ASTM E11 openings up to No. 400, 15000 / grit beyond, µm. */
const SIZES: Record<number, number> = {
  16: 1180,
  30: 600,
  50: 300,
  60: 250,
  80: 180,
  100: 150,
  120: 125,
  200: 75,
  400: 38,
  800: 18.75,
  1500: 10,
  3000: 5,
};

type Finish = { readonly given: Partial<Inputs>; readonly lastGrit: number };
/** Common practice: the last grit of each finish; CSP 3 from metal 16, and a hone of 100 under a thin film. */
const FINISHES: Finish[] = [
  { given: { finish: "coating", film: 2 }, lastGrit: 100 },
  { given: { finish: "coating", film: 10 }, lastGrit: 100 },
  { given: { finish: "coating", film: 12 }, lastGrit: 16 },
  { given: { finish: "coating", film: 40 }, lastGrit: 16 },
  { given: { finish: "flat" }, lastGrit: 60 },
  { given: { finish: "satin" }, lastGrit: 200 },
  { given: { finish: "polished" }, lastGrit: 800 },
  { given: { finish: "highly polished" }, lastGrit: 3000 },
  { given: { finish: "by grit", lastGrit: 120 }, lastGrit: 120 },
  { given: { finish: "by grit", lastGrit: 400 }, lastGrit: 400 },
  { given: { finish: "by grit", lastGrit: 1500 }, lastGrit: 1500 },
];
const SURFACES = ["bare", "coated", "ground"] as const;
const CLASSES = ["A", "B", "C"] as const;
const SLABS = [
  { hardness: 2, matrix: "hard" },
  { hardness: 5, matrix: "medium" },
  { hardness: 9, matrix: "soft" },
] as const;
/** Common practice, no source, µm. */
const CUT = { A: 100, B: 500, C: 3200 };
/** Metal 80 left half of No. 80's 180 µm. */
const LEFT = { grit: 80, size: 180, scratch: 90 };

interface Job {
  readonly name: string;
  readonly inputs: Inputs;
  readonly matrix: string;
  readonly lastGrit: number;
  /** Whether the work goes on from the grit that is there. */
  readonly goesOn: boolean;
  readonly depth: number;
}

/** A coating that wants a rougher floor than grit 80 left opens it anew. */
const goesOnFrom = (surface: string, lastGrit: number) => surface === "ground" && SIZES[lastGrit]! < LEFT.size;

function jobsIn(units: System): Job[] {
  const jobs: Job[] = [];
  for (const surface of SURFACES) {
    for (const exposure of CLASSES) {
      for (const { given, lastGrit: usual } of FINISHES) {
        for (const { hardness, matrix } of SLABS) {
          // Finer than a flat floor's 60 already: a step on to 100.
          const lastGrit = surface === "ground" && given.finish === "flat" ? 100 : usual;
          const goesOn = goesOnFrom(surface, lastGrit);
          const film = given.film && units === "metric" ? given.film * 25.4 : given.film;
          const inputs = {
            ...startInputs(units),
            area: 4000,
            surface,
            exposure,
            hardness,
            ...given,
            ...(film && { film }),
          };
          const name = [surface, exposure, JSON.stringify(given), `Mohs ${hardness}`, units].join(", ");
          jobs.push({
            name,
            inputs,
            matrix,
            lastGrit,
            goesOn,
            depth: depthFor(surface, exposure, given, lastGrit, goesOn),
          });
        }
      }
    }
  }
  return jobs;
}

/** The least that has to come off: what the class asks for, or the scratch of the tool that has to come first or last. */
function depthFor(
  surface: string,
  exposure: "A" | "B" | "C",
  { finish }: Partial<Inputs>,
  lastGrit: number,
  goesOn: boolean,
) {
  if (goesOn) return LEFT.scratch;
  const byClass = finish === "coating" ? 0 : CUT[exposure];
  const first = surface === "coated" || lastGrit === 16 ? SIZES[16]! / 2 : 0;
  const last = lastGrit === 60 ? SIZES[60]! / 2 : 0;
  return Math.max(byClass, first, last);
}

/** The tools of a sequence as the independent rules take them. */
const asRuled = ({ grit, bond, cut, life, price }: Tool): ShelfTool => ({
  grit: Number(grit),
  bond,
  size: SIZES[Number(grit)]!,
  cut: cut!,
  life,
  price,
});

function check(job: Job, { stages, notes }: Proposal, shelf: Shelf, isProposal: boolean): void {
  const { inputs, name } = job;
  expect(notes, name).toEqual([]);
  const worked = estimate(inputs, shelf, stages).rows.filter(({ grit }) => grit !== null);
  // Common practice: PCD takes a coating off before anything grinds; no other floor is stripped.
  expect(worked.map(({ work }) => work === "strip").indexOf(true), name).toBe(inputs.surface === "coated" ? 0 : -1);
  const rows = worked.filter(({ work }) => work !== "strip");
  const tools = rows.map((row) => shelf.tools.find((tool) => tool.name === row.tool)!);
  const ruled = tools.map(asRuled);
  const floor = {
    area: 1,
    hourCost: 1,
    areaRate: 1,
    changeCost: 0,
    startScratch: job.depth,
    finishGrit: 0,
    maxRatio: 2.5,
  };

  expect(tools.at(-1)!.grit, name).toBe(job.lastGrit);
  for (const tool of tools) if (tool.bond === "metal") expect(tool.matrix, `${name}: ${tool.name}`).toBe(job.matrix);
  ruled.forEach((tool, i) => {
    if (i > 0) expect(isAllowed(tool, ruled[i - 1], floor), `${name}: ${tools[i]!.name}`).toBe(true);
    expectCleared(rows[i]!, tool, i === 0 ? job.depth : depthOf(ruled[i - 1]!), name);
    expect(rows[i]!.passes, name).toBeGreaterThanOrEqual(tools[i]!.passes);
  });
  const [first] = ruled;
  if (job.goesOn) {
    // Resin does not meet what metal left.
    expect(first!.bond, name).not.toBe("resin");
    expect(LEFT.size / first!.size, name).toBeGreaterThan(1);
    expect(LEFT.size / first!.size, name).toBeLessThanOrEqual(2.5);
    return;
  }
  const needsMetal = inputs.surface === "coated" || inputs.finish === "coating" || inputs.exposure !== "A";
  expect(needsMetal ? ["metal"] : ["metal", "transitional"], name).toContain(first!.bond);
  if (inputs.surface === "coated") expect(first!.grit, name).toBe(16);
  // A metal scratch shows through a thin film; a thick one wants it.
  if (inputs.finish === "coating") expect(ruled.at(-1)!.bond === "metal", name).toBe(job.lastGrit === 16);
  if (isProposal && inputs.finish !== "coating" && inputs.surface === "bare" && ruled.length > 1) {
    expect(first!.size, name).toBeGreaterThanOrEqual(SIZES[{ A: 100, B: 30, C: 16 }[inputs.exposure]]!);
  }
}

/** The passes take off all that is there, down to the tool's own scratch. */
function expectCleared({ passes, tool }: StageEstimate, ruled: ShelfTool, from: number, name: string): void {
  expect(passes * ruled.cut + 1e-9, `${name}: ${tool}`).toBeGreaterThanOrEqual(from - depthOf(ruled));
}

/** The same floor with all that may be filled, grouted and coated. */
const withFilling = (job: Job): Job => ({
  ...job,
  inputs: { ...job.inputs, grout: "yes", coats: "yes", jointLength: 200, crackLength: 20 },
});

const inPane = ({ inputs }: Job, shelf: Shelf): PlanState => ({
  ...startPlan(inputs.units),
  inputs,
  shelf: { shelf, units: inputs.units, from: "starter", problems: [] },
});

describe.each(["us", "metric"] as const)("from the starter shelf in %s units", (units) => {
  const shelf = starterShelf(units);
  const jobs = jobsIn(units);

  it("every proposal is in order, suits the slab, takes off its depth and clears each scratch", () => {
    expect(jobs).toHaveLength(3 * 3 * 11 * 3);
    for (const job of jobs) check(job, propose(job.inputs, shelf), shelf, true);
  });

  it("so does every cheapest sequence, for no more money", () => {
    for (const job of jobs) {
      const best = cheapest(job.inputs, shelf);
      check(job, best, shelf, false);
      const cost = (stages: Proposal["stages"]) => estimate(job.inputs, shelf, stages).directCost;
      expect(cost(best.stages), job.name).toBeLessThanOrEqual(cost(propose(job.inputs, shelf).stages) * (1 + 1e-12));
    }
  });

  it("with joints, cracks, grout and coats besides, each stands where it belongs (common practice)", () => {
    for (const job of jobs) {
      const state = inPane(withFilling(job), shelf);
      for (const source of ["mine", "cheapest"] as const) {
        const { stages } = derive({ ...state, source });
        const works = stages.map(({ work }) => work);
        const isCoating = job.inputs.finish === "coating";
        expect(works.includes("grout"), job.name).toBe(!isCoating);
        expect(works.at(-1) === "coat", job.name).toBe(isCoating);
        // The tool after the fillers grinds them flush; the one before grout is the one after it.
        expect(["grind", "hone"], job.name).toContain(works[works.indexOf("joints") + 1]);
        if (!isCoating)
          expect(stages[works.indexOf("grout") + 1]!.tool, job.name).toBe(stages[works.indexOf("grout") - 1]!.tool);
      }
    }
  });

  it("the pane has nothing to say against any of them", () => {
    for (const given of jobs.filter((_, i) => i % 2 === 0)) {
      const job = jobs.indexOf(given) % 4 === 0 ? withFilling(given) : given;
      const state = inPane(job, shelf);
      for (const source of ["mine", "cheapest"] as const) {
        const { notes, trouble, estimate: priced, comparison, noComparison } = derive({ ...state, source });
        const told = [...notes, trouble, ...shortStages(priced!), noComparison, ...(comparison?.remarks ?? [])];
        expect(
          [...told, ...allDoubts(state)].filter((text) => text !== "" && text !== null),
          job.name,
        ).toEqual([]);
        const amiss = priced!.rows.filter(({ verdict }) => !["ok", "start", ""].includes(verdict));
        expect(amiss, job.name).toEqual([]);
      }
    }
  });
});

describe("the cheapest sequence from the starter shelf", () => {
  const shelf = starterShelf("us");
  const AREA = 4000;
  const EDGE = 4 * Math.sqrt(AREA);
  /** The strip of 6 in along the edge is the hand grinder's. */
  const GROUND = AREA - EDGE / 2;

  /** By hand: 28 in at 15 ft/min, 20% overlap, 75%; two people at 30 × 1.3, the machine at 28; a foot of edge a minute. */
  function costOf(tool: Tool, passes: number): number {
    const machine = (passes * GROUND) / ((28 / 12) * 15 * 60 * 0.8 * 0.75 * tool.speedFactor);
    const crew = (Math.max(machine, EDGE / 60) + 0.25) * 2 * 30 * 1.3;
    const edgeTools = (EDGE / tool.edgeLife!) * tool.edgePrice!;
    return crew + machine * 28 + ((passes * GROUND) / tool.life) * tool.price + edgeTools;
  }

  it("costs what the best of every sequence costs, each priced by hand (identity: every subset in every order)", () => {
    const jobs = jobsIn("us").filter(({ inputs }) => inputs.surface !== "ground" && inputs.finish !== "coating");
    let sequences = 0;
    for (const job of jobs) {
      const grinding = shelf.tools.filter(({ stripRate }) => stripRate === null);
      const suited = grinding.filter(({ bond, matrix }) => bond !== "metal" || matrix === job.matrix);
      const floor = { area: 1, hourCost: 1, areaRate: 1, changeCost: 0, startScratch: job.depth, maxRatio: 2.5 };
      const ruled = suited.map((tool) => ({ ...asRuled(tool), tool }));
      const { surface, exposure } = job.inputs;
      const opens = ({ bond, grit }: ShelfTool) =>
        surface === "coated" ? grit === 16 : bond === "metal" || (exposure === "A" && bond === "transitional");
      const all = everySequence(ruled, { ...floor, finishGrit: job.lastGrit }).filter(([first]) => opens(first!));
      sequences += all.length;
      const costs = all.map((sequence) =>
        sequence.reduce((sum, { tool, ...at }, i) => {
          const from = i === 0 ? job.depth : depthOf(sequence[i - 1]!);
          return sum + costOf(tool, Math.max(tool.passes, Math.ceil((from - depthOf(at)) / at.cut - 1e-9)));
        }, 0),
      );
      const { rows } = estimate(job.inputs, shelf, cheapest(job.inputs, shelf).stages);
      const ground = rows.filter(({ grit, work }) => grit !== null && work !== "strip");
      const found = ground.reduce((sum, row) => sum + row.cost, 0);
      expect(Math.abs(found - Math.min(...costs)), job.name).toBeLessThan(1e-6);
    }
    expect(sequences).toBeGreaterThan(1000);
  });
});
