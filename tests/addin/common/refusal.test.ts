/** A refusal has a typed reason beside its words, and a yes counts only for what was asked. */
import { describe, expect, it } from "vitest";
import { Gone, isAgreed, NeedsAnswer, needYes, questionsOf, Refusal, refusalsOf } from "../../../addin/common/refusal";

const refuse = refusalsOf({
  sheetProtected: () => "This sheet is protected.",
  tableInTheWay: ({ table, at }: { table: string; at: string }) => `The table ${table} overlaps ${at}.`,
});
const ask = questionsOf({
  overCells: ({ at, filled }: { at: string; filled: number }) => [
    `${at} has ${filled} filled cells.`,
    "Write over them?",
  ],
  undoChanged: ({ places }: { places: readonly string[] }) => [`You changed ${places.join(", ")}.`, "Remove it?"],
});

describe("a refusal", () => {
  it("has its words and what they were made of", () => {
    const refused = refuse("tableInTheWay", { table: "Quotes", at: "Sheet1!B4" });
    expect(refused).toBeInstanceOf(Refusal);
    expect(refused.message).toBe("The table Quotes overlaps Sheet1!B4.");
    expect(refused.reason).toEqual({ kind: "tableInTheWay", facts: { table: "Quotes", at: "Sheet1!B4" } });
    expect(refuse("sheetProtected").reason).toEqual({ kind: "sheetProtected", facts: {} });
  });

  it("is of the kind of its area", () => {
    const gone = refusalsOf({ nothing: () => "Nothing is left." }, Gone);
    expect(gone("nothing")).toBeInstanceOf(Gone);
  });
});

describe("a yes", () => {
  const { asked } = ask("overCells", { at: "Sheet1!B4", filled: 2 });

  it.each([
    ["counts for the same question", ask("overCells", { at: "Sheet1!B4", filled: 2 }), true],
    ["does not count for other cells", ask("overCells", { at: "Sheet1!B5", filled: 2 }), false],
    ["does not count for more of them", ask("overCells", { at: "Sheet1!B4", filled: 3 }), false],
    ["does not count for another question", ask("undoChanged", { places: ["Sheet1!B4"] }), false],
  ])("%s", (_, question, counts) => {
    expect(isAgreed(asked, question.asked)).toBe(counts);
    const go = () => needYes(asked, question);
    if (counts) expect(go).not.toThrow();
    else expect(go).toThrow(question);
  });

  it("to everything counts for all, and none for nothing", () => {
    expect(isAgreed(true, asked)).toBe(true);
    expect(isAgreed(false, asked)).toBe(false);
  });

  it("compares lists by what is in them, not by the sentence they make", () => {
    const places = (...given: string[]) => ask("undoChanged", { places: given });
    expect(isAgreed(places("A", "B").asked, places("A", "B").asked)).toBe(true);
    const merged = places("A, B");
    expect(merged.message).toBe(places("A", "B").message);
    expect(isAgreed(places("A", "B").asked, merged.asked)).toBe(false);
  });

  it("is asked for with what is at stake and what to answer", () => {
    const question = ask("overCells", { at: "Sheet1!B4", filled: 2 });
    expect(question).toBeInstanceOf(NeedsAnswer);
    expect(question).toMatchObject({ message: "Sheet1!B4 has 2 filled cells.", question: "Write over them?" });
  });
});
