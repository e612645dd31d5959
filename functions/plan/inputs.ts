/** The inputs of a stage plan: how they start, and the same in other units. */
import { badValue, CellFailure } from "../answer";
import { crewCostOf } from "../price";
import { convert, type System, symbol, TOOL_SIZES_PER_LENGTH } from "../units";
import type { Choice, Field, NumberField } from "./field";
import { FIELDS, field, KEYS, type Key } from "./fields";

type ValueOf<F extends Field> = F extends NumberField
  ? number | null
  : F extends { choices: readonly Choice[] }
    ? F["choices"][number][0]
    : string;
/** Filled-in inputs: percent as fractions, blank numbers null. */
export type Inputs = { -readonly [K in Key]: ValueOf<(typeof FIELDS)[K]> };

/** The inputs a new plan starts with. */
export function startInputs(units: System = "us"): Inputs {
  const entries = KEYS.map((key) => {
    const f = field(key);
    return [key, typeof f.start === "string" ? f.start : f.start[units]];
  });
  return { ...Object.fromEntries(entries), units } as Inputs;
}

/** The sign as it stands before an amount: "$", or "CHF " with a space behind letters. */
export const signBefore = ({ currency }: Pick<Inputs, "currency">): string =>
  /\p{L}\.?$/u.test(currency.trim()) ? `${currency.trim()} ` : currency.trim();

/** An input that a plan cannot do without; `problemsOf` tells the user before it comes to this. */
export function needed(inputs: Inputs, key: Key): number {
  const value = inputs[key];
  if (typeof value !== "number") throw badValue(`${key} is missing`);
  return value;
}

type Started = { [K in Key]: (typeof FIELDS)[K] extends { start: Record<System, number> } ? K : never }[Key];
/** What is filled in, or what a new plan starts with. */
export const orStart = (inputs: Inputs, key: Started): number => inputs[key] ?? FIELDS[key].start[inputs.units];

export const applies = (key: Key, given: Inputs): boolean => field(key).when?.(given) ?? true;

const EXPOSURE_KEYS: readonly Key[] = KEYS.filter((key) => FIELDS[key].group === "exposure");

/** Whether anything of the crew's exposure is given: without, there is nothing to show of it. */
export const tellsExposure = (inputs: Inputs): boolean => EXPOSURE_KEYS.some((key) => inputs[key] !== null);

/** The unit as the label shows it: "ft²", "%", "/h". */
export function unitOf(key: Key, units: System): string {
  const f = field(key);
  if (f.kind !== "number") return "";
  if (f.percent) return "%";
  return f.quantity ? symbol(f.quantity, units) : (f.unit ?? "");
}

/** Whether a micrometer figure is shown in mil too. */
export const isInMil = (unit: string, { units }: Pick<Inputs, "units">): boolean => unit === "µm" && units === "us";

/** A size, or why the grit has none. */
export function sizeOrFailure(find: () => number): number | CellFailure {
  try {
    return find();
  } catch (failure) {
    if (failure instanceof CellFailure) return failure;
    throw failure;
  }
}

/** Drops the binary remainder that a conversion and back leaves: 5000.000000000001 is 5000. */
function withoutRemainder(x: number): number {
  const short = Number(x.toPrecision(12));
  return Math.abs(x - short) <= 4 * Number.EPSILON * Math.abs(x) ? short : x;
}

/** The same plan in the other system of units: every quantity that is filled in is converted. */
export function inUnits(given: Inputs, to: System): Inputs {
  const converted = { ...given, units: to } as Record<Key, unknown>;
  for (const key of KEYS) {
    const f = field(key);
    const value = given[key];
    if (f.kind === "number" && f.quantity && typeof value === "number") {
      converted[key] = withoutRemainder(convert(value, f.quantity, given.units, to));
    }
  }
  return converted as Inputs;
}

/** Floor area, edge length and the area that the machine grinds, as the sheet will work them out. */
export function floorOf(given: Inputs): { area: number; edge: number; machineArea: number } {
  const { length, width, stripWidth, obstacles, units } = given;
  const rectangle = length !== null && width !== null;
  const area = given.area ?? (rectangle ? length * width : 0);
  const edge = given.edgeLength ?? (rectangle ? 2 * (length + width) : 4 * Math.sqrt(area));
  const strip = (edge * (stripWidth ?? 0)) / TOOL_SIZES_PER_LENGTH[units];
  return { area, edge, machineArea: given.machineArea ?? Math.max(0, area - strip - (obstacles ?? 0)) };
}

/** The least that a job is quoted at; a blank is a day of the crew. */
export const minimumOf = (given: Inputs): number =>
  given.minimum ??
  crewCostOf(needed(given, "hoursADay"), needed(given, "crew"), needed(given, "rate"), needed(given, "burden"));
