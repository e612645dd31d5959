/** Formulas that fill a column from columns of a table: as an audit of past jobs uses them. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { FunctionsJson } from "../../../../addin/preview/host/functions";
import { openWorkbook } from "../../../../addin/preview/host/node";
import { cellsOf } from "./support";

const block = { name: "cells", type: "any", dimensionality: "matrix" };
const JSON_TEXT: FunctionsJson = {
  allowErrorForDataTypeAny: true,
  functions: [
    { id: "OVER", parameters: [block, block] },
    { id: "KINDS", parameters: [block] },
  ],
};
const FUNCTIONS = {
  /** Actual less quoted, cell by cell. */
  OVER: (actual: unknown[][], quoted: unknown[][]) =>
    actual.map(([a], i) => [typeof a === "number" ? a - Number(quoted[i]![0]) : Number.NaN]),
  KINDS: (cells: unknown[][]) => cells.flat().map((cell) => [cell === null ? "blank" : typeof cell]),
};

const workbook = await openWorkbook({ functions: FUNCTIONS, functionsJson: JSON_TEXT });
const { Excel } = workbook;
const { write, values, value, rangeAt } = cellsOf(workbook);
afterAll(() => workbook.dispose());

const JOBS = [
  ["Job", "Bond", "Floor area, ft²", "Quoted", "Actual", "Done"],
  ["J1", "metal", 1000, 10, 12, true],
  ["J2", "resin", 2000, 20, 18, false],
  ["J3", "Metal", "n/a", 30, 33, true],
  ["J4", "resin", 4000, 40, "", true],
  ["", "metal", 5000, "=NA()", 50, false],
];

/** The table Jobs on A1:F6 of its own sheet, its first row of hours with a format. */
beforeAll(() =>
  Excel.run(async (context) => {
    const list = context.workbook.worksheets.getActiveWorksheet();
    list.name = "Jobs list";
    list.getRange("A1:F6").formulas = JOBS as string[][];
    list.tables.add("A1:F6", true).name = "Jobs";
    list.getRange("D2:E6").numberFormat = "0.0" as unknown as string[][];
    context.workbook.worksheets.add("Audit").activate();
    await context.sync();
  }),
);

const column = async (formula: string, rows = 5) => {
  await write("Audit!A1:A20", Array(20).fill([""]));
  await write("Audit!A1", [[formula]]);
  return (await values(`Audit!A1:A${rows}`)).flat();
};

describe("a formula over whole columns", () => {
  it("fills a column, from a table or from plain cells", async () => {
    // hand: the cells themselves; a text of words where one stands in the formula.
    expect(await column('=Jobs[Bond]&"!"')).toEqual(["metal!", "resin!", "Metal!", "resin!", "metal!"]);
    expect(await column("='Jobs list'!$C$2:$C$6*2")).toEqual([2000, 4000, "#VALUE!", 8000, 10_000]);
    expect(await column("=Jobs[[Floor area, ft²]]/1000")).toEqual([1, 2, "#VALUE!", 4, 5]);
  });

  it("calculates with blanks as 0, TRUE as 1, and passes errors on", async () => {
    // hand: actual − quoted with the blank as 0; 10 × TRUE; #N/A stays.
    expect(await column("=Jobs[Actual]-Jobs[Quoted]")).toEqual([2, -2, 3, -40, "#N/A"]);
    expect(await column("=Jobs[Quoted]*Jobs[Done]")).toEqual([10, 0, 30, 40, "#N/A"]);
    expect(await column("=100/Jobs[Actual]")).toEqual([100 / 12, 100 / 18, 100 / 33, "#DIV/0!", 2]);
    expect(await column("=50-Jobs[Actual]")).toEqual([38, 32, 17, 50, 0]);
    expect(await column("=-Jobs[Actual]")).toEqual([-12, -18, -33, 0, -50]);
    expect(await column("=ROUND(Jobs[Actual]/7,2)")).toEqual([1.71, 2.57, 4.71, 0, 7.14]);
  });

  it("rounds halves away from 0, as cells on their own do, however near a half the double is", async () => {
    const numbers = [1.005, 2.675, -1.005, 0.125, -2.5, 1234567.895, 1.0049999, 8.125e11, 0];
    // hand: the decimals as typed, halves away from 0.
    const rounded = [1.01, 2.68, -1.01, 0.13, -2.5, 1234567.9, 1, 8.125e11, 0];
    await write(
      "Audit!H1:H9",
      numbers.map((number) => [number]),
    );
    await write(
      "Audit!I1:I9",
      numbers.map((_, i) => [`=ROUND(H${i + 1},2)`]),
    );
    expect(await column("=ROUND($H$1:$H$9,2)", 9)).toEqual(rounded);
    expect((await values("Audit!I1:I9")).flat()).toEqual(rounded);
    expect(await column("=ROUND($H$6:$H$8,-3)", 3)).toEqual([1_235_000, 0, 8.125e11]);
    expect(await column('=ROUND(IF($H$1:$H$3>2,"n/a",$H$1:$H$3),1)', 3)).toEqual([1, "#VALUE!", -1]);
    await write("Audit!H1:I9", Array(9).fill(["", ""]));
  });

  it("says of each cell what it is, and trims its words", async () => {
    await write("Audit!H1:H6", [["  two  words "], ["one"], [12.5], [true], [""], ["=1/0"]]);
    expect(await column("=ISTEXT($H$1:$H$6)", 6)).toEqual([true, true, false, false, false, false]);
    expect(await column("=ISNUMBER($H$1:$H$6)", 6)).toEqual([false, false, true, false, false, false]);
    expect(await column("=ISERROR($H$1:$H$6)", 6)).toEqual([false, false, false, false, false, true]);
    expect(await column("=TRIM($H$1:$H$6)", 6)).toEqual(["two words", "one", "12.5", "TRUE", "", "#DIV/0!"]);
    expect(await column("=TRIM($H$2:$H$3)", 2)).toEqual(["one", "12.5"]);
    await write("Audit!H1:H6", Array(6).fill([""]));
  });

  it("joins words, numbers and blanks, looks for them in a text, and passes errors on", async () => {
    await write("Audit!H1:H4", [["One"], [2.5], [""], ["=1/0"]]);
    expect(await column('="<"&LOWER($H$1:$H$4)&">"', 4)).toEqual(["<one>", "<2.5>", "<>", "#DIV/0!"]);
    expect(await column("=$H$1:$H$4&$H$2:$H$5", 4)).toEqual(["One2.5", "2.5", "#DIV/0!", "#DIV/0!"]);
    // Excel's help on FIND: the place of the first character, in the same case; #VALUE! where it is not there.
    expect(await column('=FIND(Jobs[Bond],"resin, metal")')).toEqual([8, 1, "#VALUE!", 1, 8]);
    expect(await column('=ISNUMBER(FIND(Jobs[Bond],"resin"))')).toEqual([false, true, false, true, false]);
    await write("Audit!H1:H4", Array(4).fill([""]));
  });

  it("finds the rows of its cells among others", async () => {
    await write("Audit!H1:H3", [[5], ["n/a"], [3]]);
    expect(await column("=ROW(Jobs[Bond])")).toEqual([2, 3, 4, 5, 6]);
    // Excel's help on MATCH: the place of the first that is equal; #N/A where there is none.
    expect(await column("=MATCH(ROW(Jobs[Bond]),$H$1:$H$3,0)")).toEqual(["#N/A", 3, "#N/A", 1, "#N/A"]);
    expect(await column("=MATCH(ROW(Jobs[Bond]),{1;2;3},1)")).toEqual([2, 3, 3, 3, 3]);
    await write("Audit!H1:H3", Array(3).fill([""]));
  });

  it("fills nothing where something stands in its way, and fills it once that is gone", async () => {
    await write("Audit!A3", [["mine"]]);
    await write("Audit!A1", [["=Jobs[Bond]"]]);
    await write("Audit!B1", [['=Jobs[Bond]&""']]);
    await write("Audit!B3", [["mine too"]]);
    expect(await values("Audit!A1:B3")).toEqual([
      ["#SPILL!", "#SPILL!"],
      ["", ""],
      ["mine", "mine too"],
    ]);
    await write("Audit!A3:B3", [["", ""]]);
    expect(await values("Audit!A1:B3")).toEqual([
      ["metal", "metal"],
      ["resin", "resin"],
      ["Metal", "Metal"],
    ]);
    await write("Audit!A1:B1", [["", ""]]);
  });

  it("compares numbers, and text in any case", async () => {
    expect(await column('=Jobs[Bond]="METAL"')).toEqual([true, false, true, false, true]);
    expect(await column("=Jobs[Actual]>=18")).toEqual([false, true, true, false, true]);
    expect(await column("=Jobs[Quoted]<25")).toEqual([true, true, false, false, "#N/A"]);
  });

  it("says an error to every comparison, the second as well as the first", async () => {
    await write("Audit!C1:D1", [["=Jobs[Quoted]=10", "=Jobs[Quoted]=20"]]);
    expect((await values("Audit!C5:D5"))[0]).toEqual(["#N/A", "#N/A"]);
    expect((await values("Audit!C1:D2")).flat()).toEqual([true, false, false, true]);
    await write("Audit!C1:D1", [["", ""]]);
  });

  it("chooses row by row, also by what another such formula gives", async () => {
    expect(
      await column('=IF(ISNUMBER(Jobs[Floor area, ft²]),IF(ISNUMBER(Jobs[Quoted]),"yes","left out"),"left out")'),
    ).toEqual(["yes", "yes", "left out", "yes", "left out"]);
    await write("Audit!C1", [['=IF($A$1:$A$5="yes",Jobs[Quoted],"")']]);
    await write("Audit!D1", [["=IFERROR(Jobs[Actual]/Jobs[Quoted],0)"]]);
    expect((await values("Audit!C1:C5")).flat()).toEqual([10, 20, "", 40, ""]);
    expect((await values("Audit!D1:D5")).flat()).toEqual([1.2, 0.9, 1.1, 0, 0]);
    await write("Audit!C1:D1", [["", ""]]);
  });

  it("hands our functions each kind of value, and takes theirs", async () => {
    expect(await column("=GRIT.KINDS(Jobs[Floor area, ft²])")).toEqual([
      "number",
      "number",
      "string",
      "number",
      "number",
    ]);
    expect(await column("=GRIT.KINDS(Jobs[Actual])")).toEqual(["number", "number", "number", "blank", "number"]);
    expect(await column("=GRIT.KINDS(Jobs[Done])")).toEqual(Array(5).fill("boolean"));
    expect(await column("=GRIT.OVER(Jobs[Actual],Jobs[Quoted])")).toEqual([2, -2, 3, "#NUM!", "#NUM!"]);
    expect(await column('=GRIT.OVER((Jobs[Bond]="metal")*Jobs[Actual],Jobs[Quoted])')).toEqual([
      2,
      -20,
      3,
      -40,
      "#NUM!",
    ]);
  });

  it("is calculated anew when one cell changes", async () => {
    await column("=Jobs[Actual]*10");
    await write("Jobs list!E2", [[13]]);
    expect(await value("Audit!A1")).toBe(130);
    await write("Jobs list!E2", [[12]]);
    expect(await value("Audit!A1")).toBe(120);
  });
});

describe("totals over a filled column", () => {
  beforeAll(async () => {
    await write("Audit!F1:G1", [["=Jobs[Actual]/Jobs[Quoted]", "=Jobs[Bond]"]]);
  });

  it.each([
    // hand: 1.2, 0.9, 1.1, 0 and an error.
    ['=SUMIF($F$1:$F$5,"<1E+300")', 3.2],
    ["=COUNT($F$1:$F$5)", 4],
    ['=COUNTIF($F$1:$F$5,">1")', 2],
    ['=SUMIF($G$1:$G$5,"metal",Jobs[Actual])', 12 + 33 + 50],
    ['=SUMIFS(Jobs[Actual],$G$1:$G$5,"metal",Jobs[Actual],">20")', 33 + 50],
    ['=COUNTIFS($G$1:$G$5,"resin",Jobs[Done],TRUE)', 1],
    ['=COUNTIF($G$1:$G$5,"m*")', 3],
    ['=COUNTIF($G$1:$G$5,"<>resin")', 3],
    ['=SUMPRODUCT(($G$1:$G$5="metal")*Jobs[Actual])', 12 + 33 + 50],
    ['=SUMIFS(Jobs[Actual],$G$1:$G$5,"<>metal")', 18],
    ['=MAXIFS(Jobs[Actual],$G$1:$G$5,"metal")', 50],
    ['=MINIFS(Jobs[Actual],$G$1:$G$5,"metal",Jobs[Actual],">12")', 33],
    ['=MAXIFS(Jobs[Actual],$G$1:$G$5,"none")', 0],
    ['=MAXIFS($C$1:$C$1,$G$1:$G$1,"none")', 0],
    // The blank is no number, and no smallest one.
    ['=MINIFS(Jobs[Actual],$G$1:$G$5,"resin")', 18],
    ['=SUMIF(Jobs[Floor area, ft²],"<>n/a")', 12_000],
    ['=SUMIF(Jobs[Actual],"<>none",Jobs[[Floor area, ft²]])', 12_000],
    ["=SUM(IF(ISNUMBER($F$1:$F$5),$F$1:$F$5,0))", 3.2],
    ["=MAX(Jobs[Actual])", 50],
    ["=AVERAGE(Jobs[Actual])", (12 + 18 + 33 + 50) / 4],
    ["=INDEX($G$1:$G$5,2)", "resin"],
    ['=MATCH("resin",$G$1:$G$5,0)', 2],
    ["=ROWS(Jobs)", 5],
    ["=COLUMNS(Jobs)", 6],
    ["=ROWS({1;2;3})", 3],
    ["=ROWS(Jobs[Quoted]*2)", 5],
    ["=COUNT($F$1:INDEX($F$1:$F$9,ROWS(Jobs)))", 4],
  ] as const)("%s", async (formula, expected) => {
    await write("Audit!K1", [[formula]]);
    const given = await value("Audit!K1");
    if (typeof expected === "string") expect(given).toBe(expected);
    else expect(given).toBeCloseTo(expected, 12);
  });

  it("take a criterion from a cell", async () => {
    await write("Audit!K1:L1", [["=COUNTIF($G$1:$G$5,L1)", "metal"]]);
    expect(await value("Audit!K1")).toBe(3);
    await write("Audit!L1", [["resin"]]);
    expect(await value("Audit!K1")).toBe(2);
  });

  it("of a range with an error in it are the error", async () => {
    await write("Audit!K1", [["=SUM($F$1:$F$5)"]]);
    expect(await value("Audit!K1")).toBe("#N/A");
  });
});

describe("a tall column", () => {
  const ROWS = 1200;

  it("is filled past the rows that the grid held, and read from there", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.add("Tall");
      sheet.getRange(`A1:A${ROWS}`).values = Array.from({ length: ROWS }, (_, i) => [i + 1]);
      const other = context.workbook.worksheets.add("Short");
      other.getRange("B5:C5").formulas = [[`=Tall!A1:A${ROWS}*2`, `=B5:B${ROWS + 4}+1`]];
      other.getRange("D1").formulas = [[`=SUM(C5:C${ROWS + 4})`]];
      await context.sync();
    });
    expect((await values(`Short!B${ROWS + 4}:C${ROWS + 4}`))[0]).toEqual([2 * ROWS, 2 * ROWS + 1]);
    // identity: the sum of 2i + 1 for i from 1 to n is n(n + 2).
    expect(await value("Short!D1")).toBe(ROWS * (ROWS + 2));
  });

  it("does not reach past Excel's last row", async () => {
    await Excel.run(async (context) => {
      rangeAt(context, "Short!F1048000").formulas = [[`=Tall!A1:A${ROWS}`]] as string[][];
      await context.sync();
    });
    expect(await value("Short!F1048000")).toBe("#SPILL!");
  });
});
