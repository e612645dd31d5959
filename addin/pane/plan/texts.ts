/** Every text of the Plan view, to be read through in one go. The fields' own stand with them in `functions/plan/`. */
import { LEAST_FOR_INTERVAL } from "../../../functions/audit/classes";
import { GROUPS } from "../../../functions/plan/field";
import { counted } from "../../common/count";
import type { NoCalibration, QuoteLine } from "../../sheet";
import { doing } from "../texts";
import type { NoHours, OtherSlab } from "./calibration";
import type { NoComparison, Trouble } from "./derived";
import type { LinkTrouble } from "./state";

export const PLAN_COMMANDS = {
  insertTable: doing("inserting the stage table", "insert the stage table"),
  insertLines: doing("inserting the lines", "insert the lines"),
  open: doing("opening the plan", "open the plan"),
  update: doing("updating the plan", "update the plan"),
  takeFromCell: doing("reading the selected cell", "read the selected cell"),
  readShelf: doing("reading the shelf", "read the shelf"),
  addMachines: doing("adding a machines table", "add a machines table"),
  fillInExample: doing("filling in the example", "fill in the example"),
  addStrip: doing("writing the test strip", "write the test strip"),
  writeMeasured: doing("writing to the tooling table", "write to the tooling table"),
};

const passes = (n: number) => counted(n, "pass", "passes");
function noCalibration(why: NoCalibration): string {
  switch (why.kind) {
    case "sheetGone":
      return "is gone or has another name";
    case "otherWord":
      return `holds ${why.found === "" ? "nothing" : `“${why.found}”`} where “${why.word}” was, in ${why.at}`;
    case "tooFew":
      return `has fewer than ${LEAST_FOR_INTERVAL} of these jobs with hours now`;
    case "noFactor":
      return `shows no factor for them any more, in ${why.at}`;
  }
}

/** Empty where nothing is in the way. */
export function troubleWords(trouble: Trouble | null): string {
  switch (trouble?.kind) {
    case undefined:
      return "";
    case "fields":
      return PLAN.fieldsToFix(
        trouble.count,
        trouble.groups.map((group) => GROUPS[group]),
      );
    case "shelfInOtherUnits":
      return PLAN.readingShelfInUnits;
    case "shelfUnfit":
      return `${trouble.why}.`;
    case "noStages":
      return PLAN.noStages[trouble.source];
    case "exposure":
      return `${GROUPS.exposure}: ${trouble.problem}.`;
    case "refused":
      return trouble.why;
  }
}

export function noComparisonWords(none: NoComparison): string {
  switch (none.kind) {
    case "noOwnStages":
      return PLAN.nothingToCompare;
    case "noCheapest":
      return none.notes.join(" ");
    case "mineSkips":
      return PLAN.notComparable;
    case "refused":
      return none.why;
  }
}

function jobsOn({ slab, jobs }: OtherSlab): string {
  if (jobs === "none") return `No past jobs on ${slab}s: see the Jobs view.`;
  if (jobs === "no factor") return `Past jobs on ${slab}s have no factor yet: see the Jobs view.`;
  return `Jobs on ${slab}s: ${jobs.factor}`;
}

const sentence = (text: string) => text.replace(/\.?$/, ".");

export const PLAN = {
  sentence,

  // Welcome
  welcomeTitle: "What this does",
  welcome: [
    "You describe the floor, the finish and the crew.",
    "You get a grinding and polishing sequence from your own shelf, priced stage by stage.",
    "One button writes it into your quote as live cells you can change.",
  ],
  fillInExample: "Fill in an example",
  exampleOver: ["The form has entries of yours, and the example takes their place.", "Fill it in?"] as const,
  dontShowAgain: "Don't show again",
  exampleJob: "Cooper's yard, unit 4 (example)",

  // Inputs
  inMil: (mil: string) => `= ${mil} mil`,
  toFix: (count: number) => `${count} to fix`,
  takeFromCell: (label: string) => `Take ${label.toLowerCase()} from the selected cell`,
  unlink: (label: string, address: string) => `Keep the number and stop taking ${label.toLowerCase()} from ${address}`,
  from: "from",
  fieldKey: (key: string) => `${key} in a field takes its number from the selected cell.`,
  takenFrom: (label: string, address: string) => `${label} is taken from ${address}.`,
  cellHoldsNoNumber: (label: string, address: string, holds: string) =>
    `${label} needs a number; ${address} holds ${holds}. Select another cell.`,
  linkTrouble: (label: string, { at, holds }: LinkTrouble) =>
    `${label} is taken from ${at}, which ${holds === null ? "is gone" : `holds ${holds}`}; it needs a number`,
  unlinkedByUnits: (labels: readonly string[]) =>
    `Converted. No longer taken from cells, because those still hold the other unit: ${labels.join(", ")}.`,
  fieldsToFix: (count: number, sections: readonly string[]) =>
    `${count === 1 ? "One field needs" : `${count} fields need`} attention: ${sections.join(", ")}.`,

  // Doubts
  doubtOf: (label: string, doubt: string) => `${label}: ${doubt.charAt(0).toLowerCase()}${doubt.slice(1)}.`,
  unusual: (most: string, unit: string) => `More than the usual ${most} ${unit}; check the number and its unit`,
  unusuallyLittle: (least: string, unit: string) =>
    `Less than the usual ${least} ${unit}; check the number and its unit`,
  otherRectangle: (measured: string) => `Length × width is ${measured}, but the price uses the area given here`,
  otherRectangleAndEdges: (measured: string) =>
    `Length × width is ${measured}, but the price uses the area given here; edge length comes from length and width`,
  changedBehindLink: (address: string, before: string, now: string) =>
    `The cell ${address} changed from ${before} to ${now}; check that it is still the right one`,
  otherEdge: (area: string) => `Typed for a floor of ${area}; check it for this one`,
  fractionForPercent: (taken: string, meant: string) => `Taken as ${taken}%; for ${meant}% type ${meant}`,

  // Shelf
  shelf: (from: string) => `Tools and prices: ${from}`,
  starterShelf: "starter shelf",
  readAgain: "Read again",
  readingShelfInUnits: "Reading the shelf in the other units…",

  // Two sequences
  compareTitle: "Two sequences",
  planWith: "Plan with",
  sources: { mine: "My sequence", cheapest: "Cheapest from my shelf" },
  compared: {
    mine: "Mine",
    cheapest: "Cheapest",
    difference: "Difference",
    stages: "Stages",
    passes: "Passes",
    hours: "Hours",
    setsUsed: "Sets used",
    setsToBuy: "Sets to buy",
    cost: "Stage cost",
    price: "Price",
    same: "same",
  },
  comparedInWords: (label: string, sign: number, amount: string) =>
    `${label.toLowerCase()} ${sign === 0 ? "the same" : `${amount} ${sign < 0 ? "less" : "more"}`}`,
  comparedAloud: (parts: readonly string[]) => `Cheapest compared with mine: ${parts.join(", ")}.`,
  nothingToCompare: "Nothing to compare: your sequence has no stages yet.",
  notComparable:
    "Nothing to compare: yours costs less only because it skips something the cheapest must have, such as steps in order, enough passes, the bond this slab wants, the last grit or a liquid.",
  noPrice: (name: string) => `${name} has no price on the shelf, so the plan leaves it out.`,
  insertWithout: (names: string) =>
    [`The plan leaves out what has no price on the shelf: ${names}.`, "Insert it all the same?"] as const,
  passesShort: (tool: string, planned: number, needed: number, isFirst: boolean) =>
    `${tool}: ${passes(planned)} planned, ${needed} needed ${isFirst ? "for this depth" : "to remove the scratches before"}.`,
  powerShort: (tool: string, machine: string, cut: string, full: string) =>
    `${tool} on ${machine}: the power there allows a cut of ${cut} µm a pass, not ${full} µm: more passes at less depth.`,
  cutNotMeasured: (stage: number, tool: string, listed: number) =>
    `My stage ${stage}, ${tool}: no cut per pass measured, so ${passes(listed)} as listed.`,

  // Sequence
  sequenceTitle: "Sequence",
  noStages: { mine: "No stages yet; add one from the shelf.", cheapest: "The shelf has no sequence for this floor." },
  origin: {
    cheapest: "Cheapest by cut per pass. Editing makes it your sequence.",
    own: "Your own sequence.",
    proposed: "Proposed from your shelf by common practice. Change what you know better.",
  },
  stage: (n: number) => `Stage ${n}`,
  stageKeys: "Left and right arrow keys move within a stage.",
  workOf: (n: number) => `Work of stage ${n}`,
  toolOf: (n: number) => `Tool or liquid of stage ${n}`,
  machineOf: (n: number) => `Machine of stage ${n}`,
  moveUp: (n: number) => `Move stage ${n} up`,
  moveDown: (n: number) => `Move stage ${n} down`,
  remove: (n: number, tool: string) => `Remove stage ${n}, ${tool}`,
  moved: (n: number) => `Moved to place ${n}.`,
  removed: (n: number) => `Removed stage ${n}.`,
  added: (tool: string) => `Added ${tool} as the last stage.`,
  check: "Check: ",
  passes,
  workOutPasses: "Use worked-out passes",
  workOutPassesOf: (n: number) => `Use worked-out passes in stage ${n}`,
  passesWorkedOut: (n: number) => `Stage ${n} has worked-out passes again.`,
  coats: (n: number) => counted(n, "coat"),
  wait: (hours: string) => `then wait ${hours} h`,
  pressure: (amount: string) => `${amount} on the floor`,
  addStage: "Add a stage…",
  addStageWith: "Add a stage with",
  proposeAgain: "Propose again",
  cheapestMachinesButton: "Cheapest machine for each stage",
  cheapestMachines: (saved: string) => `Each stage is now on its cheapest machine: ${saved} less for the stages.`,
  cheapestMachinesAlready: "Each stage is already on its cheapest machine.",
  oneMachine: "Every stage uses the machine entered above. More than one machine?",
  addMachines: "Add a machines table",
  machinesAdded: (what: string) =>
    `${what}. These are sample machines: replace them before you quote. The cheapest sequence uses them wherever they cost less.`,
  machineAbove: "The machine entered above",
  machineGone: (name: string) => `${name} (not in the machines table)`,
  toolGone: (name: string) => `${name} (not on the shelf)`,
  liquids: "liquids and other work",

  // Result
  resultTitle: "Result",
  price: "Price",
  pricePer: (unit: string) => `Price per ${unit}`,
  perArea: (price: string, unit: string) => `${price} per ${unit}`,
  cost: "Total cost",
  stageHours: "Stage hours",
  crewHours: "Crew hours incl. setup",
  days: "Days on site",
  waits: "Working hours waiting for cures",
  dust: (mass: string) => `About ${mass} of concrete to haul off as dust: sealed bags, no dry sweeping.`,
  slurry: (volume: string, mass: string) =>
    `About ${volume} of slurry to collect, ${mass} of it concrete. It's caustic: keep it out of drains.`,
  isMinimum: (isDay: boolean) =>
    `This is the minimum charge${isDay ? ": one day's wages and burden for the crew, without machine, tools or margin" : ""}.`,
  edgesDecide: (some: number, all: number) =>
    `Edges set the hours of ${some === all ? `all ${all}` : `${some} of ${all}`} tool stages: the hand work takes longer than the machine.`,
  setsToBuy: (sets: number, price: string) =>
    `Tools are priced by wear, liquids by whole containers. To buy for this job: ${counted(sets, "tool set")}, ${price}.`,
  costByStage: "Direct cost by stage",
  setup: "Setup and cleanup",

  // Past jobs
  calibratedBy: (label: string) => `Past jobs: ${label}`,
  atConfidence: (confidence: string) => `At ${confidence}:`,
  calibrated: (days: number) => `of stage time, ${counted(days, "day")} on site, price`,
  likelyRange: (low: string, high: string) => `Likely price range: ${low} to ${high}, two jobs in three.`,
  removeCalibration: "Remove past jobs",
  calibrationRemoved: "Past jobs removed; using the standard estimate.",
  noHours: (none: NoHours) =>
    none.kind === "auditGone"
      ? `The audit sheet for these past jobs (${none.label}) ${noCalibration(none.why)}. Remove past jobs, or write the audit again and use it.`
      : `No hours at this confidence: ${none.why}.`,
  otherSlab: (other: OtherSlab) =>
    `These past jobs were on ${other.calibrated}s; this is a ${other.slab} (${other.hardness} Mohs). ${jobsOn(other)}`,
  useInstead: (group: string) => `Use ${group}s instead`,

  // Exposure
  exposureTitle: "Crew exposure, one person's day",
  actionValue: (figure: string) => `action value ${figure}`,
  limit: (figure: string) => `limit ${figure}`,

  exposureNotLoaded: "Crew exposure couldn't be loaded. Check the connection, then open the pane again.",

  // Plans of the workbook
  which: "Plan",
  newPlan: "New plan",
  onSheet: (floor: string, sheet: string) => (floor === sheet ? floor : `${floor} (${sheet})`),
  openOver: ["The form holds entries that aren't in the workbook yet.", "Drop them and open the other plan?"] as const,
  opened: (floor: string, sheet: string) => `Opened ${floor} from “${sheet}”. Change it, then update the plan.`,
  started: "A new plan. The form starts fresh.",
  update: "Update plan",
  insertAsNew: "Insert as new plan",
  notUpdated: (why: string) => `Couldn't update the plan. ${why}`,
  nothingToUpdate: (sheet: string) => `Nothing to update: the plan on “${sheet}” is as it is here.`,
  updateAsk: (sheet: string, changes: readonly string[]) =>
    [`On “${sheet}”: ${changes.join("; ")}.`, "Update the plan?"] as const,
  changes: {
    blank: "blank",
    noPrice: "none",
    from: (label: string, was: string, is: string) => `${label}: ${was} → ${is}`,
    linked: (label: string, cell: string) => `${label}: from ${cell}`,
    unlinked: (label: string, value: string) => `${label}: ${value}, no longer from a cell`,
    stageAdded: (n: number, { tool }: { tool: string }) => `stage ${n} added: ${tool}`,
    stageRemoved: (n: number, { tool }: { tool: string }) => `stage ${n} removed: ${tool}`,
    passes: (n: number, tool: string, count: number | undefined) =>
      count === undefined ? `stage ${n}, ${tool}: worked-out passes` : `stage ${n}, ${tool}: ${passes(count)} by hand`,
  },

  // Inserting
  insertAt: "Insert at",
  places: { "new sheet": "a new sheet", "selected cell": "a new sheet, with lines at the selected cell" },
  linesTitle: "Lines at the selected cell",
  lines: {
    price: "Price",
    perArea: "Price per area",
    hours: "Hours",
    days: "Days on site",
    sets: "Tool sets to buy",
    stages: "Stages in words",
  } satisfies Record<QuoteLine, string>,
  noLines: "Tick at least one line.",
  insertLines: "Insert lines here",
  insert: "Insert stage table",
  notInserted: (why: string) => `Couldn't insert the stage table. ${why}`,
  priceFollowed: (price: string) =>
    `The workbook has changed: ${price ? `the price is now ${price}` : "there is no price now"}.`,
  priceChangedMeanwhile: (now: string, before: string) =>
    `The workbook had changed: the price is ${now}, not ${before}.`,
  draftUnfit: "The plan kept from before doesn't fit this version, so the form starts fresh.",

  // Test strip
  scratchTitle: "Scratch test",
  stripTitle: "Test strip",
  stripDigest: "Measure a test strip or a worn set. Plan with your own cut, wear and life.",
  partNotLoaded: "This couldn't be loaded. Check the connection, then close and open it.",
  stripTaken: (tool: string) =>
    `The plan now uses the cut measured with ${tool}, with passes that follow scratch depth. To go back: Test strip, Restore previous values.`,
  stripRestored: "Cut and passes are as before the strip.",
} as const;
