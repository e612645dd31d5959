import type { GritSizes } from "./grit-sizes";

/**
 * Precision polishing micropowders: [grit, median size in µm by electrical resistance].
 * Source: JIS R 6001:1987, #240 to #8000, kept in JIS R 6001:1998 and JIS R 6001-2:2017; all sizes seen in a copy.
 */
export const JIS_R6001: GritSizes = [
  [240, 57],
  [280, 48],
  [320, 40],
  [360, 35],
  [400, 30],
  [500, 25],
  [600, 20],
  [700, 17],
  [800, 14],
  [1000, 11.5],
  [1200, 9.5],
  [1500, 8],
  [2000, 6.7],
  [2500, 5.5],
  [3000, 4],
  [4000, 3],
  [6000, 2],
  [8000, 1.2],
];
