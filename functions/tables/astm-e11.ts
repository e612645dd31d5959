import type { GritSizes } from "./grit-sizes";

/**
 * Openings of woven wire test sieves: [sieve number, opening in µm].
 * Source: ASTM E11-17, Table 1 (seen in a copy of the standard). Its numbered sieves begin at No. 3½, which is no grit; coarser
 * ones are named by their opening.
 */
export const ASTM_E11: GritSizes = [
  [4, 4750],
  [5, 4000],
  [6, 3350],
  [7, 2800],
  [8, 2360],
  [10, 2000],
  [12, 1700],
  [14, 1400],
  [16, 1180],
  [18, 1000],
  [20, 850],
  [25, 710],
  [30, 600],
  [35, 500],
  [40, 425],
  [45, 355],
  [50, 300],
  [60, 250],
  [70, 212],
  [80, 180],
  [100, 150],
  [120, 125],
  [140, 106],
  [170, 90],
  [200, 75],
  [230, 63],
  [270, 53],
  [325, 45],
  [400, 38],
  [450, 32],
  [500, 25],
  [635, 20],
];
