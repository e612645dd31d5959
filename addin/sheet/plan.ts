/** A stage plan as the pane hands it over to be written. */
import type { Inputs, Key } from "../../functions/plan/inputs";
import type { Stage } from "../../functions/plan/proposal";
import type { Shelf } from "../../functions/plan/shelf";

/** Inputs that are taken from a cell of the user's: where it is, such as "Quote!C5". */
export type Links = Partial<Record<Key, string>>;

export interface Plan {
  inputs: Inputs;
  links: Links;
  stages: readonly Pick<Stage, "work" | "tool">[];
  shelf: Shelf;
}

/** Names that the plan's parts take in this workbook, all of them free. */
export interface PlanNames {
  stages: string;
  tooling: string;
  liquids: string;
  cost: string;
  hours: string;
  price: string;
}

export const CAUTION =
  "Silica dust, noise, vibration, power and slippery floors: local codes, the makers' instructions and licensed practice come first.";
