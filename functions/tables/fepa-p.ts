import type { GritSizes } from "./grit-sizes";

/**
 * Coated abrasives, P grits: [grit, µm]. P12 to P220 the mean grain size that FEPA states (ISO 6344-2 gives sieve
 * distributions and no mean), P240 to P2500 the median (ds50).
 * Source: ISO 6344-2 and ISO 6344-3:1998/2013 (FEPA 43-1, 43-2); sizes seen in a copy of the table.
 * The 2021 edition goes on to P5000; those medians could not be confirmed and are left out.
 */
export const FEPA_P: GritSizes = [
  [12, 1815],
  [16, 1324],
  [20, 1000],
  [24, 764],
  [30, 642],
  [36, 538],
  [40, 425],
  [50, 336],
  [60, 269],
  [80, 201],
  [100, 162],
  [120, 125],
  [150, 100],
  [180, 82],
  [220, 68],
  [240, 58.5],
  [280, 52.2],
  [320, 46.2],
  [360, 40.5],
  [400, 35],
  [500, 30.2],
  [600, 25.8],
  [800, 21.8],
  [1000, 18.3],
  [1200, 15.3],
  [1500, 12.6],
  [2000, 10.3],
  [2500, 8.4],
];
