/**
 * What a list of past jobs may record of a job: the one list of fields that the mapping, the check of the rows, the
 * empty jobs table and the Audit sheet all follow.
 */
import { ABOVE_0, type Domain, FROM_0 } from "../domain";
import { FIELDS } from "../plan/fields";
import type { Quantity } from "../units";

type Side = "quoted" | "actual";

export interface JobField {
  /** The header in our own jobs table. No / [ ] # ' in it: a structured reference would need them escaped. */
  readonly label: string;
  readonly note: string;
  readonly kind: "text" | "date" | "number";
  /** What a number, or the number of a date's day, may be. */
  readonly domain?: Domain;
  readonly money?: true;
  /** The area has the unit of the system, the others that have one a fixed unit. */
  readonly quantity?: Quantity;
  readonly unit?: string;
  /** Without it the job is left out of every figure. */
  readonly required?: true;
  /** Which half of a pair it is. */
  readonly side?: Side;
  /** What a heading says that means this field, in the main words of SYNONYMS; the likelier one first. */
  readonly words: readonly string[];
}

/** Days count from 1; the one after the last would be in the year 10000, beyond what a spreadsheet knows. */
const DATE: Domain = { words: "a date", least: 1, most: 2958466 - 1e-6 };

const PRICE = { kind: "number", domain: ABOVE_0, money: true, required: true, words: ["price"] } as const;
const COST = { kind: "number", domain: FROM_0, money: true, required: true, words: ["cost"] } as const;
const HOURS = { kind: "number", domain: ABOVE_0, unit: "h", words: ["hours", "labor hours"] } as const;
const RATE = {
  kind: "number",
  domain: FROM_0,
  money: true,
  unit: "/h",
  words: [
    ...["rate", "labor rate", "rate hours", "labor rate hours"],
    ...["money per hours", "labor money per hours", "labor cost per hours"],
  ],
} as const;
const SETS = { kind: "number", domain: FROM_0, unit: "sets", words: ["sets", "tool sets"] } as const;
const SET_PRICE = {
  kind: "number",
  domain: FROM_0,
  money: true,
  words: ["price sets", "price tool sets", "cost sets", "cost tool sets", "money per sets", "money per tool sets"],
} as const;
const LIQUIDS = { kind: "number", domain: FROM_0, money: true, words: ["liquids", "cost liquids"] } as const;

export const JOB_FIELDS = {
  job: {
    label: "Job",
    note: "Number or name; each job has its own",
    kind: "text",
    required: true,
    words: ["job number", "job", "job name"],
  },
  date: {
    label: "Date",
    note: "Date finished",
    kind: "date",
    domain: DATE,
    words: ["finished date", "date", "finished"],
  },
  area: {
    label: "Floor area",
    note: "Floor ground or polished",
    kind: "number",
    domain: ABOVE_0,
    quantity: "floorArea",
    words: ["area", "floor area"],
  },
  passes: {
    label: "Passes",
    note: "Total over all stages; blank counts as 1",
    kind: "number",
    domain: ABOVE_0,
    words: ["passes", "number passes", "actual passes"],
  },
  bond: {
    label: "Bond",
    note: "Tools that did most of the work",
    kind: "text",
    words: ["bond", "tool bond", "actual bond"],
  },
  hardness: {
    label: "Slab hardness",
    note: "Mohs scratch number, 1 to 10",
    kind: "number",
    domain: FIELDS.hardness.domain,
    unit: "Mohs",
    words: ["hardness", "floor hardness", "mohs", "mohs hardness", "floor mohs", "floor mohs hardness"],
  },
  machine: {
    label: "Machine",
    note: "Machine that did most of the work",
    kind: "text",
    words: ["machine", "machine name", "actual machine"],
  },
  quotedPrice: { label: "Quoted price", note: "Price the job was sold at", side: "quoted", ...PRICE },
  actualPrice: {
    label: "Actual price",
    note: "Amount billed, with extras and credits",
    side: "actual",
    ...PRICE,
  },
  quotedCost: { label: "Quoted cost", note: "Full cost behind the quoted price", side: "quoted", ...COST },
  actualCost: { label: "Actual cost", note: "Full cost once finished", side: "actual", ...COST },
  quotedHours: { label: "Quoted hours", note: "Hours paid at the labor rate", side: "quoted", ...HOURS },
  actualHours: { label: "Actual hours", note: "Hours paid at the labor rate", side: "actual", ...HOURS },
  quotedRate: { label: "Quoted labor rate", note: "Per hour, with burden", side: "quoted", ...RATE },
  actualRate: { label: "Actual labor rate", note: "Per hour, with burden", side: "actual", ...RATE },
  quotedSets: { label: "Quoted sets", note: "Tool sets; fractions are fine", side: "quoted", ...SETS },
  actualSets: { label: "Actual sets", note: "Tool sets; fractions are fine", side: "actual", ...SETS },
  quotedSetPrice: { label: "Quoted set price", note: "Price of one tool set", side: "quoted", ...SET_PRICE },
  actualSetPrice: { label: "Actual set price", note: "Price of one tool set", side: "actual", ...SET_PRICE },
  quotedLiquids: {
    label: "Quoted liquids",
    note: "Cost of densifier, guard and other liquids",
    side: "quoted",
    ...LIQUIDS,
  },
  actualLiquids: {
    label: "Actual liquids",
    note: "Cost of densifier, guard and other liquids",
    side: "actual",
    ...LIQUIDS,
  },
} as const satisfies Record<string, JobField>;

export type JobKey = keyof typeof JOB_FIELDS;
export const JOB_KEYS = Object.keys(JOB_FIELDS) as JobKey[];
/** The field without its literal type, for code that treats all fields alike. */
export const jobField = (key: JobKey): JobField => JOB_FIELDS[key];

/** What is recorded twice: as quoted and as it turned out. One half is of no use without the other. */
export const PAIRS = {
  price: ["quotedPrice", "actualPrice"],
  cost: ["quotedCost", "actualCost"],
  hours: ["quotedHours", "actualHours"],
  rate: ["quotedRate", "actualRate"],
  sets: ["quotedSets", "actualSets"],
  setPrice: ["quotedSetPrice", "actualSetPrice"],
  liquids: ["quotedLiquids", "actualLiquids"],
} as const satisfies Record<string, readonly [quoted: JobKey, actual: JobKey]>;
export type PairKey = keyof typeof PAIRS;
/** The other half of each half. */
export const OTHER_HALF: Readonly<Partial<Record<JobKey, JobKey>>> = Object.fromEntries(
  Object.values(PAIRS).flatMap(([quoted, actual]) => [
    [quoted, actual],
    [actual, quoted],
  ]),
);
