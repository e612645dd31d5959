/** A published scale: its grits, ascending, each with its size in µm. */
export type GritSizes = readonly (readonly [grit: number, size: number])[];
