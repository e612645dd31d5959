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

/** A scale of the user's own, a range of grits and their sizes: where the copy keeps its columns, put in order. */
export interface OwnScale {
  column(part: ScalePart): string;
  /** The cell with its last grit. */
  readonly finest: string;
  /** Its labels, "" in every other row, and the sizes beside. */
  readonly labels: string;
  readonly labelSizes: string;
  /** A number where it is a scale; else the error that the function gives. */
  readonly check: string;
}

type Column = OwnScale["column"];

/** Particle size of the grit x, µm; #N/A beyond the ends of the scale. LOOKUP also takes ranges of grits, INDEX does not. */
export function sizeFormula(x: string, scale: ScaleName, cells: ScaleCells): string {
  return scale === "um" ? x : sizeOn(x, (part) => cells(scale, part), `${NAMED_SCALES[scale].finest}`);
}

export function sizeOn(x: string, column: Column, finest: string): string {
  const grits = column("grit");
  const line = `LOOKUP(${x},${grits},${column("size")})*(${x}/LOOKUP(${x},${grits}))^LOOKUP(${x},${grits},${column("exponent")})`;
  return `IF(${x}>${finest},#N/A,${line})`;
}

/** The listed grit nearest in ratio to the size x, in µm. */
export function nearestFormula(x: string, scale: ScaleName, cells: ScaleCells): string {
  return scale === "um" ? x : nearestOn(x, (part) => cells(scale, part));
}

/** The square of a size beyond all others would be no number. */
export const nearestOn = (x: string, column: Column) =>
  `LOOKUP(IF(${x}>1E150,1E300,${x}*${x}),${column("from")},${column("nearest")})`;
