/**
 * The math behind a cell. What it shows as a formula is entered into IronCalc, which knows nothing of our code, and must
 * come to what the function gives; what else it tells is held against the doc comments and hand arithmetic.
 */
import fc from "fast-check";

import { describe, expect, it } from "vitest";
import { type CallMath, type Found, hasOurs, mathOf, type Surroundings } from "../../../../addin/share/math/call-math";

import { byId, CATALOGUE, type Catalogued, isUnits, validArguments } from "../../../catalogue";
import { reportCompared } from "../../../run/compared";
import { agrees, type Block, type Cell, calculate, isError, rangeOf } from "../engine";

const PLAIN = CATALOGUE.filter(({ noPlain }) => !noPlain);
/** Needs a list to look back in. */
const WALKING = "SEQUENCECHECK";

let compared = 0;
reportCompared("formulas with numbers, IronCalc", () => compared);

const FIRST = { row: 0, column: 0 };

const around = (found: Record<string, Found> = {}, more: Partial<Surroundings> = {}): Surroundings => ({
  functions: CATALOGUE,
  call: (id, args) => byId(id).fn(...args),
  found: (reference) => found[reference] ?? { why: "there is no such name" },
  at: FIRST,
  place: FIRST,
  value: null,
  ...more,
});

const cell = (value: Cell, address?: string): Found => ({ block: [[value]], address });
const column = (...values: Cell[]): Found => ({ block: values.map((value) => [value]) });

/** The math of a formula that is nothing but a call. */
const only = (formula: string, found: Record<string, Found> = {}, more: Partial<Surroundings> = {}): CallMath =>
  mathOf(formula, around(found, more))[0]!;

const shown = ({ args }: CallMath, name: string) => args.find((arg) => arg.name === name)!.value;

/** A formula as the engine takes it: its arrays are not complete, so what is written as one stands in cells. */
function entered(formula: string, row: number): { formula: string; blocks: Block[] } {
  const blocks: Block[] = [];
  const inCells = formula.replace(/\{[^}]*\}/g, (text) => {
    const cells = text
      .slice(1, -1)
      .split(";")
      .map((value) => [Number(value)]);
    const block = { cells, row, column: 20 + blocks.length };
    blocks.push(block);
    return rangeOf(block);
  });
  return { formula: inCells, blocks };
}

const APART = 80;

interface Case {
  readonly formula: string;
  readonly ours: Cell;
  readonly call: string;
}

/** The engine's value of each formula against the function's own. */
function compare(cases: readonly Case[]): void {
  const rows = cases.map(({ formula }, i) => entered(`=${formula}`, 1 + APART * i));
  const answers = calculate(
    rows.flatMap(({ blocks }) => blocks),
    rows.map(({ formula }, i) => ({ formula, row: 1 + APART * i, column: 1, height: 1, width: 1 })),
  );
  cases.forEach(({ formula, ours, call }, i) => {
    compared++;
    const found = answers[i]![0]![0];
    expect(agrees(found, ours), `${call} is ${ours}, and ${formula} is ${found}`).toBe(true);
  });
}

/** A call of the function with each argument in a cell of its own name, and what those cells hold. */
function callOf(entry: Catalogued, values: readonly unknown[]) {
  const found = Object.fromEntries(
    entry.params.map(({ name }, i): [string, Found] => {
      const value = values[i];
      return [
        `In_${name}`,
        { block: (Array.isArray(value) ? value : [[value]]) as Cell[][], address: `Quote!A${i + 1}` },
      ];
    }),
  );
  const parts = entry.params.map(({ name }, i) => (values[i] === undefined ? "" : `In_${name}`));
  const passed = values.map((value, i) =>
    value === undefined ? null : isUnits(entry.params[i]!) || Array.isArray(value) ? value : [[value]],
  );
  return { formula: `=GRIT.${entry.id}(${parts.join(",")})`, found, answer: entry.fn(...passed) };
}

/** A number as one types it: with more digits than a formula shows, a difference of two would be of those digits alone. */
const typed = (value: unknown): unknown => {
  if (Array.isArray(value)) return value.map(typed);
  return typeof value === "number" ? Number(value.toPrecision(12)) : value;
};

/** Good arguments; some of those that may be left out are. */
const someLeftOut = (entry: Catalogued) =>
  validArguments(entry).chain((values) =>
    fc
      .tuple(...entry.params.map(({ optional }) => (optional ? fc.boolean() : fc.constant(false))))
      .map((out) => values.map((value, i) => (out[i] ? undefined : typed(value)))),
  );

describe("the formula with numbers", () => {
  it.each(PLAIN.filter(({ id }) => id !== WALKING))(
    "of GRIT.$id comes to what the function gives, on good arguments",
    (entry) => {
      const sets = fc.sample(someLeftOut(entry), { numRuns: 60, seed: 21 });
      let without = 0;
      const cases = sets.flatMap((values) => {
        const { formula, found, answer } = callOf(entry, values);
        return answer.flatMap((line, row) =>
          line.flatMap((ours: Cell, column): Case[] => {
            const math = only(formula, found, { place: { row, column } });
            if (isError(ours)) {
              expect(math.outcome).toMatchObject({ kind: "error", code: ours.code });
              expect(math.formula).toBeUndefined();
              return [];
            }
            expect(math.outcome.kind).toBe("value");
            if (math.formula === undefined) {
              // Labels of a table, and jobs that are passed over.
              expect(typeof ours).toBe("string");
              without++;
              return [];
            }
            expect(math.formula).not.toMatch(/GRIT|In_|given_|[[\]]/);
            return [{ formula: math.formula, ours, call: `${formula} of ${JSON.stringify(values)}` }];
          }),
        );
      });
      expect(cases.length).toBeGreaterThan(sets.length / 4);
      if (entry.id !== "CALIBRATE") expect(without).toBe(0);
      compare(cases);
    },
  );

  const jobs = fc.array(fc.constantFrom<Cell>(null, 0, 8, 12.5, 20, 33, 41, 47.25), { minLength: 4, maxLength: 7 });
  it.each(["CALIBRATE", "HOURSAT", "OUTLIERS"])("of GRIT.%s has only the jobs that count", (id) => {
    const entry = byId(id);
    const sets = fc.sample(fc.tuple(jobs, fc.array(fc.integer({ min: 5, max: 60 }), { minLength: 7, maxLength: 7 })), {
      numRuns: 60,
      seed: 22,
    });
    const cases = sets.flatMap(([estimated, actual]) => {
      const lists = [estimated, actual.slice(0, estimated.length)].map((list) => list.map((value) => [value]));
      const values = entry.params.map(({ name }) => ({ estimated: lists[0], actual: lists[1], estimate: 40 })[name]);
      const { formula, found, answer } = callOf(entry, values);
      return answer.flatMap((line, row) =>
        line.flatMap((ours: Cell, column): Case[] => {
          const math = only(formula, found, { place: { row, column } });
          if (math.formula === undefined) return [];
          expect(math.formula).not.toMatch(/IFERROR|""/);
          return [{ formula: math.formula, ours, call: `${formula} of ${JSON.stringify(values)}` }];
        }),
      );
    });
    expect(cases.length).toBeGreaterThan(30);
    compare(cases);
  });

  it("of a long list has the list's cells", () => {
    const [estimated, actual] = [12, 20, 8, 30, 16, 24, 40, 10, 18, 22, null, 14]
      .map((hours, i) => [hours, 11 + 2 * i])
      .reduce<[Cell[][], Cell[][]]>(
        ([first, second], [a, b]) => [
          [...first, [a!]],
          [...second, [b!]],
        ],
        [[], []],
      );
    const blocks = [
      { cells: estimated, row: 1, column: 30 },
      { cells: actual, row: 1, column: 31 },
    ];
    const [found, other] = blocks.map((block): Found => ({ block: block.cells, address: rangeOf(block) }));
    for (const [id, place] of [
      ["CALIBRATE", { row: 2, column: 1 }],
      ["HOURSAT", FIRST],
      ["OUTLIERS", { row: 3, column: 0 }],
    ] as const) {
      const entry = byId(id);
      const formula = id === "HOURSAT" ? "=GRIT.HOURSAT(40,E,A)" : `=GRIT.${id}(E,A)`;
      const answer = id === "HOURSAT" ? entry.fn([[40]], estimated, actual) : entry.fn(estimated, actual);
      const math = only(formula, { E: found!, A: other! }, { place });
      expect(math.formula).toContain(rangeOf(blocks[0]!));
      expect(math.notes[0]).toBe(
        "11 of 12 rows count, too many to show, so the formula refers to their cells. Enter it with Ctrl+Shift+Enter.",
      );
      const question = { formula: `=${math.formula}`, row: 40, column: 1, height: 1, width: 1 };
      const ours = answer[place.row]![place.column];
      expect(agrees(calculate(blocks, [question])[0]![0]![0], ours), `${math.formula} is not ${ours}`).toBe(true);
    }
  });

  // Hand: what a person with the doc comment, the table of sieves (ASTM E11) and a pencil writes down.
  it.each([
    ["=GRIT.PASSTIME(4200,28,15,,0.2,0.75)", "4200*1/(28/12*15*60*(1-0.2)*0.75)"],
    ['=GRIT.AREARATE(600,10,0.2,0.8,"metric")', "600/1000*10*60*(1-0.2)*0.8"],
    ["=GRIT.LANES(20,24)", "1+ROUNDUP((20*12-24)/(24*(1-0)),0)"],
    ["=GRIT.PRICEAT(800,0.2,1500)", "MAX(800/(1-0.2),1500)"],
    ["=GRIT.PASSESTOCLEAR(150,40,30)", "MAX(ROUNDUP((150-40)/30,0),1)"],
    ["=GRIT.CONTAINERS(4.2,0.7)", "ROUNDUP(ROUND(4.2/0.7*(1-1E-9),9),0)"],
    ["=GRIT.OPENSHARE(60,20,6)", "(60-2*6/12)/60*(20-2*6/12)/20"],
    ["=GRIT.STEPRATIO(30,60)", "600/250"],
    ["=GRIT.SCRATCH(30)", "0.5*600"],
    ["=GRIT.SIZE(1000)", "15000/1000"],
    ["=GRIT.SIZE(90,{60,300;120,100})", "300*(90/60)^(LN(100/300)/LN(120/60))"],
    ["=GRIT.NEAREST(8)", "IF(8^2<10*5,3000,1500)"],
    ["=GRIT.SLIDESPEED(0,6,600)", "2*PI()*6/12*ABS(600)/1"],
    ["=GRIT.MARGIN(-5+85,100)", "(80-100)/80"],
    ["=GRIT.RATEVARIANCE(7,9,-(-20))", "(7-9)*20"],
    [
      '=GRIT.STEPCHECK(60,50,"metal","hybrid")',
      'IF(ROUND(250/300,9)<0.5,"backwards",IF(ROUND(250/300,9)=0.5,"ok",IF(ROUND(250/300/2.5,9)>1,"too far","ok")))',
    ],
    [
      "=GRIT.HOURSAT(40,{20;12;0},{23;15;9})",
      "40*EXP(AVERAGE(LN({23;15}/{20;12}))+SIGN(0.8-0.5)*TINV(1-ABS(2*0.8-1),2-1)*STDEV(LN({23;15}/{20;12}))*SQRT(1+1/2))",
    ],
  ])("of %s is %s", (call, formula) => {
    expect(only(call).formula).toBe(formula);
  });

  it("is not there for a search, for a label and for a job that is passed over, and says why", () => {
    expect(only("=GRIT.LADDER(30,100)").why).toBe("It has no plain formula: a search over the grits there are.");
    const [found, other] = [column(20, null, 12), column(23, 30, 15)];
    const at = (row: number, c = 0) => ({ place: { row, column: c } });
    expect(only("=GRIT.CALIBRATE(E,A)", { E: found, A: other }, at(1)).why).toBe(
      "It's the label of the number beside it.",
    );
    expect(only("=GRIT.OUTLIERS(E,A)", { E: found, A: other }, at(1)).why).toBe(
      "This job is skipped, so the cell stays blank.",
    );
    expect(only("=GRIT.OUTLIERS(E,A)", { E: found, A: other }, at(2)).formula).toContain("ABS(LN(15/12)-");
  });
});

describe("a list of grits, where its formula looks back", () => {
  const list = { Grits: column(30, null, 60, "x", 400), Bonds: column("metal", "", "metal", "metal", "resin") };
  const isPlain = PLAIN.some(({ id }) => id === WALKING);
  const bond = fc.constantFrom<Cell>(null, "metal", "hybrid", "resin");
  const grit = fc.constantFrom<Cell>(null, "x", 30, 60, 80, 120, 200, 400);

  it.runIf(isPlain)("comes to what the function gives", () => {
    const lists = fc.sample(fc.array(fc.tuple(grit, bond), { minLength: 4, maxLength: 4 }), { numRuns: 60, seed: 23 });
    const cases = lists.flatMap((rows) => {
      const found = {
        Grits: column(...rows.map(([first]) => first)),
        Bonds: column(...rows.map(([, second]) => second)),
      };
      const blocks = Object.values(found).map((one) => (one as { block: Cell[][] }).block);
      return byId(WALKING)
        .fn(...blocks)
        .flatMap(([ours], row): Case[] => {
          const { formula } = only("=GRIT.SEQUENCECHECK(Grits,Bonds)", found, { place: { row, column: 0 } });
          return formula === undefined ? [] : [{ formula, ours, call: `row ${row} of ${JSON.stringify(rows)}` }];
        });
    });
    expect(cases.length).toBeGreaterThan(60);
    compare(cases);
  });

  // Hand: ASTM E11, No. 30 is 600 µm, No. 60 is 250 µm, No. 400 is 38 µm; the text is passed over as a blank is.
  it.runIf(isPlain)("is checked against the last good one before", () => {
    const at = (row: number) => only("=GRIT.SEQUENCECHECK(Grits,Bonds)", list, { place: { row, column: 0 } });
    expect(at(0).why).toBe("It's first in the list, so there's no step to check yet.");
    expect(at(1).why).toBe("Its cell in the list is blank, so it's skipped.");
    expect(at(2).notes[0]).toBe("The step is from grit 30, the last valid one before it.");
    expect(at(2).formula).toContain("600/250");
    expect(at(3).outcome.kind).toBe("error");
    expect(at(4).notes[0]).toBe("The step is from grit 60, the last valid one before it.");
    expect(at(4).formula).toMatch(/^IF\(2-0>1,"add a transitional",.*250\/38/);
    const verdicts = byId("SEQUENCECHECK").fn(...["Grits", "Bonds"].map((name) => (list as any)[name].block));
    compare([2, 4].map((row) => ({ formula: at(row).formula!, ours: verdicts[row]![0], call: `row ${row}` })));
  });
});

describe("what was given", () => {
  it("is shown with its text, its value here and its unit", () => {
    const math = only("=GRIT.PASSTIME(Floor_Area,B2,15*2,,C2,,D2)", {
      Floor_Area: cell(390, "Quote!C5"),
      B2: cell(700),
      C2: cell(0.2),
      D2: cell(" Metric "),
    });
    expect(math.args).toEqual([
      { name: "area", given: "Floor_Area", value: "390 m²" },
      { name: "width", given: "B2", value: "700 mm" },
      { name: "speed", given: "15*2", value: "30 m/min" },
      { name: "passes", given: "", value: "omitted: default 1" },
      { name: "overlap", given: "C2", value: "0.2 (20%)" },
      { name: "efficiency", given: "", value: "omitted: default 1 (100%)" },
      { name: "units", given: "D2", value: "“ Metric ”" },
    ]);
    // Hand: 390 / (0.7 × 30 × 60 × 0.8) = 390 / 1008 h.
    expect(math.outcome).toEqual({ kind: "value", text: "0.386904761904762 h" });
    expect(math.source).toBe(byId("PASSTIME").source);
    expect(math.summary).toBe(byId("PASSTIME").summary);
  });

  it("is in either unit where the function leaves that to the user", () => {
    const math = only("=GRIT.TOOLCOST(5000,4000,360,A1)", { A1: cell(null) });
    expect(shown(math, "area")).toBe("5000 ft² or m²");
    expect(shown(math, "price")).toBe("360 (money)");
    expect(shown(math, "passes")).toBe("blank: type a number, or leave the argument out");
    expect(math.outcome).toMatchObject({ kind: "error", code: "#VALUE!" });
    const left = only("=GRIT.TOOLCOST(5000,4000,360)", {});
    expect(left.outcome).toEqual({ kind: "value", text: "450 (money)" });
  });

  it("says what stands for words and for what hangs on another argument", () => {
    const math = only('=GRIT.SCRATCH(200,"resin")');
    expect(shown(math, "scale")).toBe("omitted: default mesh");
    expect(shown(math, "share")).toBe("omitted: default 0.2 (20%)");
    expect(shown(only("=GRIT.STEPCHECK(30,60)"), "toBond")).toBe("omitted: default the other one's");
    expect(shown(only("=GRIT.LADDER(30,100)"), "available")).toMatch(/^omitted: default 6, 16, 30, .* and 3000$/);
    expect(shown(only("=GRIT.CONTAINERS(5)"), "containerSize")).toBe("omitted, but required");
  });

  it("has a unit wherever its doc comment has one for each system", () => {
    for (const { id, params } of CATALOGUE) {
      for (const { name, unit } of params) {
        if (!unit || unit.us === unit.metric) continue;
        const { us, metric } = unit;
        const call = `=GRIT.${id}(${params.map((other) => (other.name === name ? "1" : "")).join(",")})`;
        const value = shown(only(call), name);
        expect([`1 ${us}`, `1 ${us} or ${metric}`], `${name} of ${id}`).toContain(value);
      }
    }
  });

  it("is looked up in the row and column of a spilled cell, in ranges that stretch", () => {
    const found = { Widths: column(20, 24, 28), Speeds: { block: [[10, 15]] } };
    const math = only("=GRIT.AREARATE(Widths,Speeds)*2", found, { place: { row: 2, column: 1 } });
    expect(math.formula).toBe("28/12*15*60*(1-0)*1");
    expect(math.outcome).toEqual({ kind: "value", text: "2100 ft²/h" });
    expect(math.notes).toEqual([]);
  });

  it("of a call within a sum is the first of its cells, and says so", () => {
    const math = only("=SUM(GRIT.TOOLSUSED(Areas,4000))", { Areas: column(1000, 2000, 3000) });
    expect(math.formula).toBe("1000*1/4000");
    expect(math.notes).toEqual(["It gives 3 values; this is the math for the first."]);
  });

  it("of a table from which INDEX takes several values is that of this cell's value, and says which", () => {
    const jobs = { Hours: column(10, 10, 10), Taken: column(8, 10, 12.5) };
    const at = (column: number) =>
      only("=IF(1<2,INDEX(GRIT.CALIBRATE(Hours,Taken),{1,2,3},2),0)", jobs, { place: { row: 0, column } });
    // By hand, as the function's own doc comment has it: log ratios -ln 1.25, 0 and ln 1.25; t(0.95, 2) by the table.
    expect(at(0).outcome).toEqual({ kind: "value", text: "1" });
    expect(at(1).outcome).toMatchObject({ text: expect.stringMatching(/^0\.68647357189/) });
    expect(at(2).outcome).toMatchObject({ text: expect.stringMatching(/^1\.4567203180/) });
    expect(at(1).notes[0]).toBe("It gives 10 values; this is the math for row 2, column 2, which this cell uses.");
  });

  it("of a column from which INDEX takes one value is that value's", () => {
    const math = only("=INDEX(GRIT.TOOLSUSED(Areas,4000),3)", { Areas: column(1000, 2000, 3000) });
    expect(math.formula).toBe("3000*1/4000");
  });

  it("is the cell of its own row where @ says so", () => {
    const found = { "B2:B4": { ...column(10, 20, 30), from: { row: 1, column: 1 } } };
    const math = only("=GRIT.TOOLSUSED(@B2:B4,5)", found, { at: { row: 2, column: 7 } });
    expect(math.formula).toBe("20*1/5");
  });

  it("keeps the text of what is not known here, with the reason", () => {
    const math = only("=GRIT.CONTAINERS(VLOOKUP(1,A1:B9,2),Can)", { "A1:B9": cell(1) }, { value: 6 });
    expect(math.args.map(({ value }) => value)).toEqual([
      "not known here: only the spreadsheet can calculate VLOOKUP",
      "not known here: there is no such name",
    ]);
    expect(math.formula).toBe("ROUNDUP(ROUND(VLOOKUP(1,A1:B9,2)/Can*(1-1E-9),9),0)");
    // The call is all there is in the cell, so the cell's value is its own.
    expect(math.outcome).toEqual({ kind: "value", text: "6" });
    const within = only("=GRIT.CONTAINERS(VLOOKUP(1,A1:B9,2),5)*3", { "A1:B9": cell(1) });
    expect(within.outcome).toEqual({ kind: "unknown", why: "volume of GRIT.CONTAINERS isn't known here" });
    expect(only("=GRIT.SIZE(Nowhere)").why).toBe("Its grit isn't known here, so neither is its size.");
  });
});

describe("several calls in a formula", () => {
  it("come outermost first, each with what the others give it", () => {
    const formula = "=IF(A1>100,GRIT.CONTAINERS(GRIT.LIQUID(A1,400,2,0.1),5)*B1,GRIT.SIZE(30))";
    const calls = mathOf(formula, around({ A1: cell(5000), B1: cell(80) }));
    expect(calls.map(({ id, used }) => [id, used])).toEqual([
      ["CONTAINERS", "yes"],
      ["LIQUID", "yes"],
      ["SIZE", "no"],
    ]);
    // Hand: 5000 × 2 × 1.1 / 400 = 27.5, in fives 6.
    expect(calls.map(({ formula: shown }) => shown)).toEqual(["ROUNDUP(27.5/5,0)", "5000*2*(1+0.1)/400", undefined]);
    expect(calls[0]!.outcome).toEqual({ kind: "value", text: "6" });
  });

  it("may count or not where the condition is not known", () => {
    const calls = mathOf("=IF(ISEVEN(A1),GRIT.SIZE(30),GRIT.SIZE(60))", around({ A1: cell(2) }));
    expect(calls.map(({ used, outcome }) => [used, outcome])).toEqual([
      ["perhaps", { kind: "value", text: "600 µm" }],
      ["perhaps", { kind: "value", text: "250 µm" }],
    ]);
  });

  it("are read as Excel stores and as people write them", () => {
    expect(only("=_xldudf_GRIT_SIZE (30)").formula).toBe("600");
    expect(only('=_xlfn._xldudf_GRIT_SIZE( 120 , "P" )').formula).toBe("125");
    expect(hasOurs('=SUM(A1)&"GRIT.SIZE(30)"')).toBe(false);
    expect(hasOurs("=-grit.size(30)")).toBe(true);
  });

  // Hand, in the cells of a plan: the tool's row of a shelf, the last number above, a text beside a number.
  it("are followed through the functions that the add-in's own sheets have", () => {
    const found = {
      Tools: column("metal 30", "metal 60"),
      Lives: column(4000, 6000),
      "A1:A4": column("Size", 600, "", 250),
      Tool: cell("METAL 60"),
    };
    const formula =
      '=IF(OR(Tool="densify",Tool="guard"),0,GRIT.TOOLSUSED(LOOKUP(9.99E+307,A1:A4),INDEX(Lives,MATCH(Tool,Tools,0)),MAX(COUNT(A1:A4),N("two"))))';
    expect(only(formula, found).formula).toBe("250*2/6000");
  });
});

describe("an error", () => {
  it("is shown with its code and the function's own message", () => {
    const math = only("=GRIT.AREARATE(20,30,20)");
    expect(math.outcome).toEqual({
      kind: "error",
      code: "#VALUE!",
      message: "overlap must be from 0 to below 1 (20% is 0.2); got 20",
    });
    expect(math.formula).toBeUndefined();
  });

  it("of an input is the input's", () => {
    const math = only("=GRIT.SIZE(A1)", { A1: cell({ code: "#DIV/0!" }) });
    expect(math.args[0]!.value).toBe("#DIV/0!");
    expect(math.outcome).toMatchObject({ kind: "error", code: "#DIV/0!" });
  });

  it("of one part leaves the math of the others", () => {
    const calls = mathOf("=IFERROR(GRIT.SIZE(3),GRIT.SIZE(4))", around());
    expect(calls.map(({ outcome }) => outcome)).toEqual([
      { kind: "error", code: "#N/A", message: "grit 3 is not on the mesh scale, which runs from 4 to 10000" },
      { kind: "value", text: "4750 µm" },
    ]);
  });

  it("is given for a function there is none of", () => {
    expect(only("=GRIT.SIZES(3)").outcome).toEqual({
      kind: "error",
      code: "#NAME?",
      message: "There's no function GRIT.SIZES. Check its name.",
    });
  });
});
