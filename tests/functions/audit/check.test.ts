import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type JobProblem, jobCheck, type Wrong } from "../../../functions/audit/check";
import { JOB_KEYS, type JobKey, jobField } from "../../../functions/audit/fields";
import { problemWords } from "../../../functions/audit/texts";

/** A column for every field, in the order of the fields. */
const COLUMNS = Object.fromEntries(JOB_KEYS.map((key, i) => [key, i])) as Record<JobKey, number>;

const GOOD: Record<JobKey, unknown> = {
  job: "J-1",
  date: 45000,
  area: 5000,
  passes: 7,
  bond: "metal",
  hardness: 5,
  machine: "Machine A, 28 in",
  quotedPrice: 10000,
  actualPrice: 10500,
  quotedCost: 7000,
  actualCost: 7600,
  quotedHours: 40,
  actualHours: 44,
  quotedRate: 50,
  actualRate: 52,
  quotedSets: 2,
  actualSets: 2.5,
  quotedSetPrice: 300,
  actualSetPrice: 310,
  quotedLiquids: 400,
  actualLiquids: 380,
};
const cellsOf = (changed: Partial<Record<JobKey, unknown>>) => JOB_KEYS.map((key) => ({ ...GOOD, ...changed })[key]);

function checked(...rows: (readonly unknown[])[]) {
  const check = jobCheck(COLUMNS);
  check.add(rows);
  return check.done();
}

/** In a list whose headings are in row 1. */
const wordsOf = (problem: JobProblem) => problemWords(problem, (row) => `row ${row + 2}`);

/** The problems of a good row with these cells changed. */
const problemsOf = (changed: Partial<Record<JobKey, unknown>>) => checked(cellsOf(changed)).problems;

/** The same, in words. */
const listed = (changed: Partial<Record<JobKey, unknown>>) =>
  problemsOf(changed).map((problem) => [problem.key, wordsOf(problem), problem.effect]);

describe("a good row", () => {
  it("is a job with all its pairs and no problem", () => {
    expect(checked(cellsOf({}))).toEqual({
      jobs: [
        {
          row: 0,
          job: "J-1",
          date: 45000,
          bond: "metal",
          hardness: 5,
          machine: "Machine A, 28 in",
          area: 5000,
          passes: 7,
          price: { quoted: 10000, actual: 10500 },
          cost: { quoted: 7000, actual: 7600 },
          hours: { quoted: 40, actual: 44 },
          rate: { quoted: 50, actual: 52 },
          sets: { quoted: 2, actual: 2.5 },
          setPrice: { quoted: 300, actual: 310 },
          liquids: { quoted: 400, actual: 380 },
        },
      ],
      problems: [],
      rows: 1,
    });
  });

  it("may leave out all but the name, the prices and the costs", () => {
    const optional = JOB_KEYS.filter((key) => !jobField(key).required);
    const { jobs, problems } = checked(cellsOf(Object.fromEntries(optional.map((key) => [key, ""]))));
    expect(problems).toEqual([]);
    expect(jobs).toEqual([
      { row: 0, job: "J-1", passes: 1, price: { quoted: 10000, actual: 10500 }, cost: { quoted: 7000, actual: 7600 } },
    ]);
  });

  it("may have a number for a name, and no cost, sets or liquids at all", () => {
    const none = { quotedCost: 0, actualCost: 0, quotedSets: 0, actualSets: 0, quotedLiquids: 0, actualLiquids: 0 };
    const { jobs, problems } = checked(cellsOf({ job: 1042, machine: 780, ...none }));
    expect(problems).toEqual([]);
    expect(jobs[0]).toMatchObject({ job: "1042", machine: "780", cost: { quoted: 0, actual: 0 } });
  });

  it("is read without the spaces around its names", () => {
    expect(checked(cellsOf({ job: " J-1 ", bond: "resin ", machine: "  " })).jobs[0]).toMatchObject({
      job: "J-1",
      bond: "resin",
      machine: undefined,
    });
  });
});

describe("a bad cell that every figure needs", () => {
  const LEFT_OUT: [key: JobKey, cell: unknown, reason: string][] = [
    ["job", "", "Job is missing. It must be a name or a number."],
    ["job", "   ", "Job is missing. It must be a name or a number."],
    ["job", "#REF!", "Job must be a name or a number; got the error #REF!."],
    ["job", true, "Job must be a name or a number; got TRUE."],
    ["quotedPrice", "", "Quoted price is missing. It must be above 0."],
    ["actualPrice", null, "Actual price is missing. It must be above 0."],
    ["quotedCost", undefined, "Quoted cost is missing. It must be 0 or more."],
    ["quotedPrice", 0, "Quoted price must be above 0; got 0."],
    ["actualCost", -1, "Actual cost must be 0 or more; got -1."],
    ["quotedPrice", "n/a", 'Quoted price must be above 0; got the text "n/a".'],
    ["quotedPrice", "#N/A", "Quoted price must be above 0; got the error #N/A."],
    ["quotedPrice", "#DIV/0!", "Quoted price must be above 0; got the error #DIV/0!."],
    ["quotedPrice", " ", 'Quoted price must be above 0; got the text " ".'],
    ["quotedPrice", true, "Quoted price must be above 0; got TRUE."],
    ["quotedPrice", Number.POSITIVE_INFINITY, "Quoted price must be above 0; got Infinity."],
    ["quotedPrice", Number.NaN, "Quoted price must be above 0; got NaN."],
  ];
  for (const [key, cell, reason] of LEFT_OUT) {
    it(`leaves the row out: ${reason}`, () => {
      expect(listed({ [key]: cell })).toEqual([[key, reason, "left out"]]);
      expect(checked(cellsOf({ [key]: cell })).jobs).toEqual([]);
    });
  }

  it("makes the other bad cells of its row left out too", () => {
    expect(listed({ quotedPrice: "", actualHours: 0 })).toEqual([
      ["quotedPrice", "Quoted price is missing. It must be above 0.", "left out"],
      ["actualHours", "Actual hours must be above 0; got 0.", "left out"],
    ]);
  });

  it("is one that has no column", () => {
    const check = jobCheck({ ...COLUMNS, actualPrice: undefined });
    check.add([cellsOf({})]);
    expect(check.done().jobs).toEqual([]);
    expect(check.done().problems).toEqual([
      { row: 0, key: "actualPrice", wrong: { kind: "missing" }, effect: "left out" },
    ]);
  });
});

describe("a text for a number", () => {
  const MEANT: [text: string, number: string][] = [
    ["1200", "1200"],
    ["$1,200", "1200"],
    ["$ 1,200.50", "1200.5"],
    ["1,234,567", "1234567"],
    ["US$950", "950"],
    ["USD 950", "950"],
    ["950 €", "950"],
    ["1.200,50 €", "1200.5"],
    ["12,5", "12.5"],
    ["1 200", "1200"],
    ["1\u00a0200", "1200"],
    ["1'200", "1200"],
    ["40 h", "40"],
    ["40 hrs.", "40"],
  ];
  for (const [text, number] of MEANT) {
    it(`"${text}" comes with the number to type`, () => {
      const reason = `Actual price must be above 0; got the text "${text}". Enter the number ${number} (format General, not Text).`;
      expect(listed({ actualPrice: text })).toEqual([["actualPrice", reason, "left out"]]);
    });
  }

  it("comes without one where it may mean two, or none that is allowed", () => {
    for (const text of ["1.200", "€1.200", "1,20,0", "8:30", "40-44", "about 40", "-5", "0 h", "40 (2 men)", "1e3"]) {
      const reason = `Actual hours must be above 0; got the text "${text}".`;
      expect(listed({ actualHours: text })).toEqual([["actualHours", reason, "counted"]]);
    }
  });
});

describe("a bad cell that some figures can do without", () => {
  const COUNTED: [key: JobKey, cell: unknown, reason: string][] = [
    ["quotedHours", 0, "Quoted hours must be above 0; got 0."],
    ["actualHours", -2, "Actual hours must be above 0; got -2."],
    ["actualRate", -1, "Actual labor rate must be 0 or more; got -1."],
    ["actualSets", "two", 'Actual sets must be 0 or more; got the text "two".'],
    ["actualHours", "", "Actual hours is missing. Quoted hours can't be used without it."],
    ["quotedLiquids", null, "Quoted liquids is missing. Actual liquids can't be used without it."],
    ["area", 0, "Floor area must be above 0; got 0."],
    ["passes", 0, "Passes must be above 0; got 0."],
    ["hardness", 11, "Slab hardness must be from 1 to 10 on the Mohs scale; got 11."],
    ["hardness", "hard", 'Slab hardness must be from 1 to 10 on the Mohs scale; got the text "hard".'],
    ["bond", "#NAME?", "Bond must be a name or a number; got the error #NAME?."],
    ["machine", false, "Machine must be a name or a number; got FALSE."],
    ["date", "3/4/2026", 'Date must be a date; got the text "3/4/2026". Enter it again as a date.'],
    ["date", "#VALUE!", "Date must be a date; got the error #VALUE!."],
    ["date", 0, "Date must be a date; got 0."],
    ["date", 20260304, "Date must be a date; got 20260304."],
  ];
  for (const [key, cell, reason] of COUNTED) {
    it(`is listed, and the job counts: ${reason}`, () => {
      expect(listed({ [key]: cell })).toEqual([[key, reason, "counted"]]);
      expect(checked(cellsOf({ [key]: cell })).jobs).toHaveLength(1);
    });
  }

  it("takes its pair out and leaves the others", () => {
    const [job] = checked(cellsOf({ quotedHours: 0, actualSetPrice: "" })).jobs;
    expect(job).toMatchObject({ rate: { quoted: 50, actual: 52 }, sets: { quoted: 2, actual: 2.5 } });
    expect(job!.hours).toBeUndefined();
    expect(job!.setPrice).toBeUndefined();
  });

  it("takes the area out where it is the passes, for how much floor was worked is then unknown", () => {
    const [job] = checked(cellsOf({ passes: "several" })).jobs;
    expect(job!.area).toBeUndefined();
    expect(checked(cellsOf({ passes: "" })).jobs[0]).toMatchObject({ area: 5000, passes: 1 });
  });
});

describe("a bad cell", () => {
  const TYPED: [key: JobKey, cell: unknown, wrong: Wrong][] = [
    ["quotedPrice", "", { kind: "missing" }],
    ["actualHours", "", { kind: "halfMissing", other: "quotedHours" }],
    ["actualPrice", "$1,200", { kind: "badValue", got: "$1,200", meant: 1200 }],
    ["actualPrice", "1.200", { kind: "badValue", got: "1.200" }],
    ["date", "3/4/2026", { kind: "badValue", got: "3/4/2026" }],
    ["bond", "#N/A", { kind: "badValue", got: "#N/A" }],
  ];
  it.each(TYPED)("of %s with %j has a typed reason, whose words are made elsewhere", (key, cell, wrong) => {
    expect(problemsOf({ [key]: cell }).map((problem) => problem.wrong)).toEqual([wrong]);
  });
});

describe("a row that adds others up, or may", () => {
  const total = (wrong: Wrong) => wordsOf({ row: 9, key: "job", wrong, effect: "left out" });
  it("is called a total row, with what it is known by", () => {
    expect(total({ kind: "total", by: "name", name: "Total" })).toBe('"Total" is a total row, not a job.');
    expect(total({ kind: "total", by: "figures", name: "Year" })).toBe(
      '"Year" adds up the rows above: a total row, not a job.',
    );
    expect(total({ kind: "total", by: "figures" })).toBe(
      "This row has no job name and adds up the rows above: a total row, not a job.",
    );
    expect(total({ kind: "total", by: "earlier row", name: "year", of: 4 })).toBe(
      '"year" is a total row, as is row 6 with the same name.',
    );
    expect(total({ kind: "maybeTotal", by: "name", name: "Total Storage of Elm Street" })).toBe(
      '"Total Storage of Elm Street" may be a total row: its name reads like one. If it is, name it "Total".',
    );
    expect(total({ kind: "maybeTotal", by: "figures", name: "J-9" })).toBe(
      '"J-9" may be a total row: its figures are close to the sums of the rows above. If it is, name it "Total".',
    );
  });
});

describe("a list", () => {
  const blank = JOB_KEYS.map(() => "");

  it("lists its blank rows, each once", () => {
    const { jobs, problems, rows } = checked(cellsOf({}), blank, [], cellsOf({ job: "J-2" }));
    expect(jobs.map(({ row, job }) => [row, job])).toEqual([
      [0, "J-1"],
      [3, "J-2"],
    ]);
    const whole = { key: null, wrong: { kind: "blankRow" }, effect: "left out" };
    expect(problems).toEqual([
      { row: 1, ...whole },
      { row: 2, ...whole },
    ]);
    expect(rows).toBe(4);
  });

  it("lists repeated job numbers with other cells and the first row, and counts them", () => {
    const rows = ["A-1", 1042, "a-1 ", "1042", "A-1"].map((job, i) => cellsOf({ job, actualPrice: 10500 + 7 * i }));
    const { jobs, problems } = checked(...rows);
    expect(jobs).toHaveLength(5);
    const repeat = (row: number, name: string, of: number): JobProblem => ({
      ...{ row, key: "job", effect: "in doubt" },
      wrong: { kind: "nameTaken", name, of },
    });
    expect(problems).toEqual([repeat(2, "a-1", 0), repeat(3, "1042", 1), repeat(4, "A-1", 0)]);
    expect(wordsOf(problems[0]!)).toBe(
      '"a-1" is also the job in row 2, with other figures. Give each job its own name.',
    );
  });

  it("counts a duplicate row once, lists the second, and takes one cell's difference for another job", () => {
    const first = cellsOf({ job: "J-1" });
    const rows = [first, cellsOf({ job: "J-2" }), [...first], cellsOf({ job: "J-1", actualHours: 45 }), [...first]];
    const { jobs, problems } = checked(...rows);
    expect(jobs.map(({ row }) => row)).toEqual([0, 1, 3]);
    const again = (row: number): JobProblem => ({
      ...{ row, key: "job", effect: "left out" },
      wrong: { kind: "duplicate", name: "J-1", of: 0 },
    });
    expect(problems.filter(({ effect }) => effect === "left out")).toEqual([again(2), again(4)]);
    expect(wordsOf(again(2))).toBe('"J-1" appears more than once. This row is the same as row 2 in every cell.');
    expect(problems.filter(({ effect }) => effect === "in doubt").map(({ row }) => row)).toEqual([3]);
  });

  it("does not take a fixed row for the same as the one with the text for a number, nor two with an error", () => {
    const fixed = checked(cellsOf({ actualPrice: "10500" }), cellsOf({ actualPrice: 10500 }));
    expect(fixed.jobs.map(({ row }) => row)).toEqual([1]);
    expect(fixed.problems.some(({ wrong }) => wrong.kind === "duplicate")).toBe(false);
    const errors = checked(cellsOf({ bond: "#N/A" }), cellsOf({ bond: "#N/A" }));
    expect(errors.jobs).toHaveLength(2);
  });

  it("reads its columns wherever they are", () => {
    const check = jobCheck({ actualCost: 0, quotedCost: 2, actualPrice: 3, quotedPrice: 4, job: 6 });
    check.add([[90, "a note", 80, 110, 100, 0, "J-9"]]);
    expect(check.done()).toEqual({
      jobs: [{ row: 0, job: "J-9", passes: 1, price: { quoted: 100, actual: 110 }, cost: { quoted: 80, actual: 90 } }],
      problems: [],
      rows: 1,
    });
  });

  const cell = fc.oneof(
    fc.constantFrom<unknown>("", null, 0, -1, 5, 1200, "$1,200", "n/a", "#N/A", true, "metal", " ", 45000),
    fc.double(),
  );
  const anyRow = fc.oneof(
    fc.array(cell, { minLength: JOB_KEYS.length, maxLength: JOB_KEYS.length }),
    fc.tuple(fc.constantFrom(...JOB_KEYS), cell).map(([key, value]) => cellsOf({ [key]: value })),
  );
  const anyList = fc.array(anyRow, { maxLength: 12 });

  it("says the same whether it comes at once or in blocks, and nothing in it is changed", () => {
    fc.assert(
      fc.property(anyList, fc.integer({ min: 1, max: 5 }), (rows, size) => {
        const before = structuredClone(rows);
        const inBlocks = jobCheck(COLUMNS);
        for (let i = 0; i < rows.length; i += size) inBlocks.add(rows.slice(i, i + size));
        expect(inBlocks.done()).toEqual(checked(...rows));
        expect(rows).toEqual(before);
      }),
    );
  });

  it("drops no row in silence: each is a job or is listed as left out, never both", () => {
    fc.assert(
      fc.property(anyList, (rows) => {
        const { jobs, problems } = checked(...rows);
        const counting = new Set(jobs.map((job) => job.row));
        const leftOut = new Set(problems.filter(({ effect }) => effect === "left out").map(({ row }) => row));
        for (const row of rows.keys()) expect(counting.has(row)).toBe(!leftOut.has(row));
      }),
    );
  });
});
