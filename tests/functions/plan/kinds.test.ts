/** Stages besides grinding, honing and polishing: strip, fill, grout, stain, coat, clean and protect. */
import { describe, expect, it } from "vitest";
import { cheapest } from "../../../functions/plan/cheapest";
import { estimate } from "../../../functions/plan/estimate";
import type { Inputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import type { Liquid, Shelf } from "../../../functions/plan/shelf";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import { expectClose, reference } from "../../helpers";
import { densifier, inputs, tool } from "./fixtures";

const liquid = (over: Partial<Liquid>): Liquid => ({ ...densifier, ...over });
const bare = { coverage: null, container: null, price: 0 };
const shelf: Shelf = {
  tools: [
    tool("M30", { cut: 100 }),
    tool("M60", { grit: 60, cut: 100 }),
    tool("PCD", { grit: 6, passes: 1, price: 600, life: 15_000, stripRate: 500, scratch: 800 }),
  ],
  liquids: [
    liquid({ name: "Epoxy", work: "coat", coverage: null, coats: 2, solids: 0.5, container: 3, price: 190, rate: 400 }),
    liquid({
      name: "Joint filler",
      work: "joints",
      coverage: null,
      container: 10,
      price: 620,
      rate: null,
      fillRate: 80,
    }),
    liquid({ name: "Crack filler", work: "cracks", coverage: null, container: 1, price: 95, rate: null, fillRate: 40 }),
    liquid({ name: "Grout", work: "grout", wait: 12 }),
    liquid({ name: "Cover", work: "protect", ...bare, waste: 0, rate: 2000, areaCost: 0.14 }),
    liquid({ name: "Burnish", work: "burnish", ...bare, waste: 0, rate: 5000 }),
  ],
  machines: [],
};
const rowOf = (over: Partial<Inputs>, work: "coat" | "joints" | "cracks" | "protect" | "burnish", name: string) =>
  estimate({ ...inputs, ...over }, shelf, [{ work, tool: name }]).rows[0]!;

describe("a coat", () => {
  reference(
    "takes area × dry film / (1604.17 × solids by volume), waste besides (the coating trade's rule)",
    "hand: 3200 × 10 / (1604.1667 × 0.5) × 1.1 = 43.886 gal, 15 kits of 3 at 190; 2 coats at 400 ft²/h are 16 h",
    () => {
      const row = rowOf({ finish: "coating", film: 10 }, "coat", "Epoxy");
      expectClose(row.volume, ((3200 * 10) / (1604.1666666666667 * 0.5)) * 1.1);
      expect(row.parts.liquids).toBe(15 * 190);
      expect(row.hours).toBe(16);
      expect(row.passes).toBe(2);
    },
  );

  reference("has its own film before the plan's", "hand: 2 coats of 4 mil are 8", () => {
    const own = { ...shelf, liquids: shelf.liquids.map((row) => (row.work === "coat" ? { ...row, film: 4 } : row)) };
    const { rows } = estimate({ ...inputs, finish: "coating", film: 10 }, own, [{ work: "coat", tool: "Epoxy" }]);
    expectClose(rows[0]!.volume, ((3200 * 8) / (1604.1666666666667 * 0.5)) * 1.1);
  });

  it("without any film is refused in words", () => {
    expect(() => rowOf({}, "coat", "Epoxy")).toThrow("Epoxy has no coverage and no dry film on the shelf");
  });
});

describe("joints and cracks", () => {
  reference(
    "take length × width × depth, and hours by length",
    "hand: 1/4 × 1 in is 77 ft a gallon of 231 in³: 770 ft are 10 gal, 11 with waste, 2 pails; 770 / 80 h",
    () => {
      const row = rowOf({ jointLength: 770 }, "joints", "Joint filler");
      expectClose(row.volume, 11);
      expect(row.parts.liquids).toBe(2 * 620);
      expect(row.hours).toBe(9.625);
    },
  );

  reference("each have their own length", "hand: 308 ft of 1/4 × 1/2 in are 2 gal, 2.2 with waste, 3 cans", () => {
    const row = rowOf({ crackLength: 308 }, "cracks", "Crack filler");
    expectClose(row.volume, 2.2);
    expect(row.parts.liquids).toBe(3 * 95);
  });

  it("without a length are refused in words", () => {
    expect(() => rowOf({}, "joints", "Joint filler")).toThrow("Joints to fill is missing; a stage needs it");
  });
});

describe("work without a liquid", () => {
  reference("costs its hours and what it costs by area", "hand: 3200 / 2000 h; 3200 × 0.14; 3200 / 5000 h", () => {
    const cover = rowOf({}, "protect", "Cover");
    expectClose(cover.hours, 1.6);
    expectClose(cover.parts.liquids, 448);
    expect(cover.volume).toBe(0);
    const burnish = rowOf({}, "burnish", "Burnish");
    expectClose(burnish.hours, 0.64);
    expect(burnish.parts.liquids).toBe(0);
  });
});

describe("stripping", () => {
  const stages = [
    { work: "strip", tool: "PCD" },
    { work: "grind", tool: "M30" },
  ] as const;

  reference(
    "goes at the tool's own rate, and the next tool starts from the scratch that it leaves",
    "hand: 3200 / 500 = 6.4 h; 3200 / 15000 of a set; M30 leaves 300 µm, (800 − 300) / 100 = 5 passes",
    () => {
      const [strip, grind] = estimate({ ...inputs, depth: 500, passesFrom: "scratch" }, shelf, stages).rows;
      expect(strip).toMatchObject({ machineHours: 6.4, verdict: "", passes: 1, size: null });
      expectClose(strip!.setsUsed, 3200 / 15_000);
      expect(grind).toMatchObject({ verdict: "start", passes: 5 });
    },
  );

  reference("leaves the depth to remove where that is more", "hand: (1500 − 300) / 100 = 12 passes", () => {
    const { rows } = estimate({ ...inputs, depth: 1500, passesFrom: "scratch" }, shelf, stages);
    expect(rows[1]!.passes).toBe(12);
  });

  it("comes first on a coated floor, in both sequences, and on no other; its tool grinds nothing", () => {
    for (const sequence of [propose, cheapest]) {
      const on = (surface: Inputs["surface"]) =>
        sequence({ ...inputs, surface, finish: "by grit", lastGrit: 60 }, shelf).stages.map(({ work }) => work);
      expect(on("coated")[0]).toBe("strip");
      expect(on("coated").lastIndexOf("strip")).toBe(0);
      expect(on("bare")).not.toContain("strip");
      const none = { ...shelf, tools: shelf.tools.filter(({ stripRate }) => stripRate === null) };
      const stages = sequence({ ...inputs, surface: "coated", finish: "by grit", lastGrit: 60 }, none).stages;
      expect(stages.map(({ work }) => work)).not.toContain("strip");
    }
  });

  it("has its reason, and so has the tool after it", () => {
    const given = { ...inputs, surface: "coated", finish: "by grit", lastGrit: 60 } as const;
    const reasons = propose(given, shelf).stages.map(({ reason }) => reason);
    expect(reasons.slice(0, 2)).toEqual([
      "Takes off the coating or adhesive.",
      "Coarse start: takes out what stripping leaves.",
    ]);
  });

  it("has its scratch in the search: the first tool's passes are those that the estimate needs", () => {
    const given = { ...inputs, surface: "coated", depth: 100, finish: "by grit", lastGrit: 60 } as const;
    const { stages, notes } = cheapest(given, shelf);
    expect(notes).toEqual([]);
    const { rows } = estimate(given, shelf, stages);
    for (const row of rows) if (row.needed !== undefined) expect(row.passes).toBeGreaterThanOrEqual(row.needed);
  });
});

describe("grout", () => {
  it("goes on after the last metal tool, which then repeats in order (common practice, no source)", () => {
    const { stages, notes } = propose({ ...inputs, finish: "by grit", lastGrit: 60, grout: "yes" }, shelf);
    expect(notes).toEqual([]);
    const last = stages.slice(-3);
    expect(last.map(({ work, tool: name }) => [work, name])).toEqual([
      [last[0]!.work, "M60"],
      ["grout", "Grout"],
      [last[0]!.work, "M60"],
    ]);
    const verdicts = estimate(inputs, shelf, stages).rows.map(({ verdict }) => verdict);
    expect(verdicts.slice(-3)).toEqual(["ok", "", "ok"]);
  });

  it("excuses no repeat before it, and none but the next", () => {
    const metal = { work: "grind", tool: "M30" } as const;
    const grout = { work: "grout", tool: "Grout" } as const;
    const verdicts = (stages: readonly (typeof metal | typeof grout)[]) =>
      estimate(inputs, shelf, stages).rows.map(({ verdict }) => verdict);
    expect(verdicts([metal, metal, grout, metal, metal])).toEqual(["start", "repeat", "", "ok", "repeat"]);
  });
});

describe("cures", () => {
  reference(
    "make the job longer by the working hours they take, and cost nothing",
    "hand: 3 h of setup, 2 h of grout to 5 h; 12 h later it is the next morning, 3 h lost; then 4 h: 12 h, 2 days of 8",
    () => {
      const stages = [
        { work: "grout", tool: "Grout" },
        { work: "grind", tool: "M30" },
      ] as const;
      const found = estimate(inputs, shelf, stages);
      expect(found.hours).toBe(6);
      expect(found.waits).toBe(3);
      expect(found.days).toBe(2);
      const none = { ...shelf, liquids: shelf.liquids.map((row) => ({ ...row, wait: null })) };
      expect(estimate(inputs, none, stages)).toMatchObject({ waits: 0, price: found.price });
    },
  );

  it("after the last stage are not days of the crew", () => {
    expect(estimate(inputs, shelf, [{ work: "grout", tool: "Grout" }]).waits).toBe(0);
  });
});

describe("what is ground off", () => {
  const { tools, liquids, machines } = starterShelf("us");
  const whole = { tools, liquids, machines };

  reference(
    "is area × depth × 145 lb/ft³",
    "hand: 1/16 in over 4,200 ft² is 21.875 ft³, 3,172 lb: about 3,200 (trade)",
    () => {
      const given = { ...inputs, area: 4200, depth: 1587.5, passesFrom: "scratch" } as const;
      const unmeasured = { ...whole, tools: [tool("M30")] };
      const { dust, slurry } = estimate(given, unmeasured, [{ work: "grind", tool: "M30" }]);
      expectClose(dust, 3171.875);
      expect(slurry).toBe(0);
    },
  );

  reference(
    "is what the planned passes take off where that is more, and spares the obstacles",
    "hand: 2 passes of 100 µm are more than 150; 3000 ft² × 200 / 304800 × 145",
    () => {
      const { dust } = estimate({ ...inputs, depth: 150, obstacles: 200 }, shelf, [{ work: "grind", tool: "M30" }]);
      expectClose(dust, ((3000 * 200) / 304_800) * 145);
    },
  );

  reference(
    "makes slurry with the water of the machine's hours",
    "hand: 2 gal/min × 60 × 3.3333 h = 400; 3200 × 200 / 304800 ft³ × 1728 / 231 = 15.707 gal",
    () => {
      const given = { ...inputs, grinding: "wet", waterRate: 2, depth: 150 } as const;
      const { slurry } = estimate(given, shelf, [{ work: "grind", tool: "M30" }]);
      expectClose(slurry, 400 + (((3200 * 200) / 304_800) * 1728) / 231);
    },
  );
});

describe("a proposal", () => {
  const starter = starterShelf("us");
  const works = (over: Partial<Inputs>, from = starter) => propose({ ...inputs, ...over }, from);

  it("ends a coating's plan with its coats where they are wanted", () => {
    const coating = { finish: "coating", film: 12 } as const;
    expect(works({ ...coating, coats: "yes" }).stages.at(-1)!.work).toBe("coat");
    expect(works(coating).stages.map(({ work }) => work)).not.toContain("coat");
    // A floor that is polished has no coats, whatever was chosen before.
    expect(works({ finish: "polished", coats: "yes" }).stages.map(({ work }) => work)).not.toContain("coat");
  });

  it("fills cracks and joints before the last metal tool, where there are some (common practice, no source)", () => {
    const { stages } = works({ finish: "polished", jointLength: 300, crackLength: 20 });
    const order = stages.map(({ work }) => work);
    const lastMetal = stages.findLastIndex(({ tool: name }) => name.startsWith("Metal"));
    expect(order.slice(lastMetal - 2, lastMetal)).toEqual(["cracks", "joints"]);
    expect(works({ finish: "polished" }).stages.map(({ work }) => work)).not.toContain("joints");
  });

  it("says what the shelf lacks for it", () => {
    const none = { ...starter, liquids: [] };
    expect(works({ finish: "coating", coats: "yes", jointLength: 100 }, none).notes).toEqual([
      "The shelf has no joint filler, so the sequence has none.",
      "The shelf has no coating, so the sequence has none.",
    ]);
  });
});
