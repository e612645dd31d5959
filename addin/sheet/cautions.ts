/** What to take care of, on the sheet and in the pane; a file of its own, since the pane shows it before it writes. */

/** Each is one literal of a formula, which holds at most 255 characters. */
export const GRINDING_CAUTIONS = {
  dry: "Dry grinding needs dust collection: a shroud and a HEPA collector with the maker's airflow. Indoors, HEPA-vacuum between passes; a respirator over 4 h a day of hand grinding.",
  wet: "Wet floors are slippery. Keep cords out of the water and use GFCI protection. Collect the caustic slurry: none goes down a drain. Edges ground dry still need a shroud.",
} as const;

/** The caution that follows the input's cell, as a formula without its equals sign. */
export const grindingCaution = (cell: string) =>
  `IF(${cell}="wet","${GRINDING_CAUTIONS.wet}","${GRINDING_CAUTIONS.dry}")`;

export const HAZARDS =
  "Silica dust, noise, vibration, power and slippery floors: local codes, manufacturers' instructions and licensed practice come first.";

/** Where a workbook may have plans of both kinds. */
export const CAUTION = `${HAZARDS} ${GRINDING_CAUTIONS.dry} ${GRINDING_CAUTIONS.wet}`;

export const cautionFor = (grinding: keyof typeof GRINDING_CAUTIONS) => `${HAZARDS} ${GRINDING_CAUTIONS[grinding]}`;
