/**
 * The published scales in a copy without the add-in: the columns that its Reference sheet holds, and the formulas that
 * look sizes up in them.
 */
import { NAMED_SCALES, type ScaleName } from "../../functions/scale";

/** The scales that are lists; on "um" a number is its own size. */
export type ListedScale = Exclude<ScaleName, "um">;
export const LISTED_SCALES: readonly ListedScale[] = ["mesh", "f", "p", "jis"];

export const SCALE_PARTS = ["grit", "size", "exponent"] as const;
export type ScalePart = (typeof SCALE_PARTS)[number];

/** Where the copy keeps a column of a scale: Reference!$A$2:$A$46. */
export type ScaleCells = (scale: ListedScale, part: ScalePart) => string;

/**
 * The rows of a scale on the Reference sheet: grit, size in µm, and the exponent of the line from this grit to the next,
 * size = its size × (grit / it) ^ exponent.
 */
export function scaleRows(scale: ListedScale): Record<ScalePart, number>[] {
  const { grits, sizes, exponents } = NAMED_SCALES[scale];
  return grits.map((grit, i) => ({ grit, size: sizes[i]!, exponent: exponents[i]! }));
}

/** Particle size of the grit x, µm; #N/A beyond the ends of the scale. LOOKUP also takes ranges of grits, INDEX does not. */
export function sizeFormula(x: string, scale: ScaleName, cells: ScaleCells): string {
  if (scale === "um") return x;
  const grits = cells(scale, "grit");
  const line = `LOOKUP(${x},${grits},${cells(scale, "size")})*(${x}/LOOKUP(${x},${grits}))^LOOKUP(${x},${grits},${cells(scale, "exponent")})`;
  return `IF(${x}>${NAMED_SCALES[scale].finest},#N/A,${line})`;
}

/** The listed grit nearest in ratio to the size x, in µm: midway between two sizes is their geometric mean. */
export function nearestFormula(x: string, scale: ScaleName, cells: ScaleCells): string {
  if (scale === "um") return x;
  const sizes = cells(scale, "size");
  const listed = NAMED_SCALES[scale].sizes;
  const coarsest = listed[0]!;
  const coarser = `MIN(MATCH(MIN(${x},${coarsest}),${sizes},-1),${listed.length - 1})`;
  const isFiner = `(${x}*${x}<INDEX(${sizes},${coarser})*INDEX(${sizes},${coarser}+1))`;
  return `INDEX(${cells(scale, "grit")},${coarser}+${isFiner})`;
}
