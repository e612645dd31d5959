/** Scales of grit: what size a grit number stands for. */
import { badValue, notFound } from "./answer";
import { block, isFilled, numberReader, oneWord, readAs, words } from "./cell";
import { ABOVE_0 } from "./domain";
import { ASTM_E11 } from "./tables/astm-e11";
import { FEPA_F } from "./tables/fepa-f";
import { FEPA_P } from "./tables/fepa-p";
import type { GritSizes } from "./tables/grit-sizes";
import { JIS_R6001 } from "./tables/jis-r6001";
import { FINEST_RESIN_GRIT, RESIN_GRITS } from "./tables/trade-grits";

/** A grit: its number, or a tool's own label such as 00, which is coarser than any number and has no standard size. */
export type Grit = number | string;

/** Labels that tools carry: 0, 00, 000. */
export const isGritLabel = (text: string) => /^0{1,9}$/.test(text.trim());

export interface Scale {
  /** As messages say it: "the mesh scale". */
  readonly name: string;
  /** The listed grits, ascending, and their sizes in µm, falling. Both are empty where the numbers are sizes. */
  readonly grits: readonly number[];
  readonly sizes: readonly number[];
  /** From each listed grit to the next, size = its size × (grit / it) ^ exponent: a straight line in logarithms. */
  readonly exponents: readonly number[];
  /** Sizes in µm by label, as a maker's own table has them. */
  readonly labels: ReadonlyMap<string, number>;
  /** The last grit the scale knows; beyond the last listed one its last line goes on. */
  readonly finest: number;
}

const NO_LABELS: ReadonlyMap<string, number> = new Map();

function scaleFrom(name: string, rows: GritSizes, finest = rows.at(-1)?.[0] ?? 0, labels = NO_LABELS): Scale {
  const grits = rows.map(([grit]) => grit);
  const sizes = rows.map(([, size]) => size);
  const exponents = grits.slice(1).map((grit, i) => -Math.log(sizes[i]! / sizes[i + 1]!) / Math.log(grit / grits[i]!));
  exponents.push(exponents.at(-1) ?? 0);
  return { name, grits, sizes, exponents, labels, finest };
}

/** The trade's own numbers: sieve numbers, then the resin grits. */
export const MESH = scaleFrom("the mesh scale", [...ASTM_E11, ...RESIN_GRITS], FINEST_RESIN_GRIT);

/** Not a scale of grits: the numbers are sizes in µm already. */
export const MICROMETERS: Scale = {
  name: "µm",
  grits: [],
  sizes: [],
  exponents: [],
  labels: NO_LABELS,
  finest: Number.MAX_VALUE,
};

export const NAMED_SCALES = {
  mesh: MESH,
  f: scaleFrom("the f scale", FEPA_F),
  p: scaleFrom("the p scale", FEPA_P),
  jis: scaleFrom("the jis scale", JIS_R6001),
  um: MICROMETERS,
} as const satisfies Record<string, Scale>;

export type ScaleName = keyof typeof NAMED_SCALES;

const ALLOWED =
  '"mesh", "f", "p", "jis" or "um" (the numbers are sizes in µm), or a range of two columns (grit, size in µm)';

export const SCALE_NAMES = /* @__PURE__ */ words<ScaleName>(ALLOWED, {
  mesh: "mesh",
  f: "f",
  p: "p",
  jis: "jis",
  um: "um",
});

/** The scale that an argument asks for: a word, the maker's own numbers, or mesh when it is left out. */
export function scaleOf(given: unknown): Scale {
  const cells = block("scale", given);
  const width = cells[0]!.length;
  if (cells.length === 1 && width === 1) return NAMED_SCALES[oneWord("scale", cells[0]![0], SCALE_NAMES, "mesh")];
  if (width !== 2) throw badValue(`scale must be ${ALLOWED}; got ${cells.length} × ${width} cells`);
  const rows = cells.flatMap(gritAndSize);
  const labels = labelsIn(rows.filter((row): row is [string, number] => typeof row[0] === "string"));
  const numbers = rows.filter((row): row is [number, number] => typeof row[0] === "number");
  if (rows.length === 0) throw badValue("scale has no grits in it");
  return scaleFrom("this scale", fallingSizes(numbers), undefined, labels);
}

/** A maker's labels, each with one size. */
function labelsIn(rows: readonly (readonly [string, number])[]): ReadonlyMap<string, number> {
  const labels = new Map<string, number>();
  for (const [label, size] of rows) {
    const known = labels.get(label);
    if (known !== undefined && known !== size) {
      throw badValue(`scale lists grit ${label} twice, as ${known} µm and as ${size} µm`);
    }
    labels.set(label, size);
  }
  return labels;
}

const AMOUNT = /* @__PURE__ */ numberReader(ABOVE_0);

/** One row of a maker's table, or nothing where both its cells are blank (0, where the host passes a blank so). */
function gritAndSize(row: unknown[], index: number): (readonly [Grit, number])[] {
  if (!row.some(isFilled)) return [];
  const read = (what: string, cell: unknown) => readAs(`${what} in row ${index + 1} of scale`, cell, AMOUNT);
  const [grit] = row;
  const isLabel = typeof grit === "string" && isGritLabel(grit);
  return [[isLabel ? grit.trim() : read("grit", grit), read("size", row[1])]];
}

/** A maker's rows in ascending grit, each once, after checking that a higher grit is always the finer. */
function fallingSizes(rows: GritSizes): GritSizes {
  const ascending = [...rows].sort(([a], [b]) => a - b);
  return ascending.filter(([grit, size], i) => {
    if (i === 0) return true;
    const [before, sizeBefore] = ascending[i - 1]!;
    if (grit === before && size === sizeBefore) return false;
    if (grit === before) throw badValue(`scale lists grit ${grit} twice, as ${sizeBefore} µm and as ${size} µm`);
    if (size < sizeBefore) return true;
    throw badValue(
      `in scale the size must fall as the grit rises; grit ${before} is ${sizeBefore} µm and grit ${grit} is ${size} µm`,
    );
  });
}

/** Position of the last of some ascending numbers that is not above x; -1 when all are. */
function lastUpTo(ascending: readonly number[], x: number): number {
  let low = -1;
  let high = ascending.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (ascending[middle]! <= x) low = middle;
    else high = middle;
  }
  return low;
}

/** Particle size of a grit, µm. */
export function sizeOf(grit: Grit, scale: Scale): number {
  if (typeof grit === "string") return labeledSize(grit, scale);
  if (scale === MICROMETERS) return grit;
  const at = lastUpTo(scale.grits, grit);
  if (at < 0 || grit > scale.finest) throw offScale(grit, scale);
  return scale.sizes[at]! * (grit / scale.grits[at]!) ** scale.exponents[at]!;
}

/** A label has the size that the maker's own table gives it, and none on a named scale. */
function labeledSize(label: string, { name, labels }: Scale): number {
  const size = labels.get(label);
  if (size !== undefined) return size;
  if (labels.size > 0) throw notFound(`grit ${label} is not on ${name}`);
  throw notFound(`grit ${label} is a label without a size on ${name}; give the maker's own grits and sizes as scale`);
}

const offScale = (grit: number, { name, grits, labels, finest }: Scale) =>
  notFound(
    grits.length > 0
      ? `grit ${grit} is not on ${name}, which runs from ${grits[0]} to ${finest}`
      : `grit ${grit} is not on ${name}, which has only ${[...labels.keys()].join(", ")}`,
  );

/** The listed grit nearest in ratio to a size; between two equally near, the coarser. */
export function nearestGrit(size: number, scale: Scale): Grit {
  if (scale === MICROMETERS) return size;
  const { grits, sizes } = listed(scale);
  // Midway in ratio between two sizes is their geometric mean.
  const next = sizes.findIndex((s, i) => i > 0 && size * size >= s * sizes[i - 1]!);
  return grits[next < 0 ? grits.length - 1 : next - 1]!;
}

/** All that a scale lists, from the coarsest: its labels stand among the numbers by their size. */
function listed({ grits, sizes, labels }: Scale): { grits: readonly Grit[]; sizes: readonly number[] } {
  if (labels.size === 0) return { grits, sizes };
  const all: [Grit, number][] = [...labels, ...grits.map((grit, i): [Grit, number] => [grit, sizes[i]!])];
  all.sort(([, a], [, b]) => b - a);
  return { grits: all.map(([grit]) => grit), sizes: all.map(([, size]) => size) };
}
