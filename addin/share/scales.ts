/**
 * The published scales in a copy without the add-in: the columns that its Reference sheet holds, and the formulas that
 * look sizes up in them.
 */
import { NAMED_SCALES, type ScaleName } from "../../functions/scale";

/** The scales that are lists; on "um" a number is its own size. */
export type ListedScale = Exclude<ScaleName, "um">;
export const LISTED_SCALES: readonly ListedScale[] = ["mesh", "f", "p", "jis"];

/** The tables of a scale, each a few columns: sizes by grit, and the grits nearest to sizes. */
export const SCALE_TABLES = { sizes: ["grit", "size", "exponent"], nearest: ["from", "nearest"] } as const;
export type ScaleTable = keyof typeof SCALE_TABLES;
export type ScalePart = (typeof SCALE_TABLES)[ScaleTable][number];
export const SCALE_PARTS: readonly ScalePart[] = Object.values(SCALE_TABLES).flat();

/** Where the copy keeps a column of a scale: Reference!$A$2:$A$46. */
export type ScaleCells = (scale: ListedScale, part: ScalePart) => string;

/**
 * The rows of a scale on the Reference sheet: grit, size in µm, and the exponent of the line from this grit to the next,
 * size = its size × (grit / it) ^ exponent. Beside them, from the finest up: the square of the size from which a grit is
 * the nearest, in µm², and that grit. Midway in ratio between two sizes is their geometric mean.
 */
export function scaleRows(scale: ListedScale): Record<ScalePart, number>[] {
  const { grits, sizes, exponents } = NAMED_SCALES[scale];
  const finest = grits.length - 1;
  return grits.map((grit, i) => ({
    grit,
    size: sizes[i]!,
    exponent: exponents[i]!,
    from: i === 0 ? 0 : sizes[finest - i]! * sizes[finest - i + 1]!,
    nearest: grits[finest - i]!,
  }));
}

/** Particle size of the grit x, µm; #N/A beyond the ends of the scale. LOOKUP also takes ranges of grits, INDEX does not. */
export function sizeFormula(x: string, scale: ScaleName, cells: ScaleCells): string {
  if (scale === "um") return x;
  const grits = cells(scale, "grit");
  const line = `LOOKUP(${x},${grits},${cells(scale, "size")})*(${x}/LOOKUP(${x},${grits}))^LOOKUP(${x},${grits},${cells(scale, "exponent")})`;
  return `IF(${x}>${NAMED_SCALES[scale].finest},#N/A,${line})`;
}

/** The listed grit nearest in ratio to the size x, in µm. The square of a size beyond all others would be no number. */
export function nearestFormula(x: string, scale: ScaleName, cells: ScaleCells): string {
  if (scale === "um") return x;
  return `LOOKUP(IF(${x}>1E150,1E300,${x}*${x}),${cells(scale, "from")},${cells(scale, "nearest")})`;
}
