/**
 * Numbers as an estimator types and reads them, in English notation: 5000, 5,000 or 12.5.
 * "1,5" and "5 000" mean different things to different people, so they are refused instead of guessed at.
 */
import { shown } from "../../functions/cell";
import type { NumberField } from "../../functions/plan/field";

const TYPED = /^(-?)(\d{1,3}(?:,\d{3})+|\d*)(?:\.(\d*))?$/;

/** The number in a text; undefined where it is none. With `percent`, "20" and "20 %" are 0.2. */
export function numberIn(text: string, percent = false): number | undefined {
  const trimmed = text.trim();
  const digits = percent ? trimmed.replace(/\s*%$/, "") : trimmed;
  const [, sign = "", whole = "", decimals = ""] = TYPED.exec(digits) ?? [];
  if (whole === "" && decimals === "") return undefined;
  // The exponent shifts the decimal point before the text is rounded to a double: 7.1% is exactly 0.071.
  return Number(`${sign}${whole.replaceAll(",", "") || "0"}.${decimals || "0"}e${percent ? -2 : 0}`);
}

/** What decides how a number is written. */
type Writing = Partial<Pick<NumberField, "percent" | "money" | "quantity">>;

/** What a field's number may carry without saying anything else. */
export interface Around {
  /** The unit that stands behind the field. */
  readonly unit?: string;
  /** Whether it is money, whose sign may stand before it. */
  readonly isMoney?: boolean;
}

/** How the units of the fields are typed besides; each spelling means one unit. */
const SPELLINGS: Readonly<Record<string, readonly string[]>> = {
  ft: ["'", "’", "′", "foot", "feet"],
  in: ['"', "”", "″", "inch", "inches"],
  "ft²": ["ft2", "sq ft", "sqft", "sf", "square feet"],
  "m²": ["m2", "sqm", "sq m"],
  m: ["meter", "meters"],
  mm: [],
  "ft/min": ["fpm"],
  "m/min": [],
  "ft/h": ["ft/hr"],
  "m/h": ["m/hr"],
  "gal/min": ["gpm"],
  "L/min": ["l/min", "lpm"],
  "m/s": [],
  h: ["hr", "hrs", "hour", "hours"],
  "/h": ["/hr", "an hour"],
  lbf: ["lb", "lbs"],
  kgf: ["kg"],
  mil: ["mils"],
  µm: ["um", "μm"],
  people: [],
  tools: [],
};

const unitCalled = (word: string): string | undefined =>
  Object.keys(SPELLINGS).find((unit) => unit === word || SPELLINGS[unit]!.includes(word));

/** A sign of money before, and a unit behind a number. */
const WITH_AROUND = /^(\p{Sc}?)\s*(-?[\d.,]+)\s*(\D.*)?$/u;

/** What a field's text stands for: a value, null for a blank, or a problem to tell the user. */
export function readTyped(
  text: string,
  f: Pick<NumberField, "label" | "percent">,
  { unit = "", isMoney = false }: Around = {},
): { value: number | null; problem?: string } {
  if (text.trim() === "") return { value: null };
  const value = numberIn(text, f.percent);
  if (value !== undefined) return { value };
  const like = f.percent ? "typed like 20 or 7.5" : "typed like 5000, 5,000 or 12.5";
  const problem = `${f.label} must be a number, ${like}; got ${shown(text)}`;
  const [, sign = "", number = "", behind = ""] = WITH_AROUND.exec(text.trim()) ?? [];
  const bare = numberIn(number);
  const named = behind === "" ? unit : unitCalled(behind.trim().toLowerCase().replace(/\.$/, ""));
  if (bare === undefined || f.percent || (sign && !isMoney)) return { value: null, problem };
  if (named === unit) return { value: bare };
  if (/^['’′] *\d/.test(behind) && unit === "ft") {
    return { value: null, problem: `${f.label} takes feet with decimals: 5' 6" is 5.5; got ${shown(text)}` };
  }
  return {
    value: null,
    problem: named && unit ? `${f.label} is in ${unit}, not ${named}; type it in ${unit}` : problem,
  };
}

/** One point or comma before the last three of its digits. */
const EITHER_WAY = /^(-?[1-9]\d{0,2})([.,])(\d{3})$/;

/**
 * What to say of a text that is another number to someone who writes decimals after a comma: "1.500" is 1.5 here and 1500 there.
 * Empty where both read the same.
 */
export function otherReading(text: string, percent = false): string {
  const digits = percent ? text.trim().replace(/\s*%$/, "") : text.trim();
  const [, whole, mark, last] = EITHER_WAY.exec(digits) ?? [];
  if (mark === undefined) return "";
  const readings = [plain.format(Number(`${whole}.${last}`)), `${whole}${last}`];
  const [taken, other] = mark === "." ? readings : readings.reverse();
  return `Taken as ${taken}, because decimals come after a point here; for ${other} type ${other}`;
}

// Twelve digits: every measurement whole, without the binary dust of a conversion.
const DIGITS = 12;
const plain = new Intl.NumberFormat("en-US", { maximumSignificantDigits: DIGITS, useGrouping: false });
const grouped = new Intl.NumberFormat("en-US", { maximumSignificantDigits: DIGITS });
const price = new Intl.NumberFormat("en-US", { minimumFractionDigits: 2, maximumFractionDigits: 10 });
const twoDecimals = new Intl.NumberFormat("en-US", { minimumFractionDigits: 2, maximumFractionDigits: 2 });
const oneDecimal = new Intl.NumberFormat("en-US", { minimumFractionDigits: 1, maximumFractionDigits: 1 });
const upToTwo = new Intl.NumberFormat("en-US", { maximumFractionDigits: 2 });
const upToOne = new Intl.NumberFormat("en-US", { maximumFractionDigits: 1 });
const rounded = new Intl.NumberFormat("en-US", { maximumSignificantDigits: 6 });

/** A value as its field shows it, readable by `numberIn` again. Grits and counts carry no thousands comma. */
export function typedAs(value: number | null, f: Writing): string {
  if (value === null) return "";
  if (f.percent) return plain.format(Number((value * 100).toPrecision(DIGITS)));
  if (f.money) return price.format(value);
  return f.quantity ? grouped.format(value) : plain.format(value);
}

/** A value as running text shows it, shorter than its field. */
export function briefly(value: number, f: Writing): string {
  return f.quantity ? rounded.format(value) : typedAs(value, f);
}

/** A figure beside a limit: two decimals below 10, where they may decide, one from there on. */
export const figureText = (x: number) => (x < 10 ? upToTwo : upToOne).format(x);
/** With the sign as it stands before an amount; below 0 the minus comes first. */
export const money = (x: number, sign = "") =>
  x < 0 ? `-${sign}${twoDecimals.format(-x)}` : `${sign}${twoDecimals.format(x)}`;
export const hours = (x: number) => oneDecimal.format(x);
export const share = (x: number) => `${Math.round(x * 100)}%`;
export const percent = (x: number) => `${oneDecimal.format(100 * x)}%`;

/** A number with its unit behind it: 15 ft/min, 20%, or alone where it has none. */
export const withUnit = (number: string, unit: string) => `${number}${unit === "%" ? "" : " "}${unit}`.trim();
