/** What to take care of, on the sheet and in the pane; a file of its own, since the pane shows it before it writes. */
import type { Inputs } from "../../functions/plan/inputs";

/** Each is one literal of a formula, which holds at most 255 characters. */
const GRINDING_CAUTIONS = {
  dry: "Dry grinding needs dust collection: a shroud and a HEPA collector with the maker's airflow. Indoors, HEPA-vacuum between passes; a respirator over 4 h a day of hand grinding.",
  wet: "Wet floors are slippery. Keep cords out of the water and use GFCI protection. Collect the caustic slurry: none goes down a drain. Edges ground dry still need a shroud.",
} as const;

/** Where something has to come off: asbestos was in flooring adhesive, lead in paint. */
const COATED_CAUTION = "Old adhesive may hold asbestos and old paint lead: have them tested before you strip or grind.";

/** The caution that follows the inputs' cells, as a formula without its equals sign. */
export const grindingCaution = (cell: (key: "grinding" | "surface") => string) =>
  `IF(${cell("surface")}="coated","${COATED_CAUTION} ","")&IF(${cell("grinding")}="wet","${GRINDING_CAUTIONS.wet}","${GRINDING_CAUTIONS.dry}")`;

export const HAZARDS =
  "Silica dust, noise, vibration, power and slippery floors: local codes, manufacturers' instructions and licensed practice come first.";

/** Where a workbook may have plans of both kinds. */
export const CAUTION = `${HAZARDS} ${GRINDING_CAUTIONS.dry} ${GRINDING_CAUTIONS.wet} ${COATED_CAUTION}`;

export const cautionFor = ({ grinding, surface }: Pick<Inputs, "grinding" | "surface">) =>
  [HAZARDS, ...(surface === "coated" ? [COATED_CAUTION] : []), GRINDING_CAUTIONS[grinding]].join(" ");
