import { describe, expect, it } from "vitest";
import { cutOf, estimate } from "../../../functions/plan/estimate";
import { type Inputs, inUnits } from "../../../functions/plan/inputs";
import type { Machine, Shelf } from "../../../functions/plan/shelf";
import { expectClose, reference } from "../../helpers";
import { inputs, machine, shelf, stages, tool } from "./fixtures";

describe("an estimate", () => {
  const found = estimate(inputs, shelf, stages);

  reference(
    "of a stage is hours, tooling, crew and machine",
    "hand: 2 ft × 20 ft/min × 60 × 0.8 = 1920 ft²/h; 3200 × 2 / 1920 = 3.3333 h; edges once, 240 / 60 = 4 h alongside; sets 6400 / 10000; crew 4 × 2 × 30 × 1.25 = 300",
    () => {
      const [row] = found.rows;
      expect(row).toMatchObject({ verdict: "start", edgeHours: 4, hours: 4, setsUsed: 0.64, setsToBuy: 1 });
      expect(row!.machineHours).toBeCloseTo(10 / 3, 12);
      expect(row!.parts.tooling).toBeCloseTo(320, 9);
      expect(row!.parts.crew).toBeCloseTo(300, 9);
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
    "hand: T60 1.6667 h machine, 4 h edges; its crew 300, machine 41.6667, tooling 160. Stages 703.3333 + 810 + 501.6667 = 2015; set-up 225; × 1.1 × 1.05 = 2587.20; / 0.7 = 3696; hours 4 + 2 + 4 = 10; (10 + 3) × 2 = 26; 13 / 8 up is 2 days",
    () => {
      expect(found.rows[2]!.verdict).toBe("ok");
      expect(found.directCost).toBeCloseTo(2240, 9);
      expect(found.cost).toBeCloseTo(2587.2, 9);
      expect(found.price).toBeCloseTo(3696, 9);
      expect(found.perArea).toBeCloseTo(3696 / 3200, 12);
      expect([found.hours, found.crewHours, found.days]).toEqual([10, 26, 2]);
    },
  );

  it("adds edge hours when they come after the machine", () => {
    const after = estimate({ ...inputs, edgeWork: "after" }, shelf, stages);
    expect(after.rows[0]!.hours).toBeCloseTo(10 / 3 + 4, 12);
  });

  it("is never below the minimum charge", () => {
    expect(estimate({ ...inputs, minimum: 9000 }, shelf, stages).price).toBe(9000);
  });

  it("checks a step against the last tool, over a liquid between them", () => {
    const backwards = estimate(inputs, shelf, [stages[2], stages[1], stages[0]]);
    expect(backwards.rows.map((row) => row.verdict)).toEqual(["start", "", "backwards"]);
  });

  it("names a tool that is not on the shelf, and a machine that is not in the table", () => {
    expect(() => estimate(inputs, shelf, [{ work: "grind", tool: "M16" }])).toThrow("The shelf has no M16");
    expect(() => estimate(inputs, shelf, [{ ...stages[0], machine: "Wide" }])).toThrow(
      "The machines table has no Wide",
    );
  });

  reference(
    "counts a change of tools as hours of the crew, not of the machine, and a liquid as none",
    "hand: 2 changes of 0.5 h are 1 h more than 10; 1 × 2 × 30 × 1.25 = 75 more than 2240",
    () => {
      const changing = estimate({ ...inputs, changeHours: 0.5 }, shelf, stages);
      expect(changing.rows.map((row) => row.hours)).toEqual([4.5, 2, 4.5]);
      expect(changing.rows.map((row) => row.machineHours)).toEqual(found.rows.map((row) => row.machineHours));
      expect(changing.hours).toBe(11);
      expectClose(changing.directCost, 2315);
    },
  );
});

describe("passes as the scratches need", () => {
  const measured: Shelf = {
    ...shelf,
    tools: [
      tool("M30", { cut: 100 }),
      tool("T60", { bond: "transitional", grit: 60, passes: 1, cut: 40 }),
      tool("R100", { bond: "resin", grit: 100, passes: 3 }),
    ],
  };
  const byScratch: Inputs = { ...inputs, passesFrom: "scratch", depth: 750 };
  const withResin = [...stages, { work: "hone", tool: "R100" }] as const;

  reference(
    "take off the depth first, then the scratch of the tool before, over a liquid between them",
    "hand: scratches 0.5 × 600 = 300 µm and 0.35 × 250 = 87.5 µm; (750 − 300) / 100 = 4.5, 5 passes; (300 − 87.5) / 40 = 5.3, 6 passes; 3200 × 5 / 1920 = 8.3333 h, edges once, 240 / 60 = 4 h; sets 3200 × 5 / 10000 = 1.6",
    () => {
      const { rows } = estimate(byScratch, measured, withResin);
      expect(rows.map((row) => row.passes)).toEqual([5, 1, 6, 3]);
      expect(rows[0]).toMatchObject({ edgeHours: 4, setsUsed: 1.6, setsToBuy: 2 });
      expectClose(rows[0]!.hours, 25 / 3);
      expectClose(rows[0]!.machineHours, 25 / 3);
    },
  );

  reference(
    "are by default the larger of the shelf's and those, and none below them is hidden",
    "hand: 5 of 2 listed, 6 of 1, and 3 listed where no cut is measured; from 400 µm (400 − 300) / 100 is 1, so the 2 listed",
    () => {
      const larger = { ...byScratch, passesFrom: "larger" } as const;
      expect(estimate(larger, measured, withResin).rows.map((row) => row.passes)).toEqual([5, 1, 6, 3]);
      expect(estimate({ ...larger, depth: 400 }, measured, stages).rows[0]).toMatchObject({ passes: 2, needed: 1 });
      const listed = estimate({ ...larger, passesFrom: "shelf" }, measured, withResin).rows;
      expect(listed.map(({ passes, needed }) => [passes, needed])).toEqual([
        [2, 5],
        [1, undefined],
        [1, 6],
        [3, undefined],
      ]);
    },
  );

  it("stay those of the shelf where nobody has measured the cut, and wherever they are asked for", () => {
    expect(estimate(byScratch, shelf, stages).rows.map((row) => row.passes)).toEqual([2, 1, 1]);
    expect(estimate({ ...byScratch, passesFrom: "shelf" }, measured, withResin).rows.map((row) => row.passes)).toEqual([
      2, 1, 1, 3,
    ]);
  });

  reference(
    "take off the usual depth where none is given",
    "hand: class B is 500 µm (common practice, no source); (500 − 300) / 100 = 2",
    () => {
      const { rows } = estimate({ ...byScratch, depth: null, exposure: "B" }, measured, stages);
      expect(rows[0]!.passes).toBe(2);
    },
  );
});

describe("a cutting coefficient", () => {
  const strip: Inputs = {
    ...inputs,
    units: "metric",
    area: 300,
    machineWidth: 700,
    speed: 6,
    overlap: 0.2,
    load: 200,
    cutCoefficient: 200,
    stripSize: 600,
    slideSpeed: 10,
    passesFrom: "scratch",
    depth: 650,
  };
  const onStrip: Machine = machine("", { width: 700, speed: 6, load: 200 });
  const measured: Shelf = {
    ...shelf,
    tools: [tool("M30", { cut: 999 }), tool("T50", { bond: "transitional", grit: 50, speedFactor: 1 })],
  };

  reference(
    "gives the cut of a pass by Preston's law, in proportion to the tool's size, and with the tool's own travel speed",
    "hand: k·F·v / (w·(1 − overlap)·u) = 200e-12 × 200 × 9.80665 N × 10 m/s / (0.7 m × 0.8 × 0.1 m/s) = 70.0475e-6 m; half of it at half the size; double at half the speed",
    () => {
      expectClose(cutOf(measured.tools[0]!, 600, onStrip, strip), 70.0475);
      expectClose(cutOf(measured.tools[0]!, 300, onStrip, strip), 35.02375);
      expectClose(cutOf(tool("slow", { speedFactor: 0.5 }), 600, onStrip, strip), 140.095);
      expectClose(
        cutOf(measured.tools[0]!, 600, machine("Heavy", { width: 700, speed: 6, load: 400 }), strip),
        140.095,
      );
    },
  );

  reference(
    "goes before the shelf's cut, and into the passes",
    "hand: M30 (650 − 300) / 70.0475 = 4.997, 5; T50 cuts half as deep, 300 µm over 600 µm, and leaves 0.35 × 300 = 105 µm: (300 − 105) / 35.02375 = 5.6, 6",
    () => {
      const sequence = [
        { work: "grind", tool: "M30" },
        { work: "hone", tool: "T50" },
      ] as const;
      expect(estimate(strip, measured, sequence).rows.map((row) => row.passes)).toEqual([5, 6]);
    },
  );

  reference(
    "is the same number in both systems of units",
    "identity: one machine on one slab cuts one depth, however its width and load are written",
    () => {
      const us = inUnits(strip, "us");
      const same = machine("", { width: us.machineWidth!, speed: us.speed!, load: us.load! });
      expectClose(cutOf(measured.tools[0]!, 600, same, us), 70.0475, 1e-11);
    },
  );
});
