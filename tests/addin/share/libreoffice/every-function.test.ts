/**
 * Every function in a copy without the add-in, calculated by LibreOffice: on arguments of every kind the same value as
 * the function gives, or an error of the same class; and again after the arguments in the copy are changed.
 * GRIT_CASES=20000 tries as many sets of arguments for each function.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { calculatingCopy } from "../../../../addin/share/calculating-copy";
import { CATALOGUE } from "../../../catalogue";
import { reportCompared } from "../../../run/compared";
import type { Call } from "../calls";
import { book, unzipped, zipped } from "../copy-files";
import { type Block, type Cell, isError } from "../engine";
import {
  type Asked,
  answer,
  answerAddress,
  argumentCells,
  askEveryFunction,
  cellXml,
  sheetsOf,
  TRANSLATED,
} from "./every-function";
import { isSame, recalculated, type Sheets } from "./soffice";

const SETS = Number(process.env.GRIT_CASES ?? 600);

const OPTIONS = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [] };

const asked = askEveryFunction(SETS);
const { bytes, report } = calculatingCopy(book({ sheets: sheetsOf(asked) }), OPTIONS);

/** Cells that kept the value of the workbook, which is wrong, and what a spill of theirs would have filled. */
const tooLong = new Set(
  report.values.flatMap(({ sheet, place }) => {
    const one = asked.get(sheet)!.find(({ row }) => answerAddress(row, 0, 0) === place.split(":")[0])!;
    return answer(one.entry, one.calls[0]).flatMap((line, r) =>
      line.map((_, c) => `${sheet}!${answerAddress(one.row, r, c)}`),
    );
  }),
);

/** The copy with other arguments in its cells, and all else as it is. */
function withChangedArguments(): Uint8Array {
  const parts = unzipped(bytes);
  for (const [n, id] of [...asked.keys()].entries()) {
    const part = `xl/worksheets/sheet${n + 1}.xml`;
    const cells = new Map(asked.get(id)!.flatMap(({ calls }) => argumentCells(calls[1])));
    parts[part] = parts[part]!.replace(/<c r="([A-Z]+\d+)"[^>]*?(?:\/>|>.*?<\/c>)/g, (was, address: string) =>
      cells.has(address) ? cellXml(address, cells.get(address)!) : was,
    );
  }
  return zipped(parts);
}

let calculated: Sheets[];
let seconds = 0;
beforeAll(async () => {
  const start = Date.now();
  calculated = await recalculated([bytes, withChangedArguments()]);
  seconds = (Date.now() - start) / 1000;
}, 3_600_000);

const compared = new Map<string, number>();
const otherwise = new Map<string, number>();
reportCompared("every function, LibreOffice", () => [...compared.values()].reduce((sum, n) => sum + n, 0));
afterAll(() => {
  const counts = (map: Map<string, number>) => [...map].map(([name, n]) => `${name} ${n}`).join(", ");
  console.log(`LibreOffice, ${seconds.toFixed(0)} s: ${counts(compared)}. By its own rules: ${counts(otherwise)}.`);
});

/** Compares cell by cell, and tells the first that differ. */
function compare(id: string, which: 0 | 1): void {
  const cells = calculated[which]!.get(id)!;
  const wrong: string[] = [];
  for (const { entry, calls, row } of asked.get(id)!) {
    const call = calls[which];
    const wanted = answer(entry, call);
    for (const [r, line] of answer(entry, calls[0]).entries()) {
      for (const c of line.keys()) {
        const address = answerAddress(row, r, c);
        if (tooLong.has(`${id}!${address}`)) continue;
        const ours = expected(wanted, call, r, c);
        const found = cells.get(address);
        const isAgreed = ours.some((one) => isSame(found, one));
        const rule = isAgreed ? undefined : ownRule(found, ours[0], call, r, c);
        if (isAgreed) compared.set(id, (compared.get(id) ?? 0) + 1);
        else if (rule) otherwise.set(rule, (otherwise.get(rule) ?? 0) + 1);
        else
          wrong.push(
            `${shown(ours[0])}, LibreOffice ${shown(found)}: ${call.formula} of ${JSON.stringify(call.passed)}`,
          );
      }
    }
  }
  expect(wrong.slice(0, 5), `${wrong.length} differ`).toEqual([]);
}

/** What makes an array formula of a call. */
const isArray = ({ cells, isList }: Block) => isList || cells.length * cells[0]!.length > 1;

/** The cell of a range, or of what stretches to it, in this row and column of the answer. */
const ownCell = ({ cells }: Block, r: number, c: number) =>
  cells[cells.length === 1 ? 0 : r]?.[cells[0]!.length === 1 ? 0 : c];

/** What a cell of the copy may hold in this row and column of the answer. */
function expected(wanted: readonly unknown[][], { blocks }: Call, r: number, c: number): unknown[] {
  const arrays = blocks.filter(isArray);
  const ranges = arrays.filter(({ isList }) => !isList);
  if (wanted.length * wanted[0]!.length === 1) {
    // Where the whole call is refused, every cell of the array says so; one that is blank may stay so.
    const isBlank = ranges.every((block) => ["", null, undefined].includes(ownCell(block, r, c) as string));
    return ranges.length > 0 && isBlank ? [wanted[0]![0], ""] : [wanted[0]![0]];
  }
  const ours = wanted[r]![c];
  // LibreOffice's arrays have 1 and 0 for TRUE and FALSE.
  return [arrays.length > 0 && typeof ours === "boolean" ? Number(ours) : ours];
}

/** What LibreOffice does otherwise, and no formula could help: in words, where it explains what was found. */
function ownRule(found: Cell | undefined, ours: unknown, call: Call, r: number, c: number): string | undefined {
  const arrays = call.blocks.filter(isArray);
  if (arrays.length === 0) return undefined;
  // It takes TRUE and FALSE for numbers, and nothing tells them apart in an array formula: that counts with those of a
  // range where the function refuses them.
  const own = arrays.flatMap((block) => (block.isList ? block.cells.flat() : [ownCell(block, r, c)]));
  if (own.some((cell) => typeof cell === "boolean")) return "TRUE or FALSE in a range";
  // HOURSAT refuses past jobs with an error as a whole; its plain formula leaves blank what stands beside a blank.
  const isHoursAt = call.formula.includes("HOURSAT(");
  if (isHoursAt && isError(ours) && (found ?? "") === "") return "a blank beside the jobs that HOURSAT refuses";
  if (!isError(found) || (ours !== "" && !isError(ours))) return undefined;
  // An error that comes of the single arguments is in every cell of an array formula, those too that would be blank or
  // have another error because of the ranges.
  const isSingle = (cells: unknown): cells is Cell[][] => Array.isArray(cells) && cells.length * cells[0].length === 1;
  const isOfSingles = call.passed.some(
    (cells) => isSingle(cells) && isError(cells[0]![0]) && cells[0]![0].code === found.code,
  );
  const isOffItsScale = found.code === "#N/A" && /SIZE|STEP|SCRATCH/.test(call.formula);
  if (isOfSingles || isOffItsScale) return "an error of single arguments in a whole array";
  // HOURSAT looks at the past jobs first, its plain formula last.
  return isError(ours) && isHoursAt ? "the other one of HOURSAT's two errors" : undefined;
}

const shown = (cell: unknown) => (isError(cell) ? cell.code : JSON.stringify(cell));

const answersOf = (all: readonly Asked[], which: 0 | 1) =>
  all.flatMap(({ entry, calls }) => answer(entry, calls[which]).flat());

describe("a copy without the add-in, in LibreOffice", () => {
  it("has a plain formula for every call, but for a few that would be longer than a cell holds", () => {
    const calls = [...asked.values()].flat().length;
    expect(report.values.filter(({ reason }) => reason.kind !== "tooLong")).toEqual([]);
    expect(report.formulas + report.values.length).toBe(calls);
    expect(report.values.length).toBeLessThan(calls / 200);
  });

  describe.each(TRANSLATED)("GRIT.$id", ({ id }) => {
    it("gives what the function gives, good arguments and bad, single ones and ranges", () => {
      const answers = answersOf(asked.get(id)!, 0);
      expect(answers.filter((ours) => !isError(ours)).length).toBeGreaterThan(answers.length / 10);
      compare(id, 0);
    });

    it("gives it for other arguments in the copy", () => {
      const [before, after] = ([0, 1] as const).map((which) => answersOf(asked.get(id)!, which));
      const same = after!.filter((ours, i) => isSame(before![i] as never, ours)).length;
      expect(same).toBeLessThan(0.95 * after!.length);
      compare(id, 1);
    });
  });
});
