/** Every text in the copies and in what is reported of them, by kind. */
import type { Reason } from "../common/refusal";
import type { ListedScale, ScalePart } from "./scales";

/** A typed reason with its words. */
export interface Worded extends Reason {
  readonly text: string;
}

type Texts = Readonly<Record<string, (facts: any) => string>>;

const wordedBy =
  <T extends Texts>(texts: T) =>
  <K extends keyof T & string>(kind: K, ...[facts = {}]: Parameters<T[K]>): Worded => ({
    kind,
    facts,
    text: texts[kind]!(facts),
  });

// Both copies

const plural = (count: number, one: string, many = `${one}s`) => `${count} ${count === 1 ? one : many}`;
const cells = (count: number) => plural(count, "cell");

// The calculating copy

/** What else came of a formula that couldn't be converted. */
const EFFECTS = {
  empty: "The workbook holds no value for it, so the cell is empty.",
  cellMissing: "Some cells that it fills aren't in the workbook.",
  ruleGone: "The rule was left out.",
};
export type Effect = keyof typeof EFFECTS;

/** Why a formula was not converted, and what else came of it. */
export const withEffects = ({ kind, facts, text }: Worded, ...effects: Effect[]): Worded =>
  effects.length === 0
    ? { kind, facts, text }
    : { kind, facts: { ...facts, effects }, text: [text, ...effects.map((effect) => EFFECTS[effect])].join(" ") };

/** Where a formula stood that is not a cell's. */
export const PLACE = {
  name: (name: string) => `the name ${name}`,
  column: (column: string, table: string) => `the column ${column} of the table ${table}`,
  dataValidation: (cells: string) => `the data validation of ${cells}`,
  cfRule: (cells: string) => `the conditional format of ${cells}`,
};

/** What the copy does not have, none of it the user's own work. */
export const removed = wordedBy({
  panes: () => "this add-in's task pane and settings",
  signature: () => "the digital signature, which isn't valid for a changed workbook",
});

export const NOTE_SHEET = {
  name: "About this copy",
  madeOn: "Made on",
  madeBy: "Made by",
  program: (version: string) => `Gritledger ${version}`,
  units: "Units",
  about: "This workbook calculates without the add-in. Formulas that used its functions now use the spreadsheet's own.",
  inputs: "Change the inputs as before; on a stage plan they're the colored cells. Leave the formulas as they are.",
  converted: "Formulas converted",
  formulas: "Formulas",
  values: "Formulas replaced by their values",
  headings: ["Sheet", "Place", "Formula", "Why"],
  none: "None",
  leftOut: "Left out",
  care: "Take care",
  costs: "If your workbook shows costs and margin, so does this copy. Anyone who has it can see them.",
};

export const REFERENCE_SHEET = {
  name: "Reference",
  title: "Grits and their sizes, used by this workbook's formulas",
  ownScale: (range: string) => `Your scale: ${range}`,
};

export const SCALE_SOURCES: Readonly<Record<ListedScale, string>> = {
  mesh: "mesh: ASTM E11, then the trade's resin grits (15000 / grit)",
  f: "f: FEPA F, ISO 8486",
  p: "p: FEPA P, ISO 6344",
  jis: "jis: JIS R 6001",
};

/** The headings of a scale's columns; those of the user's own have a few more. */
export const SCALE_HEADINGS: Readonly<Record<ScalePart | "given grit" | "given size" | "counts" | "label", string>> = {
  "given grit": "Grit as entered",
  "given size": "Size as entered",
  counts: "Counts",
  grit: "Grit",
  size: "Size, µm",
  exponent: "Exponent to next grit",
  from: "From size², µm²",
  nearest: "Nearest grit",
  label: "Label",
};

// The price-only copy

/** What it never has, and how a report lists it. */
export const LEFT_OUT = {
  names: "names",
  comments: "comments",
  charts: "charts",
  pictures: "pictures",
  tables: "tables",
  pivotTables: "pivot tables",
  links: "links to other files",
  customParts: "custom parts",
  properties: "document properties",
  pageTexts: "headers and footers",
  conditionalFormats: "conditional formats",
  validations: "data validations",
};
export type LeftOut = keyof typeof LEFT_OUT;

/** As many addresses as a question can hold. */
const MOST_ADDRESSES = 12;

export const caution = wordedBy({
  hiddenKept: ({ sheet, count }: { sheet: string; count: number }) =>
    `${cells(count)} in hidden rows or columns on "${sheet}" will be in the copy: the chosen range includes ${count === 1 ? "it" : "them"}.`,
  noValue: ({ sheet, count }: { sheet: string; count: number }) =>
    `${cells(count)} on "${sheet}" ${count === 1 ? "has a formula" : "have formulas"} without a saved value and will be empty in the copy.`,
  errors: ({ sheet, count }: { sheet: string; count: number }) =>
    `${cells(count)} on "${sheet}" ${count === 1 ? "shows" : "show"} an error, such as #NAME?.`,
  pictures: ({ sheet, count }: { sheet: string; count: number }) =>
    `${plural(count, "picture")} in cells on "${sheet}" will not be in the copy.`,
  unseen: ({ sheet, addresses }: { sheet: string; addresses: readonly string[] }) => {
    const more = addresses.length - MOST_ADDRESSES;
    const list = addresses.slice(0, MOST_ADDRESSES).join(", ") + (more > 0 ? ` and ${more} more` : "");
    const [contain, it] = addresses.length === 1 ? ["contains a hidden value", "it"] : ["contain hidden values", "one"];
    return `${cells(addresses.length)} on "${sheet}" ${contain}, by a format that shows nothing or text in the cell's own color: ${list}. Anyone who selects ${it} can read it.`;
  },
});
