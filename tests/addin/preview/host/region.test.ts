/** The current region, as Ctrl+A finds it in Excel. */
import { expect, it } from "vitest";
import { surroundingRegion } from "../../../../addin/preview/host/region";

/** A drawing of a sheet: "x" is filled. */
const drawn = (...lines: string[]) => {
  const isFilled = (row: number, column: number) => lines[row]?.[column] === "x";
  return (row: number, column: number) => {
    const { row: top, column: left, rows, columns } = surroundingRegion({ row, column, rows: 1, columns: 1 }, isFilled);
    return [top, left, rows, columns];
  };
};

it("ends at blank rows and columns", () => {
  const region = drawn("......", ".xx...", ".xx..x", "......", ".x....");
  expect(region(2, 1)).toEqual([1, 1, 2, 2]);
  expect(region(2, 5)).toEqual([2, 5, 1, 1]);
  expect(region(4, 1)).toEqual([4, 1, 1, 1]);
});

it("takes in what touches at a corner, and gaps that do not reach across", () => {
  expect(drawn("x....", ".x...", "..x..", "...x.")(0, 0)).toEqual([0, 0, 4, 4]);
  expect(drawn("x.x", "x.x", "xxx")(0, 2)).toEqual([0, 0, 3, 3]);
});

it("of a blank cell is what lies around it, or the cell", () => {
  expect(drawn("xx.", "x..", "...")(1, 1)).toEqual([0, 0, 2, 2]);
  expect(drawn("...", "...", "...")(1, 1)).toEqual([1, 1, 1, 1]);
});

it("looks at each cell of a tall list a few times only", () => {
  let looks = 0;
  const isFilled = (row: number, column: number) => {
    looks++;
    return row >= 0 && row < 20_000 && column >= 0 && column < 10;
  };
  const start = { row: 9, column: 4, rows: 1, columns: 1 };
  expect(surroundingRegion(start, isFilled)).toEqual({ row: 0, column: 0, rows: 20_000, columns: 10 });
  expect(looks).toBeLessThan(4 * 200_000);
});
