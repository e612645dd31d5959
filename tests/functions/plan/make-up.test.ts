import { describe, expect, it } from "vitest";
import { cheapest } from "../../../functions/plan/cheapest";
import { cutOf, estimate } from "../../../functions/plan/estimate";
import { type Inputs, startInputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import { MACHINE_COLUMNS, type Shelf } from "../../../functions/plan/shelf";
import { shelfOf } from "../../../functions/plan/shelf-rows";
import { starterMachines, starterShelf } from "../../../functions/plan/starter-shelf";
import { expectClose, reference } from "../../helpers";
import { inputs, machine, shelf, tool } from "./fixtures";

/** A rotary machine whose tools slide at 2π × 0.5 ft × 600 a minute. */
const SLIDES = Math.PI * 600;
const rotary = machine("Rotary", { load: 750, slideSpeed: SLIDES });

describe("a machine that the table describes", () => {
  const metal = tool("M30", { cut: 100 });

  reference(
    "cuts by its load and its sliding speed what the shelf's cut is on the inputs' machine",
    "hand: 750 / 500 lbf and 600π / 1500 ft/min, at the same width and speed: 100 × 1.5 × 1.2566",
    () => {
      const cut = cutOf(metal, 600, rotary, { ...inputs, load: 500, slideSpeed: 1500 });
      expectClose(cut!, (100 * 1.5 * SLIDES) / 1500);
    },
  );

  reference(
    "cuts by its width and its travel speed too",
    "hand: 24 / 30 in and 20 / 16 ft/min leave 100 × 600π / 1500",
    () => {
      const other = { ...rotary, load: 500, width: 30, speed: 16 };
      const cut = cutOf(metal, 600, other, { ...inputs, load: 500, slideSpeed: 1500 });
      expectClose(cut!, (100 * SLIDES) / 1500);
    },
  );

  reference(
    "needs no test strip of its own: a coefficient from another machine goes by its own sliding speed",
    "identity: Preston's law is in proportion to the sliding speed, 600π against 1500 ft/min",
    () => {
      const measured: Inputs = { ...inputs, cutCoefficient: 200, stripSize: 600, slideSpeed: 1500 };
      const plain = machine("Rotary", { load: 750 });
      const own = cutOf(metal, 600, rotary, measured)!;
      expectClose(own / cutOf(metal, 600, plain, measured)!, SLIDES / 1500);
    },
  );

  it("cuts as the shelf says where a make-up is missing, its own or that of the inputs' machine", () => {
    expect(cutOf(metal, 600, rotary, { ...inputs, slideSpeed: null })).toBe(100);
    expect(cutOf(metal, 600, machine("Plain", { load: 900 }), { ...inputs, slideSpeed: 1500 })).toBe(100);
  });
});

describe("the segments of a tool", () => {
  const onFloor = (over: Partial<Parameters<typeof tool>[1]>, given: Partial<Inputs> = {}, on = "") => {
    const tools = [tool("M30", { cut: 100, ...over })];
    const machines = [machine("Large", { load: 750, toolsASet: 12 })];
    const stages = [{ work: "grind" as const, tool: "M30", machine: on }];
    return estimate({ ...inputs, ...given }, { ...shelf, tools, machines }, stages).rows[0]!;
  };
  const SEGMENTS = { segments: 2, segmentArea: 1.5 };

  reference(
    "press on the floor with the load over all their faces, on each stage's own machine",
    "hand: 550 lbf / (9 × 2 × 1.5 in²) = 20.37 psi; 750 / (12 × 2 × 1.5) = 20.83",
    () => {
      expectClose(onFloor(SEGMENTS, { load: 550, toolsASet: 9 }).pressure!, 550 / 27);
      expectClose(onFloor(SEGMENTS, {}, "Large").pressure!, 750 / 36);
    },
  );

  reference(
    "press in kPa on a metric floor",
    "hand: 250 × 9.80665 N / (9 × 2 × 400 mm²) = 2451.6625 / 7200 N/mm² = 340.509 kPa",
    () => {
      const metric = { units: "metric", load: 250, toolsASet: 9 } as const;
      expectClose(onFloor({ segments: 2, segmentArea: 400 }, metric).pressure!, 2_451_662.5 / 7200);
    },
  );

  it("say nothing of the pressure while one of the two isn't known", () => {
    for (const over of [{}, { segments: 2 }, { segmentArea: 1.5 }]) expect(onFloor(over).pressure).toBeUndefined();
  });

  it("leave cut, passes and cost alone, as Preston's law does", () => {
    const strip = { cutCoefficient: 200, stripSize: 600, slideSpeed: 1500 };
    for (const given of [{}, strip]) {
      const row = onFloor(SEGMENTS, given);
      expect(row.pressure).toBeGreaterThan(0);
      expect({ ...row, pressure: undefined }).toEqual(onFloor({}, given));
    }
  });
});

describe("the power of a machine", () => {
  // 0.3 mm × 711.2 mm × 76.2 mm/s are 16258.032 mm³/s, at 1 J/mm³ 16.258032 kW.
  const wide = machine("Wide", { width: 28, speed: 15 });
  const metal = tool("M16", { grit: 16, cut: 300 });
  const cutWith = (over: object, given: Partial<Inputs> = {}) =>
    cutOf(metal, 1180, { ...wide, ...over }, { ...inputs, ...given });

  reference("limits the depth of a pass", "hand: half of 16.258032 kW leaves half of 300 µm", () => {
    expectClose(cutWith({ motor: 8.129016 })!, 150);
    expect(cutWith({ motor: 20 })).toBe(300);
    expect(cutWith({})).toBe(300);
  });

  reference(
    "is the supply's where that is less, √3 times on three phases",
    "hand: 230 V × 20 A = 4.6 kW, 300 × 4.6 / 16.258032 = 84.8811; × √3 = 147.0184",
    () => {
      expectClose(cutWith({ motor: 15, volts: 230, amps: 20 })!, (300 * 4.6) / 16.258032);
      expectClose(cutWith({ volts: 230, amps: 20, phases: 3 })!, (300 * 4.6 * Math.sqrt(3)) / 16.258032);
    },
  );

  reference(
    "counts the floor once where passes overlap, and goes by the tool's speed",
    "hand: at 20% overlap 8.129016 / (16.258032 × 0.8) of 300 is 187.5; at half the speed twice 150",
    () => {
      expectClose(cutWith({ motor: 8.129016 }, { overlap: 0.2 })!, 187.5);
      const slow = { ...metal, speedFactor: 0.5 };
      expectClose(cutOf(slow, 1180, { ...wide, motor: 8.129016 }, inputs)!, 300);
    },
  );

  reference(
    "makes more passes at less depth, which the stage tells",
    "hand: 1500 µm less a scratch of 590 at 150 µm a pass are 7 passes, at 300 they are 4",
    () => {
      const owned: Shelf = {
        ...shelf,
        tools: [metal],
        machines: [{ ...wide, motor: 8.129016 }, machine("Strong", { width: 28, speed: 15 })],
      };
      const given: Inputs = { ...inputs, depth: 1500 };
      const passesOn = (name: string) =>
        estimate(given, owned, [{ work: "grind", tool: "M16", machine: name }]).rows[0]!;
      expect(passesOn("Wide")).toMatchObject({ passes: 7, needed: 7, fullCut: 300 });
      expect(passesOn("Strong")).toMatchObject({ passes: 4, needed: 4, cut: 300, fullCut: 300 });
    },
  );
});

describe("the life of a metal set", () => {
  const stage = [{ work: "grind", tool: "M30" }] as const;
  /** On the inputs' machine the strip cuts what the coefficient makes of it; the shelf lists another cut. */
  const usedAt = (listed: number | null, over: Partial<Parameters<typeof tool>[1]> = {}) => {
    const given: Inputs = { ...inputs, cutCoefficient: 200, stripSize: 600, slideSpeed: 1500, passesFrom: "shelf" };
    const tools = [tool("M30", { cut: listed, ...over })];
    const [row] = estimate(given, { ...shelf, tools }, stage).rows;
    return row!;
  };

  reference(
    "falls in proportion where a pass cuts deeper than listed, in sets and in money",
    "hand: 6400 ft² of a life of 10000 is 0.64 set of 500; at twice the listed cut 1.28 sets of 500",
    () => {
      const { cut } = usedAt(null);
      const deeper = usedAt(cut! / 2);
      expectClose(deeper.setsUsed, 1.28);
      expectClose(deeper.parts.tooling, 640);
    },
  );

  it("is as listed where a pass cuts less, where no cut is listed, and for any other bond", () => {
    const { cut } = usedAt(null);
    const used = [usedAt(cut! * 2), usedAt(null), usedAt(cut! / 2, { bond: "resin" })].map((row) => row.setsUsed);
    for (const sets of used) expectClose(sets, 0.64);
  });
});

describe("the machines table", () => {
  const plain = ["Walk-behind", 24, 15, 500, 9, 25];
  const described = [...plain, 8, 4, 700, -60, 1885, 650, 11, 480, 25, 3];
  const problemOf = (column: string, value: string | number) => {
    const at = MACHINE_COLUMNS.findIndex(({ title }) => title === column);
    return shelfOf([], [], [described.with(at, value)]).badMachines[0]?.reason;
  };

  it("takes the make-up of a machine where its columns are there and filled", () => {
    const { shelf: read, badMachines } = shelfOf(
      [],
      [],
      [described, described.with(6, "").with(7, "").with(10, ""), plain],
    );
    expect(badMachines).toEqual([]);
    expect(read.machines[0]).toMatchObject({
      headRadius: 8,
      toolRadius: 4,
      headRpm: 700,
      carrierRpm: -60,
      slideSpeed: 1885,
      phases: 3,
    });
    expect(read.machines[1]).not.toHaveProperty("slideSpeed");
    expect(Object.keys(read.machines[2]!)).toHaveLength(6);
  });

  it("tells what a machine cannot be", () => {
    expect(problemOf("Weight", 400)).toBe("Weight must be no less than the load, 500; got 400");
    expect(problemOf("Phases", 2)).toBe("Phases must be 1 or 3; got 2");
    expect(problemOf("Motor kW", 0)).toBe("Motor kW must be above 0; got 0");
    expect(problemOf("Tool radius", "wide")).toBe('Tool radius must be above 0; got the text "wide"');
  });
});

describe("on the sample machines", () => {
  const machines = starterMachines("us");
  const jobs = (["A", "B", "C"] as const).flatMap((exposure) =>
    [2, 5, 8].map((hardness) => ({ ...startInputs("us"), area: 4200, exposure, hardness })),
  );

  it("both sequences take the passes that their power leaves, and never cut deeper than it", () => {
    for (const given of jobs) {
      const owned = { ...starterShelf("us"), machines };
      for (const { stages, notes } of [propose(given, owned), cheapest(given, owned)]) {
        expect(notes).toEqual([]);
        for (const { tool: called, machine: name, cut, passes, needed } of estimate(given, owned, stages).rows) {
          if (cut === undefined) continue;
          expect(passes).toBeGreaterThanOrEqual(needed!);
          const { motor, width, speed } = machines.find((m) => m.name === name) ?? {};
          const { speedFactor } = owned.tools.find((t) => t.name === called)!;
          // mm × mm × mm/s are W at 1 J/mm³; the overlap of 20% is cut once.
          if (motor)
            expect((cut / 1000) * width! * 25.4 * speed! * speedFactor * 5.08 * 0.8).toBeLessThanOrEqual(
              motor * 1000 * 1.0001,
            );
        }
      }
    }
  });
});

describe("a harder slab", () => {
  it("costs more to grind, since even its own bond cuts less a pass (common practice)", () => {
    const priceAt = (hardness: number, exposure: "B" | "C") => {
      const given: Inputs = { ...startInputs("us"), area: 4200, hardness, exposure };
      const owned = starterShelf("us");
      const { rows } = estimate(given, owned, propose(given, owned).stages);
      // A soft slab costs more densifier.
      return rows.reduce((sum, { bond, cost }) => sum + (bond === "" ? 0 : cost), 0);
    };
    for (const exposure of ["B", "C"] as const) {
      expect(priceAt(8, exposure)).toBeGreaterThan(priceAt(5, exposure));
      expect(priceAt(5, exposure)).toBeGreaterThan(priceAt(3, exposure));
    }
  });
});
