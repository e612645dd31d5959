/** Where the engine by itself would calculate otherwise than Excel. */
import { afterAll, describe, expect, it } from "vitest";
import { openWorkbook } from "../../../../addin/preview/host/node";
import { cellsOf } from "./support";

const workbook = await openWorkbook();
const { Excel } = workbook;
const { write, value, rangeAt } = cellsOf(workbook);
afterAll(() => workbook.dispose());

const calculated = async (formula: string) => {
  await write("Z1", [[""]]);
  await write("Z1", [[formula]]);
  return value("Z1");
};

describe("an array constant", () => {
  it.each([
    ['=INDEX({"no: 1, 2 or 3","yes"},1,1)', "no: 1, 2 or 3"],
    ['=INDEX({"no: 1, 2 or 3","yes"},1,2)', "yes"],
    ['=INDEX({"a; b",1;"c",2},2,1)', "c"],
    ['=INDEX({"a; b",1;"c",2},1,2)', 1],
    ['=INDEX({"{a, b}", -2.5, TRUE},1,1)', "{a, b}"],
    ['=INDEX({"{a, b}", -2.5, TRUE},1,2)', -2.5],
    ['=INDEX({"{a, b}", -2.5, TRUE},1,3)', true],
    ['=MATCH("c",{"a, b","c"},0)', 2],
    ['=COLUMNS({"a, b","c","d"})', 3],
    ["=SUM({1,2;3,4})", 10],
  ])("keeps its texts whole: %s", async (formula, expected) => {
    expect(await calculated(formula)).toBe(expected);
  });

  it("holds a number in quotes as text", async () => {
    expect(await calculated('=ISTEXT(INDEX({"12","a, b"},1,1))')).toBe(true);
  });
});

describe("a comparison", () => {
  it("is with what the named cell holds, whatever other formulas calculate", async () => {
    await Excel.run(async (context) => {
      context.workbook.names.add("Passes", rangeAt(context, "B2"));
      await context.sync();
    });
    await write("B2", [[1]]);
    await write("E1:G3", [
      [1, 2, 3],
      [4, 5, 0.5],
      [7, 8, 9],
    ]);
    // Of these, 18 is in the second row and column, as the name's cell is in the sheet's.
    await write("N1", [["=(E1:G3*2)>3"]]);
    await write("J1:J3", [["=IF(ISLOGICAL(N1),Passes>3)"], ["=IF(ISLOGICAL(N1),Passes>3)"], ["=IF(Passes>3,1,0)"]]);
    await write("B2", [["=G2*2"]]);
    await write("G2:G3", [[0.5], [9]]);
    expect([await value("J1"), await value("J2"), await value("J3")]).toEqual([false, false, 0]);
    await write("G2", [[2]]);
    expect([await value("J1"), await value("J2"), await value("J3")]).toEqual([true, true, 1]);
  });

  it.each([
    ["number", 5, [true, true, true]],
    ["text of digits", "'5", [false, false, true]],
    ["text", "five", [false, false, true]],
    ["0", 0, [false, false, false]],
    ["blank", "", [false, false, false]],
  ])("tells numbers and text apart, the second time as the first: %s", async (_, written, expected) => {
    // Excel: a text is more than any number, and equal to none.
    await write("Y1:Y3", [["=Y5=5"], ["=Y5=5"], ["=Y5>3"]]);
    await write("Y5", [[written]]);
    expect([await value("Y1"), await value("Y2"), await value("Y3")]).toEqual(expected);
  });

  it("finds a 0 unlike an empty text, and a blank cell like both", async () => {
    await write("X1:X3", [['=X5=""'], ['=X5=""'], ["=X5=0"]]);
    await write("X5", [[0]]);
    expect([await value("X1"), await value("X2"), await value("X3")]).toEqual([false, false, true]);
    await write("X5", [[""]]);
    expect([await value("X1"), await value("X2"), await value("X3")]).toEqual([true, true, true]);
  });
});
