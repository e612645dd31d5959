/** Sheets to choose from, and what making copies has shown. */
import type { Made } from "../../../../addin/pane/share/state";
import type { SheetFound } from "../../../../addin/sheet";

export const found = (name: string, more: Partial<SheetFound> = {}): SheetFound => ({
  name,
  visible: true,
  used: "A1:D20",
  ...more,
});

export const worded = (text: string) => ({ kind: text, facts: {}, text });

const kept = (sheet: string, place: string, reason: string) => ({
  sheet,
  place,
  reason: worded(reason),
  formula: "=GRIT.LADDER(30)",
});

export const CALCULATING = {
  kind: "calculating",
  report: {
    formulas: 12,
    functions: { PASSTIME: 8, AREARATE: 4 },
    values: [
      kept("Plan", "C4", "it is a search"),
      kept("", "the name Rate", "it has no plain formula"),
      kept("Plan", "C5", "it is a search"),
    ],
    sheets: ["Reference", "About this copy"],
    removed: [],
    errors: 0,
  },
} as const satisfies Made;

const counts = { formulas: 4, unknown: 0, hiddenGone: 0, hiddenKept: 0, errors: 0, pictures: 0 };

export const PRICE: Extract<Made, { kind: "price" }> = {
  kind: "price",
  report: {
    sheets: [
      { ...counts, name: "Quote", cells: 30 },
      { ...counts, name: "Terms", cells: 1204 },
    ],
    gone: ["Costs"],
    without: [{ kind: "names", what: "names", count: 2 }],
    cautions: [],
  },
  costWords: [],
};
