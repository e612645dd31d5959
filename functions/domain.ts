/** Which numbers something may be. */

/** The numbers something may be, with the words its messages use. `least` and `most` are themselves allowed. */
export interface Domain {
  readonly words: string;
  readonly least: number;
  readonly most: number;
  readonly whole?: boolean;
}

/** One end of a domain. */
export type Bound = readonly [operator: ">" | ">=" | "<" | "<=", value: number];

/** A domain with its ends as a reader would state them. */
export interface BoundedDomain extends Domain {
  readonly bounds: readonly Bound[];
}

// The nearest double inside an open bound stands for the bound itself, so that one comparison serves both kinds.
const justAbove = (x: number) => (x === 0 ? Number.MIN_VALUE : x * (1 + Number.EPSILON));
const justBelow = (x: number) => x * (1 - Number.EPSILON / 2);

/** A domain by its words and its ends; without an end it goes on as far as numbers do. */
export function domain(words: string, bounds: readonly Bound[], whole = false): BoundedDomain {
  let least = -Number.MAX_VALUE;
  let most = Number.MAX_VALUE;
  for (const [operator, value] of bounds) {
    if (operator === ">" || operator === ">=") least = operator === ">" ? justAbove(value) : value;
    else most = operator === "<" ? justBelow(value) : value;
  }
  return { words, bounds, least, most, ...(whole && { whole }) };
}

export const ABOVE_0 = domain("above 0", [[">", 0]]);
export const FROM_0 = domain("0 or more", [[">=", 0]]);
export const ABOVE_1 = domain("above 1", [[">", 1]]);
export const ANY_NUMBER = domain("a number", []);
export const BELOW_1 = domain("from 0 to below 1 (20% is 0.2)", [
  [">=", 0],
  ["<", 1],
]);
export const ANY_BELOW_1 = domain("below 1 (20% is 0.2)", [["<", 1]]);
export const SHARE = domain("above 0 and at most 1 (80% is 0.8)", [
  [">", 0],
  ["<=", 1],
]);
export const WHOLE_FROM_1 = domain("a whole number, 1 or more", [[">=", 1]], true);

/** Whether a number is one of them. */
export const isWithin = (x: number, { least, most, whole }: Domain): boolean =>
  x >= least && x <= most && (!whole || Number.isInteger(x));
