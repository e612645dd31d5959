/** What holds for every custom function whatever it is given, over the whole catalogue. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { QUANTITIES, type Quantity, type Unit } from "../../functions/units";
import {
  asBlock,
  asBlocks,
  byId,
  CATALOGUE,
  type Catalogued,
  isForTheCall,
  isUnits,
  type Parameter,
  valid,
  validArguments,
} from "../catalogue";
import { expectClose, expectSound } from "../helpers";

/** The errors that our functions give must say why; those that came in with an argument only pass through. */
const OUR_ERRORS = ["#VALUE!", "#N/A", "#NUM!"];
const PASSED_ON = ["#DIV/0!", "#REF!", "#NAME?", "#SPILL!"];

/** Anything a cell could hold, and much that none could. */
const anyCell: fc.Arbitrary<unknown> = fc.oneof(
  fc.double(),
  fc.double({ min: 0, max: 100, noNaN: true }),
  fc.integer({ min: -2, max: 3000 }),
  fc.constantFrom(0, -0, Number.MIN_VALUE, -Number.MIN_VALUE, Number.MAX_VALUE, -Number.MAX_VALUE, 1 - 2 ** -53),
  fc.constantFrom<unknown>(null, undefined, "", true, false, "12", " ", "metal", "RESIN", "mesh", "um", "metric"),
  fc.constantFrom("\ud800", "a\udfffb", "__proto__", "toString", "=1+1", "x".repeat(40_000)),
  fc.string({ unit: "binary", maxLength: 20 }),
  fc.constantFrom(...PASSED_ON).map((code) => ({ code })),
  fc.constantFrom(...PASSED_ON).map((basicValue) => ({ type: "Error", basicType: "Error", basicValue })),
  fc.jsonValue(),
);

const blockOf = (cell: fc.Arbitrary<unknown>, rows: number, columns: number) =>
  fc.array(fc.array(cell, { minLength: columns, maxLength: columns }), { minLength: rows, maxLength: rows });

const anyBlock = fc
  .tuple(fc.constantFrom(1, 1, 2, 3), fc.constantFrom(1, 1, 2))
  .chain(([rows, columns]) => blockOf(anyCell, rows, columns));

/** Cells that mostly are what the parameter takes, so that many calls get past the first check. */
const mostlyValid = (parameter: Parameter) =>
  fc.oneof({ arbitrary: valid(parameter), weight: 6 }, { arbitrary: anyCell, weight: 1 });

function anyArgument(parameter: Parameter): fc.Arbitrary<unknown> {
  if (isUnits(parameter)) return mostlyValid(parameter);
  const leftOut = fc.constantFrom(undefined, null, []);
  return fc.oneof(
    { arbitrary: valid(parameter).map(asBlock), weight: 4 },
    { arbitrary: anyCell.map((cell) => [[cell]]), weight: 1 },
    { arbitrary: anyBlock, weight: 2 },
    { arbitrary: leftOut, weight: 1 },
  );
}

/** What is wrong with a result cell, if anything. */
function faultOf(cell: unknown): string | undefined {
  if (typeof cell === "string" || typeof cell === "boolean") return undefined;
  if (typeof cell === "number") return Number.isFinite(cell) ? undefined : `the number ${cell}`;
  const { code, message } = (cell ?? {}) as { code?: unknown; message?: unknown };
  if (PASSED_ON.includes(code as string)) return undefined;
  if (!OUR_ERRORS.includes(code as string)) return `no value and no error: ${JSON.stringify(cell)}`;
  return typeof message === "string" && message.length > 0 ? undefined : `the error ${code} without a message`;
}

describe("given anything at all", () => {
  it.each(CATALOGUE)("$id gives finite numbers, texts or errors with a message, and never throws", (entry) => {
    const anything = fc.tuple(...entry.params.map(anyArgument));
    fc.assert(
      fc.property(anything, (args) => expectSound(entry.fn(...args), faultOf)),
      { numRuns: 400 },
    );
  });
});

describe("given what its comment asks for", () => {
  it.each(CATALOGUE)("$id has an answer, and not only now and then", (entry) => {
    const samples = fc.sample(validArguments(entry), { numRuns: 200, seed: 1 });
    const answers = samples.filter((args) => typeof entry.fn(...asBlocks(entry, args))[0]![0] !== "object");
    // Two grits drawn at random make a ladder one time in six.
    expect(answers.length).toBeGreaterThan(20);
  });

  it.each(CATALOGUE)("$id gives the same answer twice and leaves its arguments alone", (entry) => {
    fc.assert(
      fc.property(validArguments(entry), (args) => {
        const blocks = asBlocks(entry, args);
        const before = structuredClone(blocks);
        const first = entry.fn(...blocks);
        expect(entry.fn(...blocks)).toEqual(first);
        expect(blocks).toEqual(before);
      }),
      { numRuns: 30 },
    );
  });
});

/** Functions that read no range as one thing. */
const CELL_BY_CELL = CATALOGUE.filter(
  ({ params, isInTurn }) => !isInTurn && params.every(({ takes }) => takes === "each" || takes === "call"),
);

/** A cell as it compares: errors by what they say. */
const comparable = (cell: unknown) =>
  typeof cell === "object" && cell !== null
    ? { code: (cell as { code: string }).code, message: (cell as { message: string }).message }
    : cell;

describe("over ranges", () => {
  const ROWS = 3;
  const COLUMNS = 2;
  const shapes: [rows: number, columns: number][] = [
    [1, 1],
    [ROWS, 1],
    [1, COLUMNS],
    [ROWS, COLUMNS],
  ];

  const stretched = (parameter: Parameter): fc.Arbitrary<unknown> => {
    if (isUnits(parameter)) return valid(parameter);
    if (isForTheCall(parameter)) return valid(parameter).map((word) => [[word]]);
    const cell = fc.oneof(
      { arbitrary: valid(parameter), weight: 6 },
      { arbitrary: fc.constantFrom<unknown>(null, "", -1, "x", { code: "#DIV/0!" }), weight: 1 },
    );
    return fc.constantFrom(...shapes).chain(([rows, columns]) => blockOf(cell, rows, columns));
  };

  const at = (block: unknown[][], r: number, c: number) => {
    const line = block.length === 1 ? block[0]! : block[r]!;
    return line.length === 1 ? line[0] : line[c];
  };

  function expectCellByCell(entry: Catalogued, args: unknown[]): void {
    const out = entry.fn(...args);
    const blocks = args.filter((_, i) => !isUnits(entry.params[i]!)) as unknown[][][];
    const ranges = blocks.filter((block) => block.length > 1 || block[0]!.length > 1);
    expect(out.length).toBe(Math.max(...blocks.map((block) => block.length)));
    expect(out[0]!.length).toBe(Math.max(...blocks.map((block) => block[0]!.length)));
    for (const [r, line] of out.entries()) {
      for (const [c, cell] of line.entries()) {
        const blankRow = ranges.length > 0 && ranges.every((block) => [null, "", 0].includes(at(block, r, c) as null));
        const alone = args.map((arg, i) => (isUnits(entry.params[i]!) ? arg : [[at(arg as unknown[][], r, c)]]));
        const expected = blankRow ? "" : entry.fn(...alone)[0]![0];
        expect(comparable(cell)).toEqual(comparable(expected));
      }
    }
  }

  it.each(CELL_BY_CELL)("$id gives what it gives cell by cell", (entry) => {
    fc.assert(
      fc.property(fc.tuple(...entry.params.map(stretched)), (args) => expectCellByCell(entry, args)),
      { numRuns: 100 },
    );
  });
});

describe("in the other system of units", () => {
  const isQuantity = (unit: Unit | undefined): unit is Quantity => unit !== undefined && unit in QUANTITIES;

  /** How many metric units one us unit is; 1 where there is no unit that changes. */
  function factorOf(unit: Unit | undefined): number {
    if (!isQuantity(unit)) return 1;
    const { us, metric } = QUANTITIES[unit];
    return us[1] / metric[1];
  }

  const WITH_UNITS = CATALOGUE.filter(({ params }) => params.some(isUnits));

  it.each(WITH_UNITS)("$id gives the same quantity", (entry) => {
    const inputs = entry.params.map(({ declared }) => factorOf(declared.unit));
    const output = factorOf(entry.fn.gives.unit);
    fc.assert(
      fc.property(validArguments(entry), (args) => {
        const us = args.map((value, i) => (isUnits(entry.params[i]!) ? "us" : value));
        const metric = args.map((value, i) => {
          if (isUnits(entry.params[i]!)) return "metric";
          return typeof value === "number" ? value * inputs[i]! : value;
        });
        const inUs = entry.fn(...asBlocks(entry, us))[0]![0];
        const inMetric = entry.fn(...asBlocks(entry, metric))[0]![0];
        if (typeof inUs === "number") expectClose(inMetric, inUs * output, 1e-9);
        else if (typeof inUs === "string") expect(inMetric).toBe(inUs);
        else expect(inMetric).toMatchObject({ code: inUs.code });
      }),
      { numRuns: 200 },
    );
  });

  it("names a pair of units somewhere in every function that asks for the system", () => {
    const without = WITH_UNITS.filter(({ params }) => !params.some(({ declared }) => isQuantity(declared.unit)));
    expect(without.map(({ id }) => id)).toEqual([]);
  });
});

/** Calls by id with plain values, for the properties below. */
function call(id: string, ...values: unknown[]): any {
  const entry = byId(id);
  return entry.fn(...asBlocks(entry, values))[0]![0];
}

describe("inverse", () => {
  const positive = fc.double({ min: 0.01, max: 1e4, noNaN: true });
  const overlap = fc.double({ min: 0, max: 0.9, noNaN: true });
  const efficiency = fc.double({ min: 0.05, max: 1, noNaN: true });
  const units = fc.constantFrom("us", "metric");
  const margin = fc.double({ min: -3, max: 0.99, noNaN: true });

  it("SPEEDFOR undoes PASSTIME", () => {
    fc.assert(
      fc.property(
        positive,
        positive,
        positive,
        positive,
        overlap,
        efficiency,
        units,
        (area, width, speed, n, o, e, u) => {
          const hours = call("PASSTIME", area, width, speed, n, o, e, u);
          expectClose(call("SPEEDFOR", area, width, hours, n, o, e, u), speed);
        },
      ),
    );
  });

  it("PASSTIME of what AREARATE covers in an hour is an hour", () => {
    fc.assert(
      fc.property(positive, positive, overlap, efficiency, units, (width, speed, o, e, u) => {
        expectClose(call("PASSTIME", call("AREARATE", width, speed, o, e, u), width, speed, 1, o, e, u), 1);
      }),
    );
  });

  it("CUTCOEFFICIENT undoes CUTPERPASS", () => {
    fc.assert(
      fc.property(
        positive,
        positive,
        positive,
        positive,
        positive,
        overlap,
        units,
        (k, load, slide, width, speed, o, u) => {
          const cut = call("CUTPERPASS", k, load, slide, width, speed, o, u);
          expectClose(call("CUTCOEFFICIENT", cut, load, slide, width, speed, o, u), k);
        },
      ),
    );
  });

  it("LIFELEFT undoes WEARRATE", () => {
    fc.assert(
      fc.property(positive, positive, positive, units, (end, worn, area, u) => {
        const rate = call("WEARRATE", end + worn, end, area, 1, u);
        // The height worn away is a difference, whose last digits are the sum's.
        expectClose(call("LIFELEFT", end + worn, end, rate, u), area, 1e-9);
      }),
    );
  });

  it("MARGIN undoes PRICEAT", () => {
    fc.assert(
      fc.property(positive, margin, (cost, share) => {
        const back = call("MARGIN", call("PRICEAT", cost, share), cost);
        expect(Math.abs(back - share)).toBeLessThanOrEqual(1e-14 * (1 + Math.abs(share)));
      }),
    );
  });

  it("MARKUPFOR is the MARKUP of PRICEAT", () => {
    fc.assert(
      fc.property(positive, margin, (cost, share) => {
        const markup = call("MARKUP", call("PRICEAT", cost, share), cost);
        const direct = call("MARKUPFOR", share);
        expect(Math.abs(markup - direct)).toBeLessThanOrEqual(1e-13 * (1 + Math.abs(direct)));
      }),
    );
  });
});

describe("monotonicity", () => {
  /** Where one argument of a function grows and the rest stay, which way the answer goes. */
  const GROWS: [id: string, parameter: string, way: 1 | -1][] = [
    ["AREARATE", "speed", 1],
    ["AREARATE", "overlap", -1],
    ["PASSTIME", "area", 1],
    ["PASSTIME", "overlap", 1],
    ["PASSTIME", "efficiency", -1],
    ["SPEEDFOR", "hours", -1],
    ["LANES", "roomWidth", 1],
    ["LANES", "overlap", 1],
    ["LANES", "width", -1],
    ["ROOMTIME", "passes", 1],
    ["ROOMTIME", "turnSeconds", 1],
    ["OPENSHARE", "edgeStrip", -1],
    ["EDGETIME", "edgeRate", -1],
    ["TIPSPEED", "rpm", 1],
    ["SLIDESPEED", "headRadius", 1],
    ["SLIDESPEED", "toolRadius", 1],
    ["PRESSURE", "segments", -1],
    ["CUTPERPASS", "load", 1],
    ["CUTPERPASS", "speed", -1],
    ["CUTCOEFFICIENT", "cut", 1],
    ["PASSESTOCLEAR", "fromScratch", 1],
    ["PASSESTOCLEAR", "cutPerPass", -1],
    ["PASSESTOCLEAR", "minimum", 1],
    ["TOOLSUSED", "life", -1],
    ["TOOLSTOBUY", "passes", 1],
    ["TOOLSTOBUY", "onHand", -1],
    ["TOOLCOST", "price", 1],
    ["WEARRATE", "startHeight", 1],
    ["LIFELEFT", "minimumHeight", -1],
    ["GRINDRATIO", "volumeWorn", -1],
    ["LIQUID", "waste", 1],
    ["CONTAINERS", "volume", 1],
    ["CONTAINERS", "containerSize", -1],
    ["FILM", "coverage", -1],
    ["SPREADRATE", "film", -1],
    ["JOINTFILL", "waste", 1],
    ["DUSTMASS", "depth", 1],
    ["SLURRY", "hours", 1],
    ["GRINDPOWER", "overlap", -1],
    ["SUPPLYPOWER", "powerFactor", 1],
    ["PAIDHOURS", "threshold", -1],
    ["CREWCOST", "burden", 1],
    ["MACHINECOST", "interest", 1],
    ["MACHINECOST", "salvage", -1],
    ["MACHINECOST", "hoursPerYear", -1],
    ["PRICEAT", "margin", 1],
    ["PRICEAT", "minimum", 1],
    ["MARGIN", "cost", -1],
    ["MARKUP", "price", 1],
    ["MARKUPFOR", "margin", 1],
    ["SIZE", "grit", -1],
    ["NEAREST", "size", -1],
    ["STEPCOUNT", "maxRatio", -1],
    ["NOISETIME", "level", -1],
    ["NOISETIME", "criterion", 1],
    ["SHROUDAIR", "diameter", 1],
    ["HANDTIME", "vibration", -1],
    ["HANDTIME", "limit", 1],
  ];

  it.each(GROWS)("%s never turns back as its %s grows (%d)", (id, name, way) => {
    const entry = byId(id);
    const k = entry.params.findIndex((parameter) => parameter.name === name);
    expect(k, `${id} has no parameter ${name}`).toBeGreaterThanOrEqual(0);
    let compared = 0;
    fc.assert(
      fc.property(validArguments(entry), valid(entry.params[k]!), (args, other) => {
        fc.pre(!args.includes("um"));
        const [less, more] = [args[k] as number, other as number].sort((a, b) => a - b);
        const answers = [less, more].map((value) => call(id, ...args.map((arg, i) => (i === k ? value : arg))));
        if (answers.some((answer) => typeof answer !== "number")) return;
        compared++;
        const slack = 1e-12 * Math.max(...answers.map(Math.abs));
        expect(way * (answers[1] - answers[0])).toBeGreaterThanOrEqual(-slack);
      }),
      { numRuns: 150 },
    );
    expect(compared).toBeGreaterThan(20);
  });
});
