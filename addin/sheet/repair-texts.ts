/** What check and repair is doing. */
export const REPAIRING = {
  cells: "Reading cells",
  values: "Reading values",
  calculating: "Calculating",
  entering: "Entering formulas again",
} as const;
