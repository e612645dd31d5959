/** What the audit and a plan both know of groups of jobs. */
import { matrixFor } from "../tooling";

/** Fewer jobs than these give an interval so wide that it says nothing. */
export const LEAST_FOR_INTERVAL = 3;
/** Confidence of the intervals, that of CALIBRATE. */
export const INTERVAL_CONFIDENCE = 0.9;

/** The matrix to try first on each class of slab. */
export const MATRIX_ON = { "soft slab": "hard", "medium slab": "medium", "hard slab": "soft" } as const;
export type HardnessClass = keyof typeof MATRIX_ON;
export const HARDNESS_CLASSES = Object.keys(MATRIX_ON) as HardnessClass[];
const CLASS_OF = new Map(HARDNESS_CLASSES.map((slab) => [MATRIX_ON[slab], slab]));

/** The slab's hardness in three classes, with the limits of the bond to try first on it; Mohs number. */
export const hardnessClass = (mohs: number | undefined): HardnessClass | "" =>
  mohs === undefined ? "" : CLASS_OF.get(matrixFor(mohs))!;
