/** Units as people write them behind a number, or in the heading above it. */
import { convert, type Quantity, type System } from "../units";

export interface WrittenUnit {
  readonly quantity: Quantity;
  /** So many of it in the units of a plan. */
  of(amount: number, units: System): number;
}

const unit = (quantity: Quantity, system: System, size = 1): WrittenUnit => ({
  quantity,
  of: (amount, units) => convert(amount * size, quantity, system, units),
});

/** A yard is 3 ft. */
const UNITS: readonly (readonly [RegExp, WrittenUnit])[] = [
  [/^(?:['’′]|ft|feet|foot|l\.?f)\.?$/, unit("length", "us")],
  [/^(?:yds?|yards?)\.?$/, unit("length", "us", 3)],
  [/^(?:["”″]|in|inch|inches)\.?$/, unit("length", "us", 1 / 12)],
  [/^(?:m|met(?:er|re)s?)\.?$/, unit("length", "metric")],
  [/^cm$/, unit("length", "metric", 0.01)],
  [/^mm$/, unit("length", "metric", 0.001)],
  [/^(?:s\.?f|sq\.? ?ft|ft2|ft²|(?:sq\.?|square) ?(?:feet|foot))\.?$/, unit("floorArea", "us")],
  [/^(?:s\.?y|sq\.? ?yds?|yd2|yd²|square yards?)\.?$/, unit("floorArea", "us", 9)],
  [/^(?:sq\.? ?m|m2|m²|(?:sq\.?|square) ?met(?:er|re)s?)\.?$/, unit("floorArea", "metric")],
  [/^mils?\.?$/, unit("filmThickness", "us")],
  [/^(?:[µμ]m|um|microns?)$/, unit("filmThickness", "metric")],
];

export const unitCalled = (text: string): WrittenUnit | undefined =>
  UNITS.find(([names]) => names.test(text.trim().toLowerCase()))?.[1];

const AMOUNT = /^(\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d*\.?\d+)\s*(.*)$/;

/** A number and what stands behind it; undefined where it is none. */
export function amountIn(cell: unknown): { readonly number: number; readonly unit: string } | undefined {
  const [, digits, unit = ""] = AMOUNT.exec(String(cell).trim()) ?? [];
  return digits === undefined ? undefined : { number: Number(digits.replaceAll(",", "")), unit: unit.trim() };
}

/** What may be a unit in a heading: "Sq. Ft.", "ft²", "m"; "in" only in brackets, since it is a word too. */
const IN_HEADING = /(?:sq\.?|square)\s*\p{L}+\.?|\([^)]*\)|\[[^\]]*\]|s\.f\.?|l\.f\.?|[\p{L}\d]+²?/giu;

/** The unit of this quantity that a heading names: "Length (m)", "Area, sq m", "SF". */
export function unitInHeading(heading: string, quantity: Quantity): WrittenUnit | undefined {
  for (const found of heading.match(IN_HEADING) ?? []) {
    const text = found.replace(/^[([]|[)\]]$/g, "").replace(/\s+/g, " ");
    const named = text.toLowerCase() === "in" && text === found ? undefined : unitCalled(text);
    if (named?.quantity === quantity) return named;
  }
  return undefined;
}
