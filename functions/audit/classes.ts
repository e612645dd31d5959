/** What the audit and a plan both know of groups of jobs. */
import { matrixFor } from "../tooling";

/** Fewer jobs than these give an interval so wide that it says nothing. */
export const LEAST_FOR_INTERVAL = 3;
/** Confidence of the intervals, that of CALIBRATE. */
export const INTERVAL_CONFIDENCE = 0.9;

export const HARDNESS_CLASSES = ["soft slab", "medium slab", "hard slab"] as const;
const CLASS_OF_MATRIX = { hard: "soft slab", medium: "medium slab", soft: "hard slab" } as const;
export type HardnessClass = (typeof HARDNESS_CLASSES)[number];

/** The slab's hardness in three classes, with the limits of the bond to try first on it; Mohs number. */
export const hardnessClass = (mohs: number | undefined): HardnessClass | "" =>
  mohs === undefined ? "" : CLASS_OF_MATRIX[matrixFor(mohs)];
