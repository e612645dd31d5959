/** What a field of a stage plan is, for the lists in fields/. */
import { ABOVE_0, BELOW_1, type Domain } from "../domain";
import type { Quantity, System } from "../units";

/** The inputs as conditions see them; their exact type is made from the list below. */
export type Given = Readonly<Record<string, unknown>>;

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
  /** Less than this is pointed out, too. */
  readonly usualLeast?: number;
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
  readonly start: string | Readonly<Record<System, string>>;
  /** Characters that it may have; 200 unless said. */
  readonly longest?: number;
}

export type Field = NumberField | ChoiceField | TextField;

export const GROUPS = {
  job: "Job",
  floor: "Floor",
  joints: "Joints and cracks",
  finish: "Finish",
  machine: "Machine",
  edges: "Edges",
  crew: "Crew",
  exposure: "Crew exposure",
  price: "Price",
  planning: "Passes and depth",
  pastJobs: "Past jobs",
} as const;
export type Group = keyof typeof GROUPS;

/** A number as messages show it: 100,000. */
export const grouped = (x: number): string => x.toLocaleString("en-US", { maximumSignificantDigits: 12 });

export const PERCENT_BELOW_100: Domain = { ...BELOW_1, words: "from 0% to below 100%" };
/** No floor, machine or crew is larger than this (common practice, no source): beyond it a number is a typing error. */
export const upTo = (most: number): Domain => ({
  words: `above 0 and at most ${grouped(most)}`,
  least: ABOVE_0.least,
  most,
});
export const from0To = (most: number): Domain => ({ words: `from 0 to ${grouped(most)}`, least: 0, most });
export const both = <Start extends number | null>(start: Start) => ({ us: start, metric: start });
