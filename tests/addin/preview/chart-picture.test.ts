import { describe, expect, it } from "vitest";
import { describe as inWords, type Picture, scaleFor, spansOf } from "../../../addin/preview/chart-picture";

const picture = (stacking: Picture["stacking"], ...rows: (number | null)[][]): Picture => ({
  kind: "column",
  stacking,
  title: "",
  categories: ["Grind", "Polish"],
  series: rows.map((values, i) => ({ name: `Series ${i + 1}`, values })),
  categoryTitle: "",
  valueTitle: "",
  legend: "none",
  reversed: false,
  markers: false,
  labels: false,
  format: String,
});

/** From and to, by series and category. */
const ends = (shown: Picture) => spansOf(shown).map((row) => row.map((span) => span && [span.from, span.to]));

// Every expected value is worked by hand: sums of the whole numbers beside it.
describe("what values take of the axis", () => {
  it("starts at zero where nothing is stacked", () => {
    expect(ends(picture("none", [3, -1], [4, 2]))).toEqual([
      [
        [0, 3],
        [0, -1],
      ],
      [
        [0, 4],
        [0, 2],
      ],
    ]);
  });

  it("starts where the value before ended, values below zero apart from those above", () => {
    expect(ends(picture("stacked", [3, -1], [4, 2], [1, -5]))).toEqual([
      [
        [0, 3],
        [0, -1],
      ],
      [
        [3, 7],
        [0, 2],
      ],
      [
        [7, 8],
        [-1, -6],
      ],
    ]);
  });

  it("is the share of its category's sum in percent", () => {
    // 1/4 and 3/4; 2/10 and 8/10.
    expect(ends(picture("percent", [1, 2], [3, 8]))).toEqual([
      [
        [0, 0.25],
        [0, 0.2],
      ],
      [
        [0.25, 1],
        [0.2, 1],
      ],
    ]);
  });

  it("is nothing where there is no value, and in percent where all are zero", () => {
    expect(ends(picture("stacked", [null, 1], [2, 1]))).toEqual([
      [undefined, [0, 1]],
      [
        [0, 2],
        [1, 2],
      ],
    ]);
    expect(ends(picture("percent", [0, 1]))).toEqual([
      [
        [0, 0],
        [0, 1],
      ],
    ]);
  });
});

describe("the scale", () => {
  const ticksFor = (count: number, ...values: number[]) => scaleFor(spansOf(picture("none", values)), count).ticks;

  it("has round ticks that take in the values and zero", () => {
    expect(ticksFor(5, 960, 300)).toEqual([0, 200, 400, 600, 800, 1000]);
    expect(ticksFor(5, 12, 10)).toEqual([0, 5, 10, 15]);
    expect(ticksFor(4, -30, 70)).toEqual([-50, 0, 50, 100]);
  });

  it("has two ticks at least, also where all values are zero", () => {
    expect(ticksFor(1, 0, 0)).toEqual([0, 1]);
  });
});

describe("the description", () => {
  it("says every value, and where there is none", () => {
    expect(inWords(picture("none", [3, null], [4, 2]))).toBe(
      "Series 1: Grind 3, Polish no value. Series 2: Grind 4, Polish 2.",
    );
  });
});
