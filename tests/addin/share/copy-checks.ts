/** What a copy of anyone's workbook must be: sound, with every value that an independent reader finds, and nothing else. */
import { read, type WorkBook } from "@e965/xlsx";
import { DOMParser } from "@xmldom/xmldom";
import { expect } from "vitest";
import { calculatingCopy } from "../../../addin/share/calculating-copy";
import { priceOnlyCopy } from "../../../addin/share/price-copy";
import { CATALOGUE } from "../../catalogue";
import { unzipped } from "./copy-files";

const OPTIONS = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [] };

export function faultsIn(bytes: Uint8Array): string[] {
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

/** What only the parts hold that no price-only copy has: authors, notes, addresses, passwords, formulas, other sheets. */
const SECRETS =
  /Rita|Ask about|how much|supplier\.example|secret|theirs|Costs|GRIT|\bOwn\b|Own_|\bMargin\b|vba|password/gi;

/** Unpacked and searched; the name of the chosen sheet and its texts are in it by choice. */
const secretsIn = (bytes: Uint8Array) =>
  Object.entries(unzipped(bytes)).flatMap(([name, xml]) =>
    [...`${name} ${xml}`.matchAll(SECRETS)].map(([word]) => `${name}: ${word}`),
  );

/** Makes both copies, and says how many cells of them are as they were. */
export function comparedInCopies(bytes: Uint8Array): number {
  let compared = 0;
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
  expect(secretsIn(price.bytes)).toEqual([]);
  return compared;
}
