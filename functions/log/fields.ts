/** What a line of the log records of a day's work on one stage: the one list that the sheet, the card and the check follow. */
import { type Domain, FROM_0 } from "../domain";
import { type Headings, headingGuesser } from "../headings";
import { from0To } from "../plan/field";
import type { Quantity } from "../units";

export interface LogField {
  /** The header in the log's table, without its unit. */
  readonly label: string;
  readonly note: string;
  readonly kind: "text" | "date" | "number";
  readonly domain?: Domain;
  /** The area has the unit of the system, the others that have one a fixed unit. */
  readonly quantity?: Quantity;
  readonly unit?: string;
  /** A line without it can't be used. */
  readonly required?: true;
  /** What a heading says that means this field, in the main words of SYNONYMS; the likelier one first. */
  readonly words: readonly string[];
}

/** Days count from 1; the one after the last would be in the year 10000. */
const DATE: Domain = { words: "a date", least: 1, most: 2958466 - 1e-6 };
const HOURS = from0To(24);

export const LOG_FIELDS = {
  date: {
    label: "Date",
    note: "Day the work was done",
    kind: "date",
    domain: DATE,
    required: true,
    words: ["date", "work date", "day"],
  },
  floor: {
    label: "Floor",
    note: "As its plan names it",
    kind: "text",
    required: true,
    words: ["floor", "floor name"],
  },
  stage: {
    label: "Stage",
    note: "Its number and tool, as in the plan",
    kind: "text",
    required: true,
    words: ["stage", "stage number", "stage tool", "tool"],
  },
  area: {
    label: "Area done",
    note: "Each pass counts; joints and cracks by length",
    kind: "number",
    domain: FROM_0,
    quantity: "floorArea",
    words: ["area done", "area", "done"],
  },
  machineHours: {
    label: "Machine h",
    note: "Hours the machine ran",
    kind: "number",
    domain: HOURS,
    unit: "h",
    words: ["machine hours"],
  },
  crewHours: {
    label: "Crew h",
    note: "Clock hours of the crew on this stage",
    kind: "number",
    domain: HOURS,
    unit: "h",
    words: ["crew hours", "hours", "work hours"],
  },
  sets: {
    label: "Sets fitted",
    note: "New tool sets fitted; blank if none",
    kind: "number",
    domain: FROM_0,
    unit: "sets",
    words: ["sets fitted", "fitted sets", "sets", "tool sets", "new sets", "new tool sets"],
  },
  height: {
    label: "Segment height",
    note: "Measured after the work; blank if not measured",
    kind: "number",
    domain: from0To(1000),
    unit: "mm",
    words: ["segment height", "height", "segment", "tool height", "segment mm", "height mm", "segment height mm"],
  },
  note: {
    label: "Note",
    note: "Anything worth knowing later",
    kind: "text",
    words: ["note"],
  },
} as const satisfies Record<string, LogField>;

export type LogKey = keyof typeof LOG_FIELDS;
export const LOG_KEYS = Object.keys(LOG_FIELDS) as LogKey[];
/** The field without its literal type, for code that treats all fields alike. */
export const logField = (key: LogKey): LogField => LOG_FIELDS[key];

/** A line of the log; null where nothing was written down. */
export interface LogLine {
  /** Days since 1899-12-30, as a sheet counts them. */
  readonly date: number;
  readonly floor: string;
  readonly stage: string;
  /** Floor done in single pass, ft² | m²; length for joints and cracks, ft | m. */
  readonly area: number | null;
  readonly machineHours: number | null;
  readonly crewHours: number | null;
  readonly sets: number | null;
  /** mm. */
  readonly height: number | null;
  readonly note: string;
}

/** A main word, and what else people write for it. */
const SYNONYMS: Readonly<Record<string, string>> = {
  date: "dates worked",
  day: "days",
  work: "working",
  floor: "floors slab room rooms hall bay zone location where",
  stage: "stages step steps",
  tool: "tools tooling diamond diamonds grit",
  number: "no nr num",
  area: "size footage sqft sf ft2 sqm m2",
  done: "finished completed ground today production",
  machine: "machines grinder equipment",
  crew: "men people labor team",
  hours: "hour hrs hr h time",
  sets: "set",
  fitted: "mounted installed changed",
  segment: "segments",
  height: "heights left remaining",
  note: "notes remark remarks comment comments",
};

/** Which heading of somebody's own list holds which field, as far as the headings say so beyond doubt. */
export const guessLogHeadings: (headings: readonly string[]) => Headings<LogKey> = headingGuesser(LOG_FIELDS, {
  synonyms: SYNONYMS,
});

/** Names are one whatever their case, as the spreadsheet's own comparisons have it. */
export const sameName = (one: string, other: string): boolean => one.toLowerCase() === other.toLowerCase();
