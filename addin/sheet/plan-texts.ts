/** Every text of a stage plan on the sheet that is not an input's (functions/plan/fields.ts) or a table's heading. */

export const HEADINGS = {
  plan: "Stage plan",
  block: "Stages",
  stages: "Stages",
  price: "Price",
  time: "Hours and days",
  checks: "Checks",
  inputs: "Inputs",
  total: "Total",
} as const;

export function titled(heading: string, { jobName, floor }: { readonly jobName: string; readonly floor: string }) {
  const names = [jobName, floor].filter((name) => name !== "");
  return names.length > 0 ? `${heading}: ${names.join(", ")}` : heading;
}

export const planNotes = (notes: readonly string[] = []) =>
  notes.length > 0 ? `When this was planned: ${notes.join(" ")}` : "";

/** The figures at the top of the sheet. */
export const KEY_LABELS = {
  price: "Price",
  cost: "Total cost",
  margin: "Margin",
  perArea: (area: string) => `Per ${area}`,
  days: "Days",
  hours: "Hours",
  sequence: "Sequence",
  /** Before a confidence, such as 80%. */
  priceAt: "At ",
  upToDate: "Numbers up to date?",
} as const;

export const LINE_LABELS = {
  stages: "Stages: tool wear, whole containers",
  setup: "Setup and cleanup",
  direct: "Direct cost",
  overhead: "Overhead",
  contingency: "Contingency",
  cost: "Total cost",
  price: "Price at margin or minimum",
  perArea: "Price per area",
  margin: "Margin at this price",
  markup: "Equivalent markup",
  hours: "Hours of all stages",
  waits: "Working hours waiting for cures",
  jobsFactor: "Past jobs: actual ÷ estimated hours",
  hoursAt: "Hours",
  priceAt: "Price",
  hoursLow: "Likely hours, low",
  hoursHigh: "Likely hours, high",
  priceLow: "Likely price range, low",
  priceHigh: "Likely price range, high",
  jobsSlab: "Past jobs on slabs like this?",
  crewHours: "Crew hours incl. setup",
  days: "Days on site",
  daysAt: "Days on site",
  edgesDecide: "Hours set by the edges in",
  setsToBuy: "Tool sets to buy",
  setsPrice: "Price of the sets to buy",
  sequence: "Sequence",
  matrix: "Matrix for this slab",
  loadPerTool: "Load per tool",
  dust: "Concrete ground off",
  slurry: "Slurry to collect",
  passesEnough: "Enough passes for this floor?",
  powerEnough: "Power enough for a full cut?",
  upToDate: KEY_LABELS.upToDate,
  inputsPossible: "Inputs complete and valid?",
  rowsWhole: "All stages calculated?",
  formulasIntact: "All formulas in place?",
  chosenForThese: "Stages chosen for these inputs?",
  edgesFit: "Edge length fits the area?",
  inputsFigure: "Checksum of all inputs",
  figureBack: "Checksum via Gritledger",
} as const;

/** What stands behind a unit, with the care that the amount needs. */
export const WASTE_WORDS = {
  waits: "h, not in the cost",
  dust: ": sealed bags, no dry sweeping",
  solids: " of solids in the slurry",
  slurry: ": caustic, keep out of drains",
} as const;

export const CHECK_WORDS = {
  upToDate: "up to date",
  outOfDate: "out of date: recalculate (Gritledger, Functions view)",
  notWorking:
    "not calculated: Gritledger's functions aren't loaded here. Install the add-in, or use Check and repair in its Functions view",
  badInput: "can't tell: the shelf or a name in the stages shows an error",
  badPrice: "calculated, but the price shows an error",
  badCalibration: "calculated, but a past-jobs figure shows an error; check Confidence and the audit",
} as const;

/** Goes before the input at fault. */
export const FIX = "fix an input: ";

/** Goes before what is wrong with figures that do belong to their inputs. */
export const BUT = "calculated, but ";

export const COMPLAINTS = {
  must: (domain: string) => `must be ${domain}`,
  percent: (domain: string) => `${domain} (30% is 0.3)`,
  showsError: "shows an error",
  edgeStayed: "the floor area has changed since planning and the edge length has not: check it",
  typedOver: " holds a typed value in place of its formula: undo that, or write the plan again",
  chosenFor: (label: string, value: string | number | boolean) =>
    `the stages were chosen for another ${label} (${value}): plan again in the pane`,
  noFigures:
    "of the stages shows no figure or an error: check its Tool and Passes, or copy the formulas of another row into it",
  badPasses: "of the stages must be a number, 0 or more",
  noPrice: "a price on the shelf is missing or below 0",
  planned: " planned, ",
  neededForDepth: " needed for this depth",
  neededForScratches: " needed to remove the scratches before",
  powerAllows: ": the power there allows a cut of ",
  powerOf: " µm a pass, not ",
  powerThen: " µm: more passes at less depth",
  noCut: "the first tool has no cut per pass, or a figure is missing",
  slab: (slab: string) => `the past jobs were on ${slab}s`,
} as const;

export const SEQUENCE_FINE = "in order";

export const RULES = {
  work: (works: readonly string[]) => `Work must be one of: ${works.join(", ")}.`,
  tool: "Pick a tool from the shelf. For liquids and other work, type the name as listed on the shelf.",
  machine: "Pick a machine from the machines table. Leave blank for the machine entered in the inputs.",
  oneOf: (label: string, values: readonly string[]) => `${label} must be one of: ${values.join(", ")}.`,
  within: (label: string, domain: string) => `${label} must be ${domain}.`,
  title: "Check this input",
} as const;

/** Shown by a row of the stage table whose name the shelf has more than once. */
export const DUPLICATES = { shelf: "duplicate name on the shelf", machine: "duplicate machine name" } as const;
