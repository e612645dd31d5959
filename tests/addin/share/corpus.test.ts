/**
 * Copies of some two hundred workbooks that other libraries wrote, and of five hundred damaged ones: each copies clean, with
 * every value that an independent reader finds in the workbook, or is refused in plain words.
 */
import { read, type WorkBook } from "@e965/xlsx";
import { DOMParser } from "@xmldom/xmldom";
import { afterAll, expect, it } from "vitest";
import { Refusal } from "../../../addin/common/refusal";
import { calculatingCopy } from "../../../addin/share/calculating-copy";
import { priceOnlyCopy } from "../../../addin/share/price-copy";
import { CATALOGUE } from "../../catalogue";
import { unzipped } from "./copy-files";
import { corpus, damaged, type Sample } from "./corpus";

const OPTIONS = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [] };
const { workbooks, others } = await corpus();
const DAMAGED = 500;

let compared = 0;
let copied = 0;
let refused = 0;
afterAll(() =>
  console.log(
    `Foreign workbooks: ${workbooks.length}, ${compared} cells compared; damaged: ${copied} copied, ${refused} refused.`,
  ),
);

function faultsIn(bytes: Uint8Array): string[] {
  const faults: string[] = [];
  for (const [name, xml] of Object.entries(unzipped(bytes))) {
    if (!/\.(xml|rels)$/.test(name)) continue;
    try {
      new DOMParser({ onError: (_, message) => faults.push(`${name}: ${message}`) }).parseFromString(xml, "text/xml");
    } catch (error) {
      faults.push(`${name}: ${(error as Error).message}`);
    }
  }
  return faults;
}

/** The cells of a sheet that have a value. */
function valuesOf(book: WorkBook, sheet: string): Map<string, unknown> {
  const cells = Object.entries(book.Sheets[sheet]!).filter(([key]) => !key.startsWith("!"));
  return new Map(cells.filter(([, cell]) => cell.v !== undefined && cell.v !== "").map(([key, cell]) => [key, cell.v]));
}

it.each(workbooks)("$name copies clean, with its values", ({ bytes }: Sample) => {
  const before = read(bytes);
  const copy = calculatingCopy(bytes, OPTIONS);
  expect(faultsIn(copy.bytes)).toEqual([]);
  const after = read(copy.bytes);
  expect(after.SheetNames.slice(0, before.SheetNames.length)).toEqual(before.SheetNames);
  for (const name of before.SheetNames) {
    const expected = valuesOf(before, name);
    expect(valuesOf(after, name)).toEqual(expected);
    compared += expected.size;
  }
  expect(JSON.stringify(after.Sheets)).not.toMatch(/"f":"[^"]*GRIT\./);

  const chosen = before.SheetNames[0]!;
  const price = priceOnlyCopy(bytes, { keep: [{ sheet: chosen }] });
  expect(faultsIn(price.bytes)).toEqual([]);
  const sent = read(price.bytes);
  expect(sent.SheetNames).toEqual([chosen]);
  const all = valuesOf(before, chosen);
  for (const [address, value] of valuesOf(sent, chosen)) {
    expect(value, address).toEqual(all.get(address));
    compared++;
  }
  const { cells, hiddenGone } = price.report.sheets[0]!;
  expect(cells + hiddenGone).toBeGreaterThanOrEqual(all.size);
});

it.each(others)("$name is refused in words", ({ bytes }: Sample) => {
  expect(() => calculatingCopy(bytes, OPTIONS)).toThrow(Refusal);
  expect(() => priceOnlyCopy(bytes, { keep: [{ sheet: "Plan" }] })).toThrow(Refusal);
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
