/** Test strips that the workbook remembers, and what the nearest of them say of a tool's cut. */
import { cutPerCoefficient } from "../cutting";
import { ABOVE_0, ANY_NUMBER, BELOW_1, WHOLE_FROM_1 } from "../domain";
import { mean, sampleDeviation } from "../statistics";
import type { System } from "../units";
import { FIELDS } from "./fields";
import { amount, type Column, called, orBlank } from "./shelf";
import { rowsOf } from "./shelf-rows";

export interface Strip {
  /** Day as the spreadsheet counts it. */
  date: number | null;
  /** The floor it was on. */
  slab: string | null;
  /** Mohs. */
  hardness: number;
  /** Null is the machine of a plan's inputs. */
  machine: string | null;
  tool: string;
  /** Particle size, µm. */
  size: number;
  /** Measured depth, µm, of so many passes. */
  cut: number;
  passes: number;
  /** What it was cut with: in | mm, ft/min | m/min, lbf | kgf, ft/min | m/s, and a fraction. */
  width: number;
  speed: number;
  load: number;
  slideSpeed: number;
  overlap: number;
}

export const STRIP_COLUMNS: readonly Column<Strip>[] = [
  { key: "date", title: "Date", check: orBlank(amount(ANY_NUMBER)) },
  { key: "slab", title: "Slab", check: orBlank(called) },
  { key: "hardness", title: "Hardness Mohs", check: amount(FIELDS.hardness.domain) },
  { key: "machine", title: "Machine", check: orBlank(called) },
  { key: "tool", title: "Tool", check: called },
  { key: "size", title: "Size µm", check: amount(ABOVE_0) },
  { key: "cut", title: "Cut µm", check: amount(ABOVE_0) },
  { key: "passes", title: "Passes", check: amount(WHOLE_FROM_1) },
  {
    key: "width",
    title: "Working width",
    unit: { us: "in", metric: "mm" },
    quantity: "toolSize",
    check: amount(ABOVE_0),
  },
  {
    key: "speed",
    title: "Travel speed",
    unit: { us: "ft per min", metric: "m per min" },
    quantity: "travelSpeed",
    check: amount(ABOVE_0),
  },
  { key: "load", title: "Load", unit: { us: "lbf", metric: "kgf" }, quantity: "load", check: amount(ABOVE_0) },
  {
    key: "slideSpeed",
    title: "Sliding speed",
    unit: { us: "ft per min", metric: "m per s" },
    quantity: "slidingSpeed",
    check: amount(ABOVE_0),
  },
  { key: "overlap", title: "Overlap", format: "percent", check: amount(BELOW_1) },
];

/** The strips in a table's rows, blank ones left out; the columns' units are the plan's. */
export const stripsOf = (rows: readonly (readonly unknown[])[]) => rowsOf(rows, STRIP_COLUMNS);

/** Cutting coefficient that a strip shows, mm³/kJ: it is the floor's and the tool's, not the machine's. */
const coefficientOf = ({ cut, passes, ...ran }: Strip, units: System): number =>
  cut / passes / cutPerCoefficient(ran, units);

/** Strips within so much of the nearest hardness count with it: a scratch test tells no more. */
const HALF_A_STEP = 0.5;

/** The same tool's strips on slabs of the nearest hardness. */
export function nearestStrips(strips: readonly Strip[], tool: string, hardness: number): readonly Strip[] {
  const same = strips.filter((strip) => strip.tool === tool);
  const off = (strip: Strip) => Math.abs(strip.hardness - hardness);
  const least = Math.min(...same.map(off));
  return same.filter((strip) => off(strip) <= least + HALF_A_STEP);
}

export interface KnownCut {
  readonly strips: number;
  /** Mean in proportion, mm³/kJ. */
  readonly coefficient: number;
  /** Between which two in three new strips come out, mm³/kJ; the same twice where one strip tells of no spread. */
  readonly low: number;
  readonly high: number;
}

/** What strips of one tool say of its cut. */
export function knownCut(strips: readonly Strip[], units: System): KnownCut {
  const logs = strips.map((strip) => Math.log(coefficientOf(strip, units)));
  const center = mean(logs);
  // The mean itself is only known from so many.
  const spread = strips.length > 1 ? sampleDeviation(logs) * Math.sqrt(1 + 1 / strips.length) : 0;
  return {
    strips: strips.length,
    coefficient: Math.exp(center),
    low: Math.exp(center - spread),
    high: Math.exp(center + spread),
  };
}
