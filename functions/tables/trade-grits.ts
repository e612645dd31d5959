import type { GritSizes } from "./grit-sizes";

/**
 * How the floor trade numbers its tools. No standard governs it: sizes differ by maker, and beyond the sieves
 * (ASTM E11 ends at No. 635) a grit is 15000 / number µm. Common practice, no source.
 */

/** Grits a shelf commonly holds, coarse to fine. */
export const COMMON_GRITS: readonly number[] = [6, 16, 30, 40, 50, 60, 80, 100, 120, 150, 200, 400, 800, 1500, 3000];

/** Resin grits beyond the sieves: [grit, 15000 / grit µm]. */
export const RESIN_GRITS: GritSizes = [
  [800, 18.75],
  [1500, 10],
  [3000, 5],
];

/** The rule of 15000 / grit is used up to here. */
export const FINEST_RESIN_GRIT = 10_000;
