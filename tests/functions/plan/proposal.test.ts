import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { stepVerdict } from "../../../functions/grit";
import { type Inputs, startInputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import type { Shelf, Tool } from "../../../functions/plan/shelf";
import { toolSize } from "../../../functions/plan/stage";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import { usualDepth, usualLastGrit } from "../../../functions/plan/usual";
import { APPEARANCE_LEVELS } from "../../../functions/tables/appearance";
import { LAST_GRIT_BY_FINISH } from "../../../functions/tables/usual-grits";

const floor = (given: Partial<Inputs> = {}): Inputs => ({ ...startInputs("us"), area: 4000, ...given });
const shelf = starterShelf("us");
const toolsOf = (inputs: Inputs, from: Shelf = shelf): Tool[] =>
  propose(inputs, from)
    // What strips takes no step of grit.
    .stages.filter(({ work }) => work !== "strip")
    .flatMap((stage) => from.tools.find((tool) => tool.name === stage.tool) ?? []);
const ORDER = ["metal", "transitional", "resin"];
const inBondOrder = (tools: Tool[]) => tools.map((t) => t.bond).sort((a, b) => ORDER.indexOf(a) - ORDER.indexOf(b));
const verdicts = (inputs: Inputs, tools: Tool[]) =>
  tools.slice(1).map((tool, i) => {
    const before = tools[i]!;
    return stepVerdict(
      toolSize(before, inputs),
      toolSize(tool, inputs),
      before.bond,
      tool.bond,
      inputs.maxRatio ?? 2.5,
    );
  });

describe("a proposed sequence", () => {
  it("goes from metal over a transitional to resin and never backwards (common practice, no source)", () => {
    const inputs = floor({ exposure: "C", finish: "highly polished" });
    const tools = toolsOf(inputs);
    expect(tools.map((tool) => tool.bond)).toEqual(inBondOrder(tools));
    expect(tools.some((tool) => tool.bond === "transitional")).toBe(true);
    expect(verdicts(inputs, tools).every((verdict) => verdict === "ok")).toBe(true);
    expect(tools.at(-1)?.grit).toBe(3000);
  });

  it("is in order for every surface, finish and exposure that the starter shelf can serve", () => {
    for (const finish of ["flat", "satin", "polished", "highly polished"] as const) {
      for (const exposure of ["A", "B", "C"] as const) {
        for (const surface of ["bare", "coated"] as const) {
          const inputs = floor({ finish, exposure, surface });
          const bad = verdicts(inputs, toolsOf(inputs)).filter((verdict) => verdict !== "ok");
          expect(bad, `${finish}, ${exposure}, ${surface}`).toEqual([]);
        }
      }
    }
  });

  it("starts coarser the more aggregate is wanted, and with metal (common practice, no source)", () => {
    const first = (exposure: "A" | "B" | "C") => toolsOf(floor({ exposure }))[0]!;
    expect(first("C").grit).toBeLessThan(Number(first("B").grit));
    expect(first("B").grit).toBeLessThan(Number(first("A").grit));
    expect([first("B").bond, first("C").bond]).toEqual(["metal", "metal"]);
  });

  it("takes the matrix that suits the slab: hard slab, soft matrix (common practice, no source)", () => {
    const matrix = (hardness: number) => toolsOf(floor({ exposure: "C", hardness }))[0]!.matrix;
    expect([matrix(2), matrix(5), matrix(8)]).toEqual(["hard", "medium", "soft"]);
  });

  it("goes on from the grit that a ground floor was left at", () => {
    const inputs = floor({ surface: "ground", groundGrit: 200 });
    expect(toolsOf(inputs).map((tool) => tool.grit)).toEqual([400, 800]);
  });

  it("for a coating is metal only and has neither densifier nor guard", () => {
    const { stages } = propose(floor({ finish: "coating", film: 12, surface: "coated" }), shelf);
    // The old coating comes off first.
    expect(stages[0]!.work).toBe("strip");
    expect(stages.slice(1).every((stage) => stage.work === "grind")).toBe(true);
    expect(stages.length).toBeGreaterThan(1);
  });

  it("densifies once the floor is open and before the last tool, and guards at the end", () => {
    const works = propose(floor(), shelf).stages.map((stage) => stage.work);
    expect(works.indexOf("densify")).toBeGreaterThan(0);
    expect(works.indexOf("densify")).toBeLessThan(works.lastIndexOf("polish"));
    expect(works.at(-1)).toBe("guard");
  });
});

describe("what is said of a sequence", () => {
  it("names a profile that grinding cannot reach (ICRI 310.2R, from memory: 50 to 125 mil asks for CSP 4 to 6)", () => {
    const { notes } = propose(floor({ finish: "coating", film: 60 }), shelf);
    expect(notes.join()).toMatch(/CSP 4 to 6; grinding leaves CSP 1 to 3\. Use another method/);
    expect(propose(floor({ finish: "coating", film: 12 }), shelf).notes.join()).not.toMatch(/another method/);
  });

  it("takes a film in µm as the same film in mil", () => {
    const us = propose(floor({ finish: "coating", film: 60 }), shelf).notes;
    const metric = propose(floor({ units: "metric", finish: "coating", film: 60 * 25.4 }), shelf).notes;
    expect(metric).toEqual(us);
  });

  it("names the step that the shelf cannot make", () => {
    const noTransitional = { ...shelf, tools: shelf.tools.filter((tool) => tool.bond !== "transitional") };
    const { stages, notes } = propose(floor(), noTransitional);
    expect(stages.length).toBeGreaterThan(2);
    expect(notes.join()).toMatch(/no good step from Metal .* to Resin .*: add a transitional/);
  });

  it("names tools that the chosen scale does not know, and goes on without them (JIS R 6001 begins at 240)", () => {
    const { stages, notes } = propose(floor({ scale: "jis" }), shelf);
    expect(notes.join()).toMatch(/Metal 16 medium is left out: grit 16 is not on the jis scale/);
    expect(stages.some((stage) => stage.tool === "Resin 400")).toBe(true);
    expect(propose(floor({ scale: "jis", lastGrit: 30 }), shelf).notes.join()).toMatch(
      /grit 30 is not on the jis scale/,
    );
  });

  it("says so when the shelf is empty", () => {
    expect(propose(floor(), { tools: [], liquids: [], machines: [] })).toEqual({
      stages: [],
      notes: ["The shelf has no tools; fill in the tooling table."],
    });
  });
});

describe("the usual last grit", () => {
  it("of levels 1 to 4 lies within the older appearance chart's range (CPAA, seen on a page restating it)", () => {
    const finishes = ["flat", "satin", "polished", "highly polished"] as const;
    finishes.forEach((finish, i) => {
      const [coarsest, finest] = APPEARANCE_LEVELS[i]!.olderLastGrit;
      expect(LAST_GRIT_BY_FINISH[finish]).toBeGreaterThanOrEqual(coarsest);
      expect(LAST_GRIT_BY_FINISH[finish]).toBeLessThanOrEqual(finest);
      expect(usualLastGrit(floor({ finish }))).toBe(LAST_GRIT_BY_FINISH[finish]);
    });
  });
});

describe("the usual depth to take off", () => {
  it.each([
    ["a bare floor for class B is 500 µm (common practice, no source)", { exposure: "B" }, 500],
    ["a bare floor for class C is 3200 µm (common practice, no source)", { exposure: "C" }, 3200],
    ["a bare floor for class A is 100 µm (common practice, no source)", { exposure: "A" }, 100],
    ["a coating to remove for class C is that class's", { surface: "coated", exposure: "C" }, 3200],
    [
      "a bare floor to be ground flat is, by hand, at least the scratch of its only metal, half of No. 60's 250 µm",
      { exposure: "A", finish: "flat" },
      125,
    ],
    [
      "a coating to remove for class B is, by hand, more than the class: the scratch of the metal 16: half of 1180 µm",
      { surface: "coated" },
      590,
    ],
    ["a floor ground to 80 is, by hand, half of No. 80's 180 µm", { surface: "ground", groundGrit: 80 }, 90],
    [
      "a floor ground to P120 is, by hand, half of its 125 µm (ISO 6344-2)",
      { surface: "ground", groundGrit: 120, scale: "p" },
      62.5,
    ],
    [
      "a bare floor for a coating of 12 mil (profile 3) is, by hand, the scratch of the metal 16: half of 1180 µm",
      { finish: "coating", film: 12 },
      590,
    ],
    [
      "a bare floor for a coating of 5 mil (profile 1) is, by hand, the scratch of the metal 60: half of 250 µm",
      { finish: "coating", film: 5 },
      125,
    ],
    [
      "the same floor left coarser at the user's wish is, by hand, the scratch of that: half of F 24's 745 µm (FEPA F)",
      { finish: "coating", film: 5, lastGrit: 24, scale: "f" },
      372.5,
    ],
  ] as [string, Partial<Inputs>, number][])("on %s", (_, given, depth) => {
    expect(usualDepth(floor(given))).toBeCloseTo(depth, 9);
  });
});

it("no shelf whatever makes a sequence that repeats a tool or goes back to a harder bond", () => {
  const tool = fc.record({
    name: fc.uuid(),
    bond: fc.constantFrom("metal" as const, "transitional" as const, "resin" as const),
    grit: fc.constantFrom(6, 16, 30, 60, 100, 200, 400, 800, 1500, 3000),
    size: fc.constant(null),
    matrix: fc.constant(null),
    life: fc.constant(5000),
    price: fc.constant(100),
    passes: fc.constant(1),
    speedFactor: fc.constant(1),
    onHand: fc.constant(0),
    cut: fc.constant(null),
    wear: fc.constant(null),
    edgeLife: fc.constant(null),
    wetSpeed: fc.constant(null),
    wetLife: fc.constant(null),
    edgePrice: fc.constant(null),
    stripRate: fc.constant(null),
    scratch: fc.constant(null),
    segments: fc.constant(null),
    segmentArea: fc.constant(null),
  });
  fc.assert(
    fc.property(
      fc.array(tool, { minLength: 1, maxLength: 12 }),
      fc.constantFrom("satin", "polished"),
      (tools, finish) => {
        const found = toolsOf(floor({ finish: finish as Inputs["finish"] }), { tools, liquids: [], machines: [] });
        const names = found.map((t) => t.name);
        expect(new Set(names).size).toBe(names.length);
        expect(found.map((t) => t.bond)).toEqual(inBondOrder(found));
        expect(found.length).toBeGreaterThan(0);
      },
    ),
  );
});
