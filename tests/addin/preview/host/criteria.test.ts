/** What a criterion finds. Source: Excel's documentation of COUNTIF and SUMIF. */
import { describe, expect, it } from "vitest";
import type { Plain } from "../../../../addin/preview/host/columns";
import { criterionTest } from "../../../../addin/preview/host/criteria";

const CELLS = [3, 5, "5", "metal", "METAL", "metal 30", "", true, null];
const found = (criterion: Plain) => CELLS.filter(criterionTest(criterion)!);

describe("a criterion", () => {
  it("that is a number finds it, typed as a number or as text", () => {
    expect(found(5)).toEqual([5, "5"]);
    expect(found("5")).toEqual([5, "5"]);
    expect(found("=5")).toEqual([5, "5"]);
  });

  it("that compares finds numbers only", () => {
    expect(found("<5")).toEqual([3]);
    expect(found(">=3")).toEqual([3, 5]);
    expect(found("<1E+300")).toEqual([3, 5]);
  });

  it("that is a word finds the whole word in any case", () => {
    expect(found("metal")).toEqual(["metal", "METAL"]);
    expect(found("=Metal")).toEqual(["metal", "METAL"]);
  });

  it("that is a label with a number in it finds the whole label in any case", () => {
    expect(found("metal 30")).toEqual(["metal 30"]);
    expect(found("=METAL 30")).toEqual(["metal 30"]);
    expect(found("<>Metal 30")).toEqual([3, 5, "5", "metal", "METAL", "", true, null]);
  });

  it("that is not a word finds all else, blanks and numbers too", () => {
    expect(found("<>metal")).toEqual([3, 5, "5", "metal 30", "", true, null]);
  });

  it.each([
    "met*",
    "?",
    "<>met*",
    "<>5",
    "",
    "=",
    "10%",
    "1/2/2026",
    "2 May",
    "3 June 2026",
    "10 EUR",
    "TRUE",
    "#N/A",
    ">m",
    " metal",
    true,
    null,
  ])("that is less plain is left to the engine: %j", (criterion) => {
    expect(criterionTest(criterion)).toBeUndefined();
  });
});
