/**
 * Every function against what a copy without the add-in has in its place, calculated by IronCalc: on arguments of every
 * kind the same value, or an error of the same class.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { looksBack } from "../../../addin/share/plain";
import { translate, translation } from "../../../addin/share/translate";
import { CATALOGUE, type Catalogued } from "../../catalogue";
import { reportCompared } from "../../run/compared";
import { type Call, callOf, EXTENTS, isStretched, randomArguments } from "./calls";
import { address, agrees, calculate, isError, type Question, rangeOf, SURROUNDINGS } from "./engine";

const TRANSLATED = CATALOGUE.filter(({ noPlain }) => !noPlain);

let compared = 0;
reportCompared("plain formulas, IronCalc", () => compared);

const shown = (cell: unknown) => (isError(cell) ? cell.code : String(cell));

/** HOURSAT looks at the past jobs first, its plain formula last: where both are bad, it tells the other error. */
const isAnyError = (cell: unknown) => typeof cell === "string" && cell.startsWith("#");

interface Wanted {
  readonly question: Question;
  readonly ours: unknown;
  readonly call: Call;
}

/** Compares cell by cell, and tells the first that differ. */
function compare(calls: readonly Call[], wanted: readonly Wanted[]): void {
  const plain = calculate(
    calls.flatMap(({ blocks }) => blocks),
    wanted.map(({ question }) => question),
  );
  const wrong = wanted.flatMap(({ question, ours, call }, i) => {
    const found = plain[i]![0]![0];
    if (agrees(found, ours) || (isError(ours) && isAnyError(found) && call.formula.includes("HOURSAT("))) return [];
    const told = `${shown(ours)}, plain ${found}: ${call.formula} of ${JSON.stringify(call.passed)}: ${question.formula}`;
    return [told.slice(0, 600)];
  });
  compared += wanted.length;
  expect(wrong.slice(0, 3), `${wrong.length} of ${wanted.length} differ`).toEqual([]);
}

/** Every cell of what the function answers to a call. */
function everyCell(entry: Catalogued, call: Call, row: number, formulaAt: (r: number, c: number) => string): Wanted[] {
  return entry.fn(...call.passed).flatMap((line, r) =>
    line.map((ours, c) => ({
      question: { formula: formulaAt(r, c), row: row + r, column: ANSWER_COLUMN + c, height: 1, width: 1 },
      ours,
      call,
    })),
  );
}

/** Formulas that answer for one cell: where they fill several, each has its own. */
const isCellByCell = (entry: Catalogued) => entry.plain.includes("SUMPRODUCT") || looksBack(entry);
const ANSWER_COLUMN = 60;

const APART = 7;

/** An array formula as it counts in one row and column of its answer. */
function cellOf(formula: string, { blocks }: Call, r: number, c: number): string {
  return blocks.reduce((text, block) => {
    const [height, width] = [block.cells.length, block.cells[0]!.length];
    if (block.isList || (height === 1 && width === 1)) return text;
    const cell = address(block.row + (height === 1 ? 0 : r), block.column + (width === 1 ? 0 : c));
    return text.replaceAll(rangeOf(block), cell);
  }, formula);
}

/**
 * The formula for one cell of those that a call fills. The engine's LOOKUP does not pass over errors, as the others' does, so
 * where a formula looks back for the last good answer, it stands at what the function itself has found good there.
 */
function ownFormula(call: Call, answers: readonly unknown[][], row: number, r: number, c: number): string {
  const place = { row: r, column: c, from: { row: row - 1, column: ANSWER_COLUMN - 1 } };
  const before = answers.flat().slice(0, r + c);
  const good = before.findLastIndex((verdict) => typeof verdict === "string" && verdict !== "");
  return translation(call.formula, SURROUNDINGS, place).plain.replace(
    /LOOKUP\(2,1\/\([^)]*<>""\),\$?([A-Z]+)\$?(\d+):[^)]*\)/g,
    (_, letters: string, top: string) => {
      if (good < 0) return "#N/A";
      const down = r > 0 ? good : 0;
      const column = [...letters].reduce((n, letter) => 26 * n + letter.charCodeAt(0) - 64, 0);
      return address(Number(top) + down, column + good - down);
    },
  );
}

describe("a translated call", () => {
  it.each(TRANSLATED)("of GRIT.$id gives what the function gives, good arguments and bad", (entry) => {
    const sets = fc.sample(randomArguments(entry), { numRuns: 400, seed: 9 });
    const calls = sets.map((args, i) => callOf(entry, args, 1 + i * APART, 1));
    const wanted = calls.flatMap((call, i) => {
      const formula = translate(call.formula, SURROUNDINGS);
      // What spills is entered once, and read where it has spilled to.
      return everyCell(entry, call, 1 + i * APART, (r, c) => (r + c === 0 ? formula : ""));
    });
    expect(wanted.filter(({ ours }) => !isError(ours)).length).toBeGreaterThan(wanted.length / 10);
    compare(calls, wanted);
  });

  // The engine's arrays are not complete (no LOOKUP, no TRIM), so every cell of a spill is calculated by itself: a range
  // in the formula stands for its own cell in that row and column, as it does in an array formula.
  it.each(TRANSLATED.filter(isStretched))(
    "of GRIT.$id on ranges gives what the function gives in every cell",
    (entry) => {
      for (const extents of EXTENTS) {
        const sets = fc.sample(randomArguments(entry, extents), { numRuns: 60, seed: 10 });
        const calls = sets.map((args, i) => callOf(entry, args, 1 + i * APART, 1));
        const wanted = calls.flatMap((call, i) => {
          const row = 1 + i * APART;
          const answers = entry.fn(...call.passed);
          if (isCellByCell(entry)) return everyCell(entry, call, row, (r, c) => ownFormula(call, answers, row, r, c));
          const formula = translate(call.formula, SURROUNDINGS);
          return everyCell(entry, call, row, (r, c) => cellOf(formula, call, r, c));
        });
        compare(calls, wanted);
      }
    },
  );
});
