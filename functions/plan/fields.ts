/**
 * The fields of a stage plan: what each is called, its unit, what it may be and where it starts.
 * The pane's fields, their checks and the sheet's inputs block all come from this one list.
 */
import { ABOVE_0, ABOVE_1, BELOW_1, type Domain, FROM_0, SHARE } from "../cell";
import { HOURS, LEVEL } from "../exposure";
import type { Quantity, System } from "../units";

/** The inputs as conditions see them; their exact type is made from the list below. */
type Given = Readonly<Record<string, unknown>>;

export type Choice = readonly [value: string, label: string];

interface Common {
  /** The named cell on the sheet. */
  readonly name: string;
  readonly group: Group;
  readonly label: string;
  readonly note: string;
  /** Shown instead of the note on the sheet, where it differs from the pane. */
  readonly sheetNote?: string;
  /** Shown and asked for only where it matters. */
  readonly when?: (given: Given) => boolean;
}

export interface NumberField extends Common {
  readonly kind: "number";
  readonly domain: Domain;
  /** A quantity is converted when the units switch; anything else keeps its fixed unit. */
  readonly quantity?: Quantity;
  readonly unit?: string;
  readonly percent?: boolean;
  readonly money?: boolean;
  /** Start value in us and in metric units; null leaves it to be filled in or worked out on the sheet. */
  readonly start: Readonly<Record<System, number | null>>;
  /** More than this is pointed out as a likely typing error, and still taken: jobs differ (common practice, no source). */
  readonly usualMost?: Readonly<Record<System, number>>;
  /** A blank is worked out on the sheet instead of being missing. */
  readonly blankMeans?: string;
}

export interface ChoiceField extends Common {
  readonly kind: "choice";
  readonly choices: readonly Choice[];
  readonly start: string;
}

interface TextField extends Common {
  readonly kind: "text";
  readonly start: string;
}

export type Field = NumberField | ChoiceField | TextField;

export const GROUPS = {
  job: "Job",
  floor: "Floor",
  finish: "Finish",
  machine: "Machine",
  edges: "Edges",
  crew: "Crew",
  exposure: "Crew exposure",
  price: "Price",
  planning: "Passes and test strip",
  pastJobs: "Past jobs",
} as const;
export type Group = keyof typeof GROUPS;

const PERCENT_BELOW_100: Domain = { ...BELOW_1, words: "from 0% to below 100%" };
const PERCENT_TO_100: Domain = { ...SHARE, words: "above 0% and at most 100%" };
const PERCENT_FROM_0: Domain = { ...FROM_0, words: "0% or more" };
const BURDEN_PERCENT: Domain = { words: "from 0% to 500%", least: 0, most: 5 };
const MOHS: Domain = { words: "from 1 to 10 on the Mohs scale", least: 1, most: 10 };
const CHANCE: Domain = { words: "above 0% and below 100%", least: ABOVE_0.least, most: BELOW_1.most };
/** No air measures 0: a blank says that it was not measured. */
const DUST: Domain = { ...ABOVE_0, words: "above 0 (leave it blank if not measured)" };
/** Beside what is not known of the crew's exposure nothing is calculated. */
const NOT_GIVEN = "not given";
/** No floor, machine or crew is larger than this (common practice, no source): beyond it a number is a typing error. */
export const upTo = (most: number): Domain => ({ words: `above 0 and at most ${most}`, least: ABOVE_0.least, most });
const from0To = (most: number): Domain => ({ words: `from 0 to ${most}`, least: 0, most });
const wholeTo = (most: number): Domain => ({ words: `a whole number from 1 to ${most}`, least: 1, most, whole: true });
const HOURS_A_DAY: Domain = { words: "above 0 and at most 24", least: ABOVE_0.least, most: 24 };

const both = <Start extends number | null>(start: Start) => ({ us: start, metric: start });

const isCoating = (given: Given) => given.finish === "coating";
const isCalibrated = (given: Given) => given.pastJobs !== "";

export const FIELDS = {
  jobName: {
    kind: "text",
    name: "Floor_Job",
    group: "job",
    label: "Job name",
    note: "Shown on the plan and its sheet",
    start: "",
  },
  units: {
    kind: "choice",
    name: "Floor_Units",
    group: "job",
    label: "Units",
    note: "Switching converts your entries",
    sheetNote: "Fixed for this plan",
    choices: [
      ["us", "US (ft, in, gal)"],
      ["metric", "Metric (m, mm, L)"],
    ],
    start: "us",
  },
  length: {
    kind: "number",
    name: "Floor_Length",
    group: "floor",
    label: "Floor length",
    note: "Enter length and width, or just the area",
    domain: upTo(100_000),
    usualMost: { us: 2000, metric: 600 },
    quantity: "length",
    start: both(null),
    blankMeans: "not needed if you enter the area",
  },
  width: {
    kind: "number",
    name: "Floor_Width",
    group: "floor",
    label: "Floor width",
    note: "Enter length and width, or just the area",
    domain: upTo(100_000),
    usualMost: { us: 2000, metric: 600 },
    quantity: "length",
    start: both(null),
    blankMeans: "not needed if you enter the area",
  },
  area: {
    kind: "number",
    name: "Floor_Area",
    group: "floor",
    label: "Floor area",
    note: "Length × width, unless you enter it here",
    domain: upTo(1e9),
    usualMost: { us: 1_000_000, metric: 100_000 },
    quantity: "floorArea",
    start: both(null),
    blankMeans: "length × width",
  },
  edgeLength: {
    kind: "number",
    name: "Floor_Edge",
    group: "floor",
    label: "Edge length",
    note: "Default: perimeter, or a square's if only area is known",
    domain: from0To(1_000_000),
    usualMost: { us: 20_000, metric: 6000 },
    quantity: "length",
    start: both(null),
    blankMeans: "the perimeter",
  },
  obstacles: {
    kind: "number",
    name: "Floor_Obstacles",
    group: "floor",
    label: "Obstacles",
    note: "Columns, racks, pits: area the machine can't grind",
    domain: from0To(1e9),
    quantity: "floorArea",
    start: both(0),
  },
  machineArea: {
    kind: "number",
    name: "Floor_MachineArea",
    group: "floor",
    label: "Machine area",
    note: "Default: floor area less edge strip and obstacles",
    domain: upTo(1e9),
    quantity: "floorArea",
    start: both(null),
    blankMeans: "floor area less edge strip and obstacles",
  },
  hardness: {
    kind: "number",
    name: "Floor_Hardness",
    group: "floor",
    label: "Slab hardness",
    note: "Softest Mohs pick that scratches it",
    domain: MOHS,
    unit: "Mohs",
    start: both(5),
  },
  surface: {
    kind: "choice",
    name: "Floor_Surface",
    group: "floor",
    label: "Starting surface",
    note: "Sets how coarse the first tool is",
    choices: [
      ["bare", "bare, troweled"],
      ["coated", "coating or adhesive to remove"],
      ["ground", "already ground"],
    ],
    start: "bare",
  },
  groundGrit: {
    kind: "number",
    name: "Floor_GroundGrit",
    group: "floor",
    label: "Existing grit",
    note: "The grit the floor was left at",
    domain: ABOVE_0,
    unit: "grit",
    start: both(80),
    when: (given) => given.surface === "ground",
  },
  finish: {
    kind: "choice",
    name: "Floor_Finish",
    group: "finish",
    label: "Target finish",
    note: "Appearance level, coating profile, or last grit",
    choices: [
      ["coating", "profile for a coating"],
      ["flat", "level 1, flat (ground)"],
      ["satin", "level 2, satin (honed)"],
      ["polished", "level 3, polished"],
      ["highly polished", "level 4, highly polished"],
      ["by grit", "by the last grit"],
    ],
    start: "polished",
  },
  film: {
    kind: "number",
    name: "Floor_Film",
    group: "finish",
    label: "Coating thickness",
    note: "Sets the surface profile the coating needs",
    domain: FROM_0,
    quantity: "filmThickness",
    start: { us: 12, metric: 300 },
    when: isCoating,
  },
  lastGrit: {
    kind: "number",
    name: "Floor_LastGrit",
    group: "finish",
    label: "Last grit",
    note: "Usual grit for the finish, unless you set it",
    domain: ABOVE_0,
    unit: "grit",
    start: both(null),
    blankMeans: "the usual grit for the finish",
  },
  exposure: {
    kind: "choice",
    name: "Floor_Exposure",
    group: "finish",
    label: "Aggregate exposure",
    note: "Sets how deep the first cuts go",
    choices: [
      ["A", "class A, cement fines"],
      ["B", "class B, fine aggregate"],
      ["C", "class C, coarse aggregate"],
    ],
    start: "B",
    when: (given) => !isCoating(given) && given.surface !== "ground",
  },
  maxRatio: {
    kind: "number",
    name: "Floor_MaxStep",
    group: "finish",
    label: "Largest step",
    note: "Coarser size ÷ finer size; about double is usual",
    domain: ABOVE_1,
    unit: "×",
    start: both(2.5),
  },
  scale: {
    kind: "choice",
    name: "Floor_Scale",
    group: "finish",
    label: "Grit scale",
    note: "For tools without a size on the shelf",
    choices: [
      ["mesh", "mesh"],
      ["f", "FEPA F"],
      ["p", "FEPA P"],
      ["jis", "JIS"],
    ],
    start: "mesh",
  },
  machineWidth: {
    kind: "number",
    name: "Machine_Width",
    group: "machine",
    label: "Working width",
    note: "Across the grinding heads",
    domain: upTo(10_000),
    usualMost: { us: 100, metric: 2500 },
    quantity: "toolSize",
    start: { us: 28, metric: 700 },
  },
  speed: {
    kind: "number",
    name: "Machine_Speed",
    group: "machine",
    label: "Travel speed",
    note: "Time it over a marked length",
    domain: upTo(1000),
    usualMost: { us: 100, metric: 30 },
    quantity: "travelSpeed",
    start: { us: 15, metric: 4.5 },
  },
  overlap: {
    kind: "number",
    name: "Machine_Overlap",
    group: "machine",
    label: "Overlap",
    note: "Share of each lane that overlaps the last",
    domain: PERCENT_BELOW_100,
    percent: true,
    start: both(0.2),
  },
  efficiency: {
    kind: "number",
    name: "Machine_Efficiency",
    group: "machine",
    label: "Efficiency",
    note: "Share of working time spent grinding",
    domain: PERCENT_TO_100,
    percent: true,
    // 45 minutes of an hour; up to 50, 0.83, is usual (common practice, no source).
    start: both(0.75),
  },
  load: {
    kind: "number",
    name: "Machine_Load",
    group: "machine",
    label: "Load on the tools",
    note: "Weight on the heads, shared by all tools",
    domain: upTo(100_000),
    usualMost: { us: 5000, metric: 2500 },
    quantity: "load",
    start: { us: 550, metric: 250 },
  },
  toolsASet: {
    kind: "number",
    name: "Machine_Tools",
    group: "machine",
    label: "Tools in a set",
    note: "How many the machine carries at once",
    domain: wholeTo(1000),
    usualMost: { us: 100, metric: 100 },
    unit: "tools",
    start: both(9),
  },
  grinding: {
    kind: "choice",
    name: "Floor_Grinding",
    group: "machine",
    label: "Wet or dry",
    note: "Sets the cautions and the shelf's wet factors",
    choices: [
      ["dry", "dry, with dust collection"],
      ["wet", "wet, slurry collected"],
    ],
    start: "dry",
  },
  machineCost: {
    kind: "number",
    name: "Machine_Cost",
    group: "machine",
    label: "Machine cost",
    note: "Owning and running it, dust collector included",
    domain: FROM_0,
    unit: "/h",
    money: true,
    start: both(28),
  },
  edgeRate: {
    kind: "number",
    name: "Machine_EdgeRate",
    group: "edges",
    label: "Edge rate",
    note: "One pass by hand; a foot a minute is usual",
    domain: upTo(100_000),
    usualMost: { us: 600, metric: 180 },
    quantity: "edgeRate",
    // One foot a minute: common practice, no source.
    start: { us: 60, metric: 18 },
  },
  edgePasses: {
    kind: "number",
    name: "Machine_EdgePasses",
    group: "edges",
    label: "Edge passes",
    note: "By hand at each step, however often the machine passes",
    domain: { words: "a whole number from 0 to 100", least: 0, most: 100, whole: true },
    start: both(1),
  },
  stripWidth: {
    kind: "number",
    name: "Floor_EdgeStrip",
    group: "edges",
    label: "Edge strip",
    note: "Width along walls that the hand grinder takes",
    domain: from0To(10_000),
    usualMost: { us: 24, metric: 600 },
    quantity: "toolSize",
    start: { us: 6, metric: 150 },
  },
  edgeWork: {
    kind: "choice",
    name: "Crew_EdgeWork",
    group: "edges",
    label: "Edge work",
    note: "Alongside needs a second person",
    choices: [
      ["alongside", "alongside the machine"],
      ["after", "after the machine"],
    ],
    start: "alongside",
  },
  crew: {
    kind: "number",
    name: "Crew_Size",
    group: "crew",
    label: "Crew size",
    note: "People working together on site",
    domain: wholeTo(1000),
    usualMost: { us: 20, metric: 20 },
    unit: "people",
    start: both(2),
  },
  rate: {
    kind: "number",
    name: "Crew_Rate",
    group: "crew",
    label: "Hourly rate",
    note: "Base wage for one person",
    domain: FROM_0,
    unit: "/h",
    money: true,
    start: both(30),
  },
  burden: {
    kind: "number",
    name: "Crew_Burden",
    group: "crew",
    label: "Labor burden",
    note: "Taxes, insurance and leave on top of wages",
    domain: BURDEN_PERCENT,
    percent: true,
    start: both(0.3),
  },
  setup: {
    kind: "number",
    name: "Crew_Setup",
    group: "crew",
    label: "Setup and cleanup",
    note: "Whole-crew hours for the job",
    domain: from0To(10_000),
    usualMost: { us: 100, metric: 100 },
    unit: "h",
    start: both(3),
  },
  changeHours: {
    kind: "number",
    name: "Crew_Change",
    group: "crew",
    label: "Tool change",
    note: "Whole-crew hours for each tool change",
    domain: from0To(1000),
    usualMost: { us: 8, metric: 8 },
    unit: "h",
    start: both(0.25),
  },
  hoursADay: {
    kind: "number",
    name: "Crew_Day",
    group: "crew",
    label: "Hours per day",
    note: "Working hours on site",
    domain: HOURS_A_DAY,
    unit: "h",
    start: both(8),
  },
  handHours: {
    kind: "number",
    name: "Crew_HandHours",
    group: "exposure",
    label: "Hours with hand tools",
    note: "One person's busiest day; 0 if none",
    domain: HOURS,
    unit: "h",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  machineHours: {
    kind: "number",
    name: "Crew_MachineHours",
    group: "exposure",
    label: "Hours at the machine",
    note: "Same person, same day; 0 if none",
    domain: HOURS,
    unit: "h",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  handVibration: {
    kind: "number",
    name: "Crew_HandVibration",
    group: "exposure",
    label: "Hand-tool vibration",
    note: "From its plate or the manufacturer's data sheet",
    domain: ABOVE_0,
    unit: "m/s²",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  machineVibration: {
    kind: "number",
    name: "Crew_MachineVibration",
    group: "exposure",
    label: "Machine vibration",
    note: "At the handle; 0 if nobody holds the handle",
    domain: FROM_0,
    unit: "m/s²",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  handNoise: {
    kind: "number",
    name: "Crew_HandNoise",
    group: "exposure",
    label: "Hand-tool noise",
    note: "At the ear, measured or from the data sheet",
    domain: LEVEL,
    unit: "dBA",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  machineNoise: {
    kind: "number",
    name: "Crew_MachineNoise",
    group: "exposure",
    label: "Machine noise",
    note: "At the ear, measured or from the data sheet",
    domain: LEVEL,
    unit: "dBA",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  dust: {
    kind: "number",
    name: "Crew_Dust",
    group: "exposure",
    label: "Measured silica dust",
    note: "Respirable crystalline silica in the air people breathe",
    domain: DUST,
    unit: "µg/m³",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  dustHours: {
    kind: "number",
    name: "Crew_DustHours",
    group: "exposure",
    label: "Hours at that dust level",
    note: "Per day, 0 if none; other hours count as dust-free",
    domain: HOURS,
    unit: "h",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  shroudDiameter: {
    kind: "number",
    name: "Crew_Shroud",
    group: "exposure",
    label: "Shrouded wheel diameter",
    note: "Hand grinder used dry; 0 if none",
    domain: FROM_0,
    quantity: "toolSize",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  overhead: {
    kind: "number",
    name: "Price_Overhead",
    group: "price",
    label: "Overhead",
    note: "On direct cost",
    domain: PERCENT_FROM_0,
    percent: true,
    start: both(0.12),
  },
  contingency: {
    kind: "number",
    name: "Price_Contingency",
    group: "price",
    label: "Contingency",
    note: "On direct cost plus overhead",
    domain: PERCENT_FROM_0,
    percent: true,
    start: both(0.05),
  },
  margin: {
    kind: "number",
    name: "Price_Margin",
    group: "price",
    label: "Target margin",
    note: "Share of the price, not of the cost",
    domain: PERCENT_BELOW_100,
    percent: true,
    start: both(0.3),
  },
  minimum: {
    kind: "number",
    name: "Price_Minimum",
    group: "price",
    label: "Minimum charge",
    note: "Never quote below this; default: a day of the crew",
    domain: FROM_0,
    money: true,
    start: both(null),
    blankMeans: "a day of the crew, wages and burden",
  },
  passesFrom: {
    kind: "choice",
    name: "Floor_Passes",
    group: "planning",
    label: "Passes",
    note: "How many passes each tool makes",
    choices: [
      ["larger", "enough for depth and scratches, at least the shelf's"],
      ["scratch", "just enough for depth and scratches"],
      ["shelf", "as listed on the shelf"],
    ],
    start: "larger",
  },
  depth: {
    kind: "number",
    name: "Floor_Depth",
    group: "planning",
    label: "Depth to remove",
    note: "Default: usual for the class; a test strip decides",
    domain: from0To(50_000),
    usualMost: { us: 6000, metric: 6000 },
    unit: "µm",
    start: both(null),
    blankMeans: "the usual depth for the surface and exposure",
  },
  cutCoefficient: {
    kind: "number",
    name: "Floor_Cut",
    group: "planning",
    label: "Cutting coefficient",
    note: "From a test strip; blank uses the shelf's cut",
    domain: upTo(1_000_000),
    usualMost: { us: 5000, metric: 5000 },
    unit: "mm³/kJ",
    start: both(null),
    blankMeans: "the shelf's cut per pass",
  },
  stripSize: {
    kind: "number",
    name: "Floor_StripSize",
    group: "planning",
    label: "Test strip grit size",
    note: "Other tools cut in proportion to their size",
    domain: upTo(10_000),
    unit: "µm",
    start: both(null),
    blankMeans: "not needed without a coefficient",
  },
  slideSpeed: {
    kind: "number",
    name: "Machine_SlideSpeed",
    group: "planning",
    label: "Sliding speed",
    note: "Tool speed over the floor, strip and job alike",
    domain: upTo(100_000),
    usualMost: { us: 10_000, metric: 50 },
    quantity: "slidingSpeed",
    start: both(null),
    blankMeans: "not needed without a coefficient",
  },
  pastJobs: {
    kind: "text",
    name: "Price_PastJobs",
    group: "pastJobs",
    label: "Calibrated from",
    note: "Similar past jobs, picked in the Jobs view",
    start: "",
    when: isCalibrated,
  },
  confidence: {
    kind: "number",
    name: "Price_Confidence",
    group: "pastJobs",
    label: "Confidence",
    note: "Chance that the hours are enough",
    domain: CHANCE,
    percent: true,
    start: both(0.8),
    when: isCalibrated,
  },
} as const satisfies Record<string, Field>;

export type Key = keyof typeof FIELDS;
export const KEYS = Object.keys(FIELDS) as Key[];
/** The field without its literal type, for code that treats all fields alike. */
export const field = (key: Key): Field => FIELDS[key];
