/** Every custom function with its doc comment, and random arguments made from what the comment says. */
import fc from "fast-check";
import * as functions from "../functions/index";
import { type Entry, readCatalogue } from "../manifest/build/catalogue.mjs";

export type Parameter = Entry["params"][number];

export interface Catalogued extends Entry {
  fn: (...args: any[]) => any[][];
}

export const CATALOGUE: Catalogued[] = readCatalogue().map((entry) => {
  const fn = (functions as unknown as Record<string, Catalogued["fn"] | undefined>)[entry.functionName];
  if (!fn) throw new Error(`functions/index.ts does not export ${entry.functionName}`);
  return { ...entry, fn };
});

export const byId = (id: string): Catalogued => {
  const found = CATALOGUE.find((entry) => entry.id === id);
  if (!found) throw new Error(`no function ${id}`);
  return found;
};

/** Numbers of a size that a sheet could hold: nothing that is 0 but for its last bits. */
const between = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((x) => (Math.abs(x) < 1e-9 ? 0 : x));

/** As many past jobs as ranges of them hold. */
const JOBS = 4;

/** A range of one column. */
const columnOf = (cell: fc.Arbitrary<unknown>, rows: number) =>
  fc.array(
    cell.map((value) => [value]),
    { minLength: rows, maxLength: rows },
  );

/** A shelf of one bond whose grits are all one step apart, so that random arguments often have a sequence. */
const shelf = fc
  .tuple(between(1, 50), between(100, 5000), between(0, 500))
  .map(([cut, life, price]) => [16, 30, 60, 120, 200].map((grit) => [grit, "metal", "", cut, life, price]));

/** What a parameter's text says of its domain, and values inside it; the first that applies. */
const DOMAINS: [words: RegExp, values: fc.Arbitrary<unknown>][] = [
  [/a range of six columns/, shelf],
  [/a range of numbers from 0 to 24/, columnOf(between(0, 24 / JOBS), JOBS)],
  [/a range of numbers above 0/, columnOf(between(5, 50), JOBS)],
  [/above 0 and at most 194/, between(40, 140)],
  [/"us" or "metric"/, fc.constantFrom("us", "metric")],
  [/"mesh", "f", "p", "jis"/, fc.constantFrom("mesh", "f", "p", "jis", "um")],
  [/"metal", "transitional"/, fc.constantFrom("metal", "transitional", "hybrid", "resin", "METAL")],
  [/TRUE or FALSE/, fc.boolean()],
  [/from 0 to below 1 /, between(0, 0.9)],
  [/above 0 and below 1 /, between(0.05, 0.95)],
  [/above 0 and at most 1 /, between(0.05, 1)],
  [/from 0 to 5 /, between(0, 5)],
  [/below 1 \(/, between(-2, 0.9)],
  [/from 1 to 10/, fc.oneof(between(1, 10), fc.integer({ min: 1, max: 10 }))],
  [/a whole number, 0 or more/, fc.integer({ min: 0, max: 12 })],
  [/a whole number, 1 or more/, fc.integer({ min: 1, max: 40 })],
  [/Grit number of the last tool/, fc.constantFrom(30, 60, 120, 200)],
  [/Grit/, fc.integer({ min: 16, max: 1000 })],
  [/above 1\b/, between(1.1, 6)],
  [/above 0\b/, between(0.01, 500)],
  [/0 or more/, fc.oneof(between(0, 500), fc.constant(0))],
  [/a number/, between(-500, 500)],
];

/** Values that a parameter takes, by what its text says. */
export function valid(parameter: Parameter): fc.Arbitrary<unknown> {
  const found = DOMAINS.find(([domain]) => domain.test(parameter.text));
  if (!found) throw new Error(`tests/catalogue.ts cannot tell the domain of ${parameter.name}: ${parameter.text}`);
  return found[1];
}

export const isUnits = (parameter: Parameter) => parameter.name === "units";

/** One value for each parameter, each inside its own domain. */
export const validArguments = (entry: Catalogued): fc.Arbitrary<unknown[]> => fc.tuple(...entry.params.map(valid));

/** A value as the block of cells that the host passes; a range is one already. */
export const asBlock = (value: unknown): unknown[][] => (Array.isArray(value) ? value : [[value]]);

/** The host passes every argument as a block of cells, but the units word bare. */
export const asBlocks = (entry: Catalogued, values: unknown[]): unknown[] =>
  values.map((value, i) => (isUnits(entry.params[i]!) ? value : asBlock(value)));
