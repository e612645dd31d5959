/** The Share view's state, without a page and without a workbook. Every expected value is worked out by hand. */
import { describe, expect, it } from "vitest";
import { cutOff } from "../../../../addin/common/count";
import {
  addRange,
  chooseKind,
  isCovered,
  keepOf,
  openTrouble,
  removeRange,
  shareTrouble,
  sheetsInOrder,
  takeSheets,
  tick,
} from "../../../../addin/pane/share/choice";
import { doSame, isoDay, madeDigest, takeMade, valuesByReason, worriesOf } from "../../../../addin/pane/share/made";
import { type Made, type ShareState, startShare } from "../../../../addin/pane/share/state";
import { CALCULATING, found, PRICE, worded } from "./fixtures";

const SHEETS = [found("Rates", { visible: false }), found("Quote"), found("Costs"), found("Old", { visible: false })];
const LISTED = takeSheets(startShare(), SHEETS);
const priced = (change: Partial<ShareState> = {}): ShareState => ({ ...LISTED, kind: "price", ...change });
const A1 = { sheet: "Quote", range: "A1:B9" };

describe("the choice", () => {
  it("begins with a calculating copy, and with nothing ticked that a partner could see by mistake", () => {
    expect(LISTED).toMatchObject({ kind: "calculating", ticked: [], ranges: [], made: null });
    expect(shareTrouble(LISTED)).toBe("");
  });

  it("lists visible sheets before hidden ones, else as the workbook has them", () => {
    expect(sheetsInOrder(LISTED).map(({ name }) => name)).toEqual(["Quote", "Costs", "Rates", "Old"]);
  });

  it("of nothing is no price-only copy", () => {
    expect(shareTrouble(priced())).toBe("Choose a sheet or a range first.");
    expect(openTrouble(priced())).toBe("Choose a sheet or a range first.");
  });

  it("keeps whole sheets, and ranges of other sheets", () => {
    const both = addRange(addRange(tick(priced(), "Costs", true), A1), { sheet: "Costs", range: "C3" });
    expect(keepOf(both)).toEqual([{ sheet: "Costs" }, A1]);
    expect(both.ranges.map((cells) => isCovered(both, cells))).toEqual([false, true]);
    expect(keepOf(tick(both, "Costs", false))).toEqual([A1, { sheet: "Costs", range: "C3" }]);
  });

  it("takes a sheet and a range once, and lets them go again", () => {
    const twice = addRange(addRange(tick(tick(priced(), "Quote", true), "Quote", true), A1), { ...A1 });
    expect(twice).toMatchObject({ ticked: ["Quote"], ranges: [A1] });
    expect(tick(removeRange(twice, { ...A1 }), "Quote", false)).toMatchObject({ ticked: [], ranges: [] });
  });

  it("of a sheet that is gone is chosen no more", () => {
    const chosen = tick(tick(addRange(priced({ made: PRICE }), A1), "Costs", true), "Rates", true);
    const left = takeSheets({ ...chosen, made: PRICE }, [found("Rates")]);
    expect(left).toMatchObject({ ticked: ["Rates"], ranges: [], made: null });
  });

  it("stands, and so does what was shown for it, when the sheets are still there", () => {
    const chosen = { ...addRange(priced(), A1), made: PRICE };
    expect(takeSheets(chosen, [...SHEETS, found("New")])).toMatchObject({ ranges: [A1], made: PRICE });
  });
});

describe("what was shown", () => {
  const shown = { ...addRange(tick(priced(), "Quote", true), A1), made: PRICE };

  it.each([
    ["another kind of copy", chooseKind(shown, "calculating")],
    ["another sheet", tick(shown, "Costs", true)],
    ["another range", addRange(shown, { sheet: "Quote", range: "D4" })],
    ["one range fewer", removeRange(shown, A1)],
  ])("says nothing any more after %s was chosen, so the copy cannot be opened", (_, share) => {
    expect(share.made).toBeNull();
    expect(openTrouble(share)).toBe("See what will happen first.");
  });

  it("stays when the same is chosen again", () => {
    expect(chooseKind(shown, "price").made).toBe(PRICE);
    expect(addRange(shown, { ...A1 }).made).toBe(PRICE);
    expect(openTrouble(shown)).toBe("");
  });

  it("is dropped where the user chose otherwise while it was made", () => {
    expect(takeMade(shown, { ...shown }, PRICE).made).toBe(PRICE);
    expect(takeMade(tick(shown, "Costs", true), shown, PRICE).made).toBeNull();
    expect(takeMade(chooseKind(shown, "calculating"), shown, PRICE).made).toBeNull();
  });

  it("is the same as another only when everything told is the same", () => {
    expect(doSame(CALCULATING, structuredClone(CALCULATING))).toBe(true);
    const report = { ...CALCULATING.report, formulas: 13 };
    expect(doSame(CALCULATING, { kind: "calculating", report })).toBe(false);
    expect(doSame(CALCULATING, PRICE)).toBe(false);
  });

  it("is told in a sentence", () => {
    expect(madeDigest(CALCULATING)).toBe("12 formulas converted, 3 formulas turned into a value");
    expect(madeDigest({ kind: "calculating", report: { ...CALCULATING.report, formulas: 1, values: [] } })).toBe(
      "1 formula converted, none turned into a value",
    );
    // 30 and 1204 cells.
    expect(madeDigest(PRICE)).toBe("1,234 cells kept on 2 sheets, 1 sheet removed");
  });
});

describe("what needs a yes", () => {
  const withWords = (costWords: string[], cautions: string[] = []): Made => ({
    ...PRICE,
    report: { ...PRICE.report, cautions: cautions.map(worded) },
    costWords,
  });

  it("is nothing in a calculating copy, which shows all by its nature, unless values are errors", () => {
    expect(worriesOf(CALCULATING)).toEqual([]);
    const withErrors = (errors: number) =>
      worriesOf({ kind: "calculating", report: { ...CALCULATING.report, errors } });
    expect(withErrors(1)).toEqual([
      "1 cell that becomes a value shows an error, such as #NAME?, and so will the copy.",
    ]);
    expect(withErrors(1200)[0]).toMatch(/^1,200 cells that become values show an error/);
  });

  it("is every caution of the report, and words that sound like costs", () => {
    expect(worriesOf(withWords([]))).toEqual([]);
    expect(worriesOf(withWords(["Total cost"], ["Two cells are hidden."]))).toEqual([
      "Two cells are hidden.",
      "These texts in the copy sound like costs or margin: “Total cost”.",
    ]);
  });

  it("names six of the words, and the number of the others", () => {
    const words = ["a", "b", "c", "d", "e", "f", "g", "h"].map((letter) => `cost ${letter}`);
    expect(worriesOf(withWords(words))[0]).toMatch(/“cost a”, .*“cost f”, 2 more\.$/);
  });
});

it("values are told by their reason, each place once", () => {
  expect(valuesByReason(CALCULATING.report)).toEqual([
    { reason: "it is a search", places: ["Plan!C4:C5"] },
    { reason: "it has no plain formula", places: ["the name Rate"] },
  ]);
});

it("cells that follow each other down a column are told as one, and no others", () => {
  const at = (sheet: string, place: string) => ({
    sheet,
    place,
    formula: "=GRIT.LADDER(30)",
    reason: worded("a search"),
  });
  const values = [
    at("P", "C4"),
    at("P", "D4"),
    at("P", "C5"),
    at("P", "D6"),
    at("Q", "C6"),
    at("P", "C6"),
    at("", "Rate"),
  ];
  expect(valuesByReason({ ...CALCULATING.report, values })).toEqual([
    { reason: "a search", places: ["P!C4:C6", "P!D4", "P!D6", "Q!C6", "Rate"] },
  ]);
});

it("a list is cut off with the number of what is left out", () => {
  expect(cutOff(["a", "b"], 2)).toBe("a, b");
  expect(cutOff(["a", "b", "c", "d"], 2)).toBe("a, b and 2 more");
});

it("a day is written as year, month and day, by the user's own clock", () => {
  expect(isoDay(new Date(2026, 2, 9, 23, 59))).toBe("2026-03-09");
});
