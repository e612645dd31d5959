/** Rows that add others up: a list that ends in one counts no job twice, and no job vanishes for its client's name. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { jobCheck } from "../../../functions/audit/check";
import { isTotalName, soundsLikeTotal } from "../../../functions/audit/totals";

type Row = readonly unknown[];
const COLUMNS = {
  job: 0,
  quotedPrice: 1,
  actualPrice: 2,
  quotedCost: 3,
  actualCost: 4,
  quotedHours: 5,
  actualHours: 6,
};

/** Four invented jobs, and their sums worked out by hand: 13800.30, 13850.05, 9600.30, 9925.20, 120.5, 131.25. */
const FOUR: readonly Row[] = [
  ["J-1", 4000.1, 4000.1, 2800.1, 2950.05, 40, 44.25],
  ["J-2", 5000.1, 5050.1, 3500.1, 3475.1, 50, 47],
  ["J-3", 2800, 2800, 1900, 2050, 20.5, 29],
  ["J-4", 2000.1, 1999.85, 1400.1, 1450.05, 10, 11],
];
const SUMS = [13800.3, 13850.05, 9600.3, 9925.2, 120.5, 131.25];

function checked(...rows: Row[]) {
  const check = jobCheck(COLUMNS);
  check.add(rows);
  return check.done();
}
const namesOf = (rows: readonly Row[]) => checked(...rows).jobs.map(({ job }) => job);
const ALL_FOUR = ["J-1", "J-2", "J-3", "J-4"];

describe("what a row that adds up is called", () => {
  const CALLED =
    "Total|TOTAL:|Totals 2024|2024 total|Grand total:|Sum:|Sub-total|Subtotal|sub total -|Average|AVG.|All jobs";
  it.each(CALLED.split("|"))("leaves out a row called %s, whatever its figures, and lists its cell", (name) => {
    expect(isTotalName(name)).toBe(true);
    const { jobs, problems } = checked(...FOUR, [name, 1, 2, 3, 4, 5, 6]);
    expect(jobs.map(({ job }) => job)).toEqual(ALL_FOUR);
    expect(problems).toEqual([{ row: 4, key: "job", wrong: { kind: "total", by: "name", name }, effect: "left out" }]);
  });

  it("is not a client's name, which counts and is listed to be looked at", () => {
    const row = ["Total Storage of Elm Street", 900, 900, 600, 650, 10, 11];
    const { jobs, problems } = checked(...FOUR, row);
    expect(jobs.at(-1)!.job).toBe("Total Storage of Elm Street");
    expect(problems.map(({ row, key, effect }) => [row, key, effect])).toEqual([[4, "job", "in doubt"]]);
    for (const client of ["Total Storage of Elm Street", "Sum of Parts Toy Shed", "Average Hen Farm Stand"])
      expect(isTotalName(client)).toBe(false);
    for (const job of ["2401", "Totalwood Barn", "Sumac Road 12", "Overall Mending on Elm Street", "20240"]) {
      expect([isTotalName(job), soundsLikeTotal(job)]).toEqual([false, false]);
    }
  });
});

describe("a row whose every figure is the sum of those above", () => {
  it.each(["Whole year", "J-5", 2025, "Total for March"])("is no job, called %s", (name) => {
    const { jobs, problems } = checked(...FOUR, [name, ...SUMS]);
    expect(jobs.map(({ job }) => job)).toEqual(ALL_FOUR);
    expect(problems).toEqual([
      { row: 4, key: "job", wrong: { kind: "total", by: "figures", name: String(name) }, effect: "left out" },
    ]);
  });

  it("is no job with some of its figures blank, nor without a name, and is listed once", () => {
    expect(namesOf([...FOUR, ["Year", ...SUMS.slice(0, 4), "", ""]])).toEqual(ALL_FOUR);
    const { problems } = checked(...FOUR, ["", ...SUMS]);
    expect(problems).toEqual([{ row: 4, key: "job", wrong: { kind: "total", by: "figures" }, effect: "left out" }]);
  });

  it("is found under each group, and under all of them", () => {
    const add = (...rows: Row[]) => [1, 2, 3, 4, 5, 6].map((at) => rows.reduce((sum, row) => sum + Number(row[at]), 0));
    const [one, two, three, four] = FOUR as [Row, Row, Row, Row];
    const list = [
      one,
      two,
      ["North", ...add(one, two)],
      three,
      four,
      ["South", ...add(three, four)],
      ["Both", ...SUMS],
    ];
    expect(namesOf(list)).toEqual(ALL_FOUR);
  });

  it("counts where it has a job's own number, or is a cent or more off, and is listed to be looked at", () => {
    const numbered = checked(...FOUR, ["J-4", ...SUMS]);
    expect(numbered.jobs).toHaveLength(5);
    expect(numbered.problems.map(({ row, effect }) => [row, effect])).toContainEqual([4, "in doubt"]);
    const off = checked(...FOUR, ["Year", SUMS[0]! + 0.01, ...SUMS.slice(1)]);
    expect(off.jobs).toHaveLength(5);
    expect(off.problems).toEqual([expect.objectContaining({ row: 4, effect: "in doubt" })]);
  });

  it("takes two rows above: the second of two equal jobs counts", () => {
    const [first] = FOUR as [Row];
    expect(namesOf([first, ["J-2", ...first.slice(1)]])).toEqual(["J-1", "J-2"]);
  });

  it("makes a later row of its name none either, which is listed", () => {
    const { jobs, problems } = checked(...FOUR, ["Year", ...SUMS], ["year", 1, 1, 1, 1, 1, 1]);
    expect(jobs).toHaveLength(4);
    expect(problems.map(({ row, wrong, effect }) => [row, wrong, effect])).toEqual([
      [4, { kind: "total", by: "figures", name: "Year" }, "left out"],
      [5, { kind: "total", by: "earlier row", name: "year", of: 4 }, "left out"],
    ]);
  });

  it("is found at the end of any list of jobs, and nothing else is left out of one", () => {
    const money = fc.integer({ min: 1, max: 1e6 }).map((cents) => cents / 100);
    const figures = fc.tuple(money, money, money, money, money, money);
    fc.assert(
      fc.property(fc.array(figures, { minLength: 2, maxLength: 40 }), (jobs) => {
        const list = jobs.map((row, i) => [`J-${i}`, ...row]);
        const sums = [0, 1, 2, 3, 4, 5].map(
          (at) => jobs.reduce((sum, row) => sum + Math.round(row[at]! * 100), 0) / 100,
        );
        // By chance a job could be the sum of two before it in all six figures; the drawn ones are never.
        expect(namesOf([...list, ["Whole lot", ...sums]])).toEqual(list.map(([name]) => name));
      }),
    );
  });
});
