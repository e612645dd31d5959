/**
 * The inputs of a stage plan: what each is called, its unit, what it may be and where it starts.
 * The pane's fields, their checks and the sheet's inputs block all come from this one list.
 */
import * as z from "zod/mini";
import { ABOVE_0, ABOVE_1, BELOW_1, CellFailure, type Domain, FROM_0, SHARE, shown } from "../cell";
import { HOURS, LEVEL } from "../exposure";
import { NAMED_SCALES, sizeOf } from "../scale";
import { HOURS_IN_A_DAY } from "../tables/exposure-limits";
import { convert, type Quantity, type System, symbol } from "../units";

/** The inputs as conditions see them; their exact type is made from the list below. */
type Given = Readonly<Record<string, unknown>>;

export type Choice = readonly [value: string, label: string];

interface Common {
  /** The named cell on the sheet. */
  readonly name: string;
  readonly group: Group;
  readonly label: string;
  readonly note: string;
  /** Said instead of the note on the sheet, where it differs from the pane. */
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
  /** More than this is told as a likely slip, and yet taken: jobs differ (common practice, no source). */
  readonly usualMost?: Readonly<Record<System, number>>;
  /** A blank is worked out on the sheet instead of being missing. */
  readonly blankMeans?: string;
}

export interface ChoiceField extends Common {
  readonly kind: "choice";
  readonly choices: readonly Choice[];
  readonly start: string;
}

export interface TextField extends Common {
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

const PERCENT_BELOW_100: Domain = { ...BELOW_1, words: "from 0 % to below 100 %" };
const PERCENT_TO_100: Domain = { ...SHARE, words: "above 0 % and at most 100 %" };
const PERCENT_FROM_0: Domain = { ...FROM_0, words: "0 % or more" };
const BURDEN_PERCENT: Domain = { words: "from 0 % to 500 %", least: 0, most: 5 };
const MOHS: Domain = { words: "from 1 to 10 on the Mohs scale", least: 1, most: 10 };
const CHANCE: Domain = { words: "above 0 % and below 100 %", least: ABOVE_0.least, most: BELOW_1.most };
/** No air measures 0: a blank says that it was not measured. */
const DUST: Domain = { ...ABOVE_0, words: "above 0 (leave it blank if it was not measured)" };
/** Beside what is not known of the crew's exposure nothing is calculated. */
const NOT_GIVEN = "not given";
/** No floor, machine or crew is larger than this (common practice, no source): beyond it a number is a slip. */
export const upTo = (most: number): Domain => ({ words: `above 0 and at most ${most}`, least: ABOVE_0.least, most });
const from0To = (most: number): Domain => ({ words: `from 0 to ${most}`, least: 0, most });
const wholeTo = (most: number): Domain => ({ words: `a whole number from 1 to ${most}`, least: 1, most, whole: true });
const HOURS_A_DAY: Domain = { words: "above 0 and at most 24", least: ABOVE_0.least, most: 24 };

const both = (start: number | null) => ({ us: start, metric: start });

const isCoating = (given: Given) => given.finish === "coating";
const isLearned = (given: Given) => given.pastJobs !== "";

export const FIELDS = {
  jobName: {
    kind: "text",
    name: "Floor_Job",
    group: "job",
    label: "Job name",
    note: "What you call it on the quote",
    start: "",
  },
  units: {
    kind: "choice",
    name: "Floor_Units",
    group: "job",
    label: "Units",
    note: "Switching converts what is filled in",
    sheetNote: "Fixed: the numbers of this plan are in them",
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
    note: "Length and width, or the area alone",
    domain: upTo(100_000),
    usualMost: { us: 2000, metric: 600 },
    quantity: "length",
    start: both(null),
    blankMeans: "not needed when the area is given",
  },
  width: {
    kind: "number",
    name: "Floor_Width",
    group: "floor",
    label: "Floor width",
    note: "Length and width, or the area alone",
    domain: upTo(100_000),
    usualMost: { us: 2000, metric: 600 },
    quantity: "length",
    start: both(null),
    blankMeans: "not needed when the area is given",
  },
  area: {
    kind: "number",
    name: "Floor_Area",
    group: "floor",
    label: "Floor area",
    note: "Length × width, unless you know it",
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
    note: "The perimeter (a square's, if only the area is known)",
    domain: from0To(1_000_000),
    usualMost: { us: 20_000, metric: 6000 },
    quantity: "length",
    start: both(null),
    blankMeans: "the perimeter",
  },
  hardness: {
    kind: "number",
    name: "Floor_Hardness",
    group: "floor",
    label: "Slab hardness",
    note: "Mohs number of the softest scratch pick that marks it",
    domain: MOHS,
    unit: "Mohs",
    start: both(5),
  },
  surface: {
    kind: "choice",
    name: "Floor_Surface",
    group: "floor",
    label: "Starting surface",
    note: "Decides how coarse the first tool is",
    choices: [
      ["bare", "bare, trowelled"],
      ["coated", "coating or adhesive to remove"],
      ["ground", "already ground"],
    ],
    start: "bare",
  },
  groundGrit: {
    kind: "number",
    name: "Floor_GroundGrit",
    group: "floor",
    label: "Last grit on it",
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
    note: "Appearance levels 1 to 4, a coating profile, or the last grit",
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
    note: "Film the profile has to carry; it sets the profile class",
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
    note: "The usual one for the finish (a planning default), unless you set it",
    domain: ABOVE_0,
    unit: "grit",
    start: both(null),
    blankMeans: "the usual one for the finish",
  },
  exposure: {
    kind: "choice",
    name: "Floor_Exposure",
    group: "finish",
    label: "Aggregate exposure",
    note: "How deep the first cuts go",
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
    note: "Coarser size over finer; about double is usual",
    domain: ABOVE_1,
    unit: "×",
    start: both(2.5),
  },
  scale: {
    kind: "choice",
    name: "Floor_Scale",
    group: "finish",
    label: "Grit scale",
    note: "For tools whose size is blank on the shelf",
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
    note: "Across the heads",
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
    note: "Of neighbouring lanes",
    domain: PERCENT_BELOW_100,
    percent: true,
    start: both(0.2),
  },
  efficiency: {
    kind: "number",
    name: "Machine_Efficiency",
    group: "machine",
    label: "Efficiency",
    note: "Time the tools turn on the floor, of all time",
    domain: PERCENT_TO_100,
    percent: true,
    start: both(0.75),
  },
  load: {
    kind: "number",
    name: "Machine_Load",
    group: "machine",
    label: "Load on the tools",
    note: "Weight on the heads, for the load on each tool",
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
    note: "What the machine carries at once",
    domain: wholeTo(1000),
    usualMost: { us: 100, metric: 100 },
    unit: "tools",
    start: both(9),
  },
  machineCost: {
    kind: "number",
    name: "Machine_Cost",
    group: "machine",
    label: "Machine cost",
    note: "Owning and running, with the dust collector",
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
    note: "One pass with the hand tool; what wears on it is not priced",
    domain: upTo(100_000),
    usualMost: { us: 600, metric: 180 },
    quantity: "edgeRate",
    start: { us: 60, metric: 18 },
  },
  edgeWork: {
    kind: "choice",
    name: "Crew_EdgeWork",
    group: "edges",
    label: "Edges are done",
    note: "Alongside takes a second pair of hands",
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
    label: "People on site",
    note: "Working together",
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
    note: "Paid to one person",
    domain: FROM_0,
    unit: "/h",
    money: true,
    start: both(30),
  },
  burden: {
    kind: "number",
    name: "Crew_Burden",
    group: "crew",
    label: "Burden",
    note: "Taxes, insurance and leave on top of the rate",
    domain: BURDEN_PERCENT,
    percent: true,
    start: both(0.3),
  },
  setup: {
    kind: "number",
    name: "Crew_Setup",
    group: "crew",
    label: "Set-up and clean-up",
    note: "Hours of the whole crew for the job",
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
    note: "Hours of the whole crew, each time the tools are changed",
    domain: from0To(1000),
    usualMost: { us: 8, metric: 8 },
    unit: "h",
    start: both(0.25),
  },
  hoursADay: {
    kind: "number",
    name: "Crew_Day",
    group: "crew",
    label: "Hours a day",
    note: "Worked on site",
    domain: HOURS_A_DAY,
    unit: "h",
    start: both(8),
  },
  handHours: {
    kind: "number",
    name: "Crew_HandHours",
    group: "exposure",
    label: "Hours with hand tools",
    note: "One person's, on the fullest day; 0 for none",
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
    note: "The same person's; 0 for none",
    domain: HOURS,
    unit: "h",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  handVibration: {
    kind: "number",
    name: "Crew_HandVibration",
    group: "exposure",
    label: "Vibration of hand tool",
    note: "From its plate or the maker's sheet",
    domain: ABOVE_0,
    unit: "m/s²",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  machineVibration: {
    kind: "number",
    name: "Crew_MachineVibration",
    group: "exposure",
    label: "Vibration of machine",
    note: "At its handle; 0 where no hand is on it",
    domain: FROM_0,
    unit: "m/s²",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  handNoise: {
    kind: "number",
    name: "Crew_HandNoise",
    group: "exposure",
    label: "Noise of hand tool",
    note: "At the ear, measured or from the maker's sheet",
    domain: LEVEL,
    unit: "dBA",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  machineNoise: {
    kind: "number",
    name: "Crew_MachineNoise",
    group: "exposure",
    label: "Noise of machine",
    note: "At the ear, measured or from the maker's sheet",
    domain: LEVEL,
    unit: "dBA",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  dust: {
    kind: "number",
    name: "Crew_Dust",
    group: "exposure",
    label: "Silica dust measured",
    note: "Respirable crystalline silica in the air breathed",
    domain: DUST,
    unit: "µg/m³",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  dustHours: {
    kind: "number",
    name: "Crew_DustHours",
    group: "exposure",
    label: "Hours of that dust",
    note: "In the day, 0 for none; the rest of it counts as free of dust",
    domain: HOURS,
    unit: "h",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  shroudDiameter: {
    kind: "number",
    name: "Crew_Shroud",
    group: "exposure",
    label: "Wheel in the shroud",
    note: "Diameter, of a hand grinder that grinds dry; 0 for none",
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
    note: "On the direct cost",
    domain: PERCENT_FROM_0,
    percent: true,
    start: both(0.12),
  },
  contingency: {
    kind: "number",
    name: "Price_Contingency",
    group: "price",
    label: "Contingency",
    note: "On direct cost and overhead",
    domain: PERCENT_FROM_0,
    percent: true,
    start: both(0.05),
  },
  margin: {
    kind: "number",
    name: "Price_Margin",
    group: "price",
    label: "Target margin",
    note: "Of the price, not of the cost",
    domain: PERCENT_BELOW_100,
    percent: true,
    start: both(0.3),
  },
  minimum: {
    kind: "number",
    name: "Price_Minimum",
    group: "price",
    label: "Minimum charge",
    note: "No job goes out below it",
    domain: FROM_0,
    money: true,
    start: both(0),
  },
  passesFrom: {
    kind: "choice",
    name: "Floor_Passes",
    group: "planning",
    label: "Passes",
    note: "As many as you are used to, or as many as take out the scratches before",
    choices: [
      ["shelf", "as on the shelf"],
      ["scratch", "as the scratches need"],
    ],
    start: "shelf",
  },
  depth: {
    kind: "number",
    name: "Floor_Depth",
    group: "planning",
    label: "Depth to take off",
    note: "By the exposure, or the scratches that are there; a test strip knows better",
    domain: from0To(50_000),
    usualMost: { us: 6000, metric: 6000 },
    unit: "µm",
    start: both(null),
    blankMeans: "the usual one for the surface and the exposure",
  },
  cutCoefficient: {
    kind: "number",
    name: "Floor_Cut",
    group: "planning",
    label: "Cutting coefficient",
    note: "From a test strip on this slab; blank takes the shelf's cut per pass",
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
    label: "Grit size on the strip",
    note: "Of the tool it was measured with; other tools cut in proportion to their size",
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
    note: "Of the tools over the floor, on the strip and on the job",
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
    label: "Learned from",
    note: "Past jobs like this one, chosen in the Jobs view",
    start: "",
    when: isLearned,
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
    when: isLearned,
  },
} as const satisfies Record<string, Field>;

export type Key = keyof typeof FIELDS;
export const KEYS = Object.keys(FIELDS) as Key[];
/** The field without its literal type, for code that treats all fields alike. */
export const field = (key: Key): Field => FIELDS[key];

type ValueOf<F extends Field> = F extends NumberField
  ? number | null
  : F extends { choices: readonly Choice[] }
    ? F["choices"][number][0]
    : string;
/** Filled-in inputs: percent as fractions, blank numbers null. */
export type Inputs = { -readonly [K in Key]: ValueOf<(typeof FIELDS)[K]> };

/** The inputs a new plan starts with. */
export function startInputs(units: System = "us"): Inputs {
  const entries = KEYS.map((key) => {
    const f = field(key);
    return [key, f.kind === "number" ? f.start[units] : f.start];
  });
  return { ...Object.fromEntries(entries), units } as Inputs;
}

export const applies = (key: Key, given: Inputs): boolean => field(key).when?.(given) ?? true;

/** The unit as the label shows it: "ft²", "%", "/h". */
export function unitOf(key: Key, units: System): string {
  const f = field(key);
  if (f.kind !== "number") return "";
  if (f.percent) return "%";
  return f.quantity ? symbol(f.quantity, units) : (f.unit ?? "");
}

export const isWithin = (x: number, { least, most, whole }: Domain): boolean =>
  x >= least && x <= most && (!whole || Number.isInteger(x));

function numberSchema(f: NumberField) {
  const told = (x: number) => (f.percent ? `${Number((x * 100).toPrecision(12))} %` : String(x));
  return z.nullable(
    z.number({ error: (issue) => `${f.label} must be ${f.domain.words}; got ${shown(issue.input)}` }).check(
      z.superRefine((x, issues) => {
        if (!isWithin(x, f.domain)) issues.addIssue(`${f.label} must be ${f.domain.words}; got ${told(x)}`);
      }),
    ),
  );
}

function schemaOf(f: Field) {
  if (f.kind === "number") return numberSchema(f);
  if (f.kind === "text") return z.string().check(z.maxLength(200, `${f.label} must be at most 200 characters`));
  const values = f.choices.map(([value]) => value) as [string, ...string[]];
  return z.enum(values, {
    error: (issue) => `${f.label} must be one of ${values.join(", ")}; got ${shown(issue.input)}`,
  });
}

const SCHEMAS = new Map(KEYS.map((key) => [key, schemaOf(field(key))]));

/** A size, or why the grit has none. */
export function sizeOrFailure(find: () => number): number | CellFailure {
  try {
    return find();
  } catch (failure) {
    if (failure instanceof CellFailure) return failure;
    throw failure;
  }
}

/** What is wrong with the inputs, by field; empty when a plan can be made. */
export type Problems = Partial<Record<Key, string>>;

export function problemsOf(given: Inputs): Problems {
  const problems: Problems = {};
  for (const key of KEYS) {
    if (!applies(key, given)) continue;
    const f = field(key);
    const parsed = SCHEMAS.get(key)!.safeParse(given[key]);
    if (!parsed.success) problems[key] = parsed.error.issues[0]?.message ?? `${f.label} is not valid`;
    else if (f.kind === "number" && given[key] === null && !f.blankMeans) {
      problems[key] = `${f.label} is missing; it must be ${f.domain.words}`;
    }
  }
  if (given.area === null && (given.length === null || given.width === null) && !problems.area) {
    problems.area = "Floor area is missing; give it, or both length and width";
  }
  if (given.finish === "by grit" && given.lastGrit === null) {
    problems.lastGrit = "Last grit is missing; this finish is set by it";
  }
  if (given.surface === "ground" && given.groundGrit !== null && !problems.groundGrit && !problems.scale) {
    const left = sizeOrFailure(() => sizeOf(given.groundGrit!, NAMED_SCALES[given.scale]));
    if (left instanceof CellFailure) problems.groundGrit = `${FIELDS.groundGrit.label}: ${left.message}`;
  }
  for (const key of ["stripSize", "slideSpeed"] as const) {
    if (given.cutCoefficient === null || given[key] !== null) continue;
    problems[key] = `${FIELDS[key].label} is missing; the cutting coefficient needs it`;
  }
  if (given.edgeWork === "alongside" && given.crew === 1) {
    problems.edgeWork = "Edges alongside the machine need a crew of 2 or more; got 1";
  }
  const hours = (given.handHours ?? 0) + (given.machineHours ?? 0);
  if (hours > HOURS_IN_A_DAY && !problems.handHours && !problems.machineHours) {
    problems.machineHours = `Hours with hand tools and at the machine must come to at most 24; got ${hours}`;
  }
  return problems;
}

/** Drops the binary dust that a conversion and its way back leave: 5000.000000000001 is 5000. */
function withoutDust(x: number): number {
  const short = Number(x.toPrecision(12));
  return Math.abs(x - short) <= 4 * Number.EPSILON * Math.abs(x) ? short : x;
}

/** The same plan in the other system of units: every quantity that is filled in is converted. */
export function inUnits(given: Inputs, to: System): Inputs {
  const converted = { ...given, units: to } as Record<Key, unknown>;
  for (const key of KEYS) {
    const f = field(key);
    const value = given[key];
    if (f.kind === "number" && f.quantity && typeof value === "number") {
      converted[key] = withoutDust(convert(value, f.quantity, given.units, to));
    }
  }
  return converted as Inputs;
}

/** Floor area and edge length as the sheet will work them out. */
export function floorOf(given: Inputs): { area: number; edge: number } {
  const { length, width } = given;
  const rectangle = length !== null && width !== null;
  const area = given.area ?? (rectangle ? length * width : 0);
  const edge = given.edgeLength ?? (rectangle ? 2 * (length + width) : 4 * Math.sqrt(area));
  return { area, edge };
}
