/** A stage plan as the pane hands it over to be written. */
import type { Key } from "../../functions/plan/fields";
import type { Inputs } from "../../functions/plan/inputs";
import type { Liquid, Machine, Shelf, Tool } from "../../functions/plan/shelf";
import type { PlannedStage } from "../../functions/plan/stage";
import type { System } from "../../functions/units";

/** Inputs that are taken from a cell of the user's: where it is, such as "Quote!C5". */
export type Links = Partial<Record<Key, string>>;

export interface Plan {
  inputs: Inputs;
  links: Links;
  stages: readonly PlannedStage[];
  shelf: Shelf;
  /** What the pane warned of when the plan was written. */
  notes?: readonly string[];
  /** Past jobs that the hours are calibrated by; their label is the input `pastJobs`. */
  pastJobs?: PastJobs;
}

/** Hours that past jobs were estimated at and really took: expressions over the audit's cells, 0 or blank where none. */
export interface PastJobs {
  readonly estimated: string;
  readonly actual: string;
  /** The kind of slab that all of them were on, where that is what makes them alike: "medium slab". */
  readonly slab?: string;
}

/** The same, and the audit's own line of them: word, kind, jobs, factor, low and high of the interval. */
export interface CalibratedJobs extends PastJobs {
  readonly line: string;
}

/** A table may be in other units than the plan, whose formulas convert it then. */
export type ShelfUnits = Readonly<Record<"tooling" | "liquids" | "machines", System>>;

/** Names that the plan's parts take in this workbook, all of them free. */
export interface PlanNames {
  stages: string;
  tooling: string;
  liquids: string;
  /** Only where the workbook has a machines table. */
  machines: string | undefined;
  /** Optional columns that the tooling table does not have. */
  toolingLacks: readonly (keyof Tool)[];
  /** The same of the liquids table. */
  liquidsLacks: readonly (keyof Liquid)[];
  /** The same of the machines table. */
  machinesLack: readonly (keyof Machine)[];
  /** The units of each table of the shelf, where the workbook has one; a new one is in the plan's. */
  shelfUnits: ShelfUnits | undefined;
  cost: string;
  hours: string;
  price: string;
  days: string;
  /** At the confidence that past jobs allow; only where a plan is calibrated by some. */
  hoursAt: string;
  priceAt: string;
  daysAt: string;
}
