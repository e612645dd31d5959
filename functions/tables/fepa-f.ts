import type { GritSizes } from "./grit-sizes";

/**
 * Bonded abrasives, F grits: [grit, µm]. F4 to F220 the mean grain size that FEPA states (ISO 8486-1 gives
 * sieve distributions and no mean), F230 to F2000 the median (ds50).
 * Source: FEPA 42-1 and 42-2, ISO 8486-1:1996 and ISO 8486-2:2007. The designations were seen; the sizes are from memory.
 */
export const FEPA_F: GritSizes = [
  [4, 4890],
  [5, 4125],
  [6, 3460],
  [7, 2900],
  [8, 2460],
  [10, 2085],
  [12, 1765],
  [14, 1470],
  [16, 1230],
  [20, 1040],
  [22, 885],
  [24, 745],
  [30, 625],
  [36, 525],
  [40, 438],
  [46, 370],
  [54, 310],
  [60, 260],
  [70, 218],
  [80, 185],
  [90, 154],
  [100, 129],
  [120, 109],
  [150, 82],
  [180, 69],
  [220, 58],
  [230, 53],
  [240, 44.5],
  [280, 36.5],
  [320, 29.2],
  [360, 22.8],
  [400, 17.3],
  [500, 12.8],
  [600, 9.3],
  [800, 6.5],
  [1000, 4.5],
  [1200, 3],
  [1500, 2],
  [2000, 1.2],
];
