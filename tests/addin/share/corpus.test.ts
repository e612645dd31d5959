/**
 * Copies of some two hundred workbooks that other libraries wrote, and of five hundred damaged ones: each copies clean, with
 * every value that an independent reader finds in the workbook, or is refused in plain words.
 */
import { afterAll, expect, it } from "vitest";
import { Refusal } from "../../../addin/common/refusal";
import { calculatingCopy } from "../../../addin/share/calculating-copy";
import { priceOnlyCopy } from "../../../addin/share/price-copy";
import { CATALOGUE } from "../../catalogue";
import { comparedInCopies, faultsIn } from "./copy-checks";
import { corpus, damaged, type Sample } from "./corpus";
import { excelizeCorpus } from "./corpus-excelize";

const OPTIONS = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [] };
const { workbooks: written, others } = await corpus();
const { workbooks: excelize, encrypted } = await excelizeCorpus();
const workbooks = [...written, ...excelize];
const DAMAGED = 500;

let compared = 0;
let copied = 0;
let refused = 0;
afterAll(() =>
  console.log(
    `Foreign workbooks: ${workbooks.length}, ${compared} cells compared; damaged: ${copied} copied, ${refused} refused.`,
  ),
);

it.each(workbooks)("$name copies clean, with its values", ({ bytes }: Sample) => {
  compared += comparedInCopies(bytes);
});

it.each(others)("$name is refused in words", ({ bytes }: Sample) => {
  expect(() => calculatingCopy(bytes, OPTIONS)).toThrow(Refusal);
  expect(() => priceOnlyCopy(bytes, { keep: [{ sheet: "Plan" }] })).toThrow(Refusal);
});

it("an encrypted workbook is refused, with what to do about it", () => {
  expect(() => calculatingCopy(encrypted.bytes, OPTIONS)).toThrow("encrypted with a password. Remove it");
});

it("a binary workbook is refused, with how to save it", () => {
  const { bytes } = others.find(({ name }) => name.includes("xlsb"))!;
  expect(() => priceOnlyCopy(bytes, { keep: [{ sheet: "Plan" }] })).toThrow(/\(\.xlsb\).*\(\.xlsx\): File, Save As/);
});

/** A copy without faults, or a refusal. */
function outcome(make: () => Uint8Array, looked: (bytes: Uint8Array) => string[]): string[] {
  try {
    const bytes = make();
    copied++;
    return looked(bytes);
  } catch (error) {
    if (!(error instanceof Refusal)) return [(error as Error).stack ?? String(error)];
    refused++;
    return /^[A-Z"].*\.$/s.test(error.message) ? [] : [`no sentence: ${error.message}`];
  }
}

it.each(Array.from({ length: 10 }, (_, group) => ({ group })))("damaged workbooks, group $group", ({ group }) => {
  const faults: Record<string, string[]> = {};
  for (let n = 0; n < DAMAGED / 10; n++) {
    const seed = group * (DAMAGED / 10) + n + 1;
    const { name, bytes } = damaged(workbooks[(seed * 7) % workbooks.length]!, seed);
    const found = [
      // What was not ours is as it was, faults and all.
      ...outcome(
        () => calculatingCopy(bytes, OPTIONS).bytes,
        () => [],
      ),
      ...outcome(() => priceOnlyCopy(bytes, { keep: [{ sheet: "Plan" }] }).bytes, faultsIn),
    ];
    if (found.length > 0) faults[name] = found;
  }
  expect(faults).toEqual({});
});
