/** The inputs on the sheet: one row each, its value live for every formula. */
import { type ChoiceField, type Field, GROUPS, type Group } from "../../functions/plan/field";
import { FIELDS, field, KEYS, type Key } from "../../functions/plan/fields";
import { applies, isInMil, tellsExposure, unitOf } from "../../functions/plan/inputs";
import { usualDepth, usualLastGrit } from "../../functions/plan/usual";
import { MICROMETERS_IN_A_MIL, TOOL_SIZES_PER_LENGTH } from "../../functions/units";
import { pinned } from "../common/a1";
import type { PlacedCell, PlacedRule } from "./block";
import type { Plan } from "./plan";
import { RULES } from "./plan-texts";
import type { NumberFormat, StyleName } from "./styles";

/** The inputs that matter for this plan, by group, in the order of the list. */
export function inputGroups(plan: Plan): { title: string; keys: Key[] }[] {
  const groups = Object.keys(GROUPS) as Group[];
  return groups
    .map((group) => ({
      title: GROUPS[group],
      keys: KEYS.filter((key) => FIELDS[key].group === group && isOnSheet(key, plan)),
    }))
    .filter(({ keys }) => keys.length > 0);
}

/** What the cell for wet or dry may ask for later stands there from the start. */
const isOnSheet = (key: Key, plan: Plan) => key === "waterRate" || (applies(key, plan.inputs) && !isSpare(key, plan));

/** Rows of the sheet only where they are more than a blank, a 0 or a "no". */
const IF_GIVEN: readonly Key[] = ["floor", "length", "width", "jointLength", "crackLength", "grout", "coats"];

/** The crew's exposure has rows where any of it was given. */
const isSpare = (key: Key, { inputs, links }: Plan) =>
  // The sign is in the number formats: no cell could change it.
  key === "currency" ||
  (IF_GIVEN.includes(key) && !links[key] && [null, 0, "", "no"].includes(inputs[key])) ||
  (FIELDS[key].group === "exposure" && !tellsExposure(inputs));

/**
 * A reference alone makes 0 of a blank cell, and a price of that. A blank stays one where the plan can do without; else
 * it is an error, not "", which some functions fill in with a default and some spreadsheets count as 0.
 */
const linkTo = (cell: string, key: Key) => `=IF(${cell}="",${mayBeBlank(key) ? '""' : "NA()"},${cell})`;

/** Blank in the pane, these are worked out; nothing works them out once a cell is to give them. */
const WORKED_OUT: readonly Key[] = ["length", "width", "area", "edgeLength", "machineArea", "depth", "minimum"];

export function mayBeBlank(key: Key): boolean {
  const f: Field = field(key);
  return f.kind === "number" && f.blankMeans !== undefined && !WORKED_OUT.includes(key);
}

/** What stands in an input's cell: a link to the user's own cell, what is worked out, or the value. */
export function inputContent(key: Key, { inputs, links }: Plan, cell: (key: Key) => string): PlacedCell["content"] {
  const link = links[key];
  if (link) return { formula: linkTo(pinned(link), key) };
  const value = inputs[key];
  if (value !== null) return value;
  const rectangle = inputs.length !== null && inputs.width !== null;
  if (key === "area") return { formula: `=${cell("length")}*${cell("width")}` };
  if (key === "edgeLength" && rectangle) return { formula: `=2*(${cell("length")}+${cell("width")})` };
  if (key === "edgeLength") return { formula: `=4*SQRT(${cell("area")})` };
  if (key === "machineArea") {
    const strip = `${cell("edgeLength")}*${cell("stripWidth")}/${TOOL_SIZES_PER_LENGTH[inputs.units]}`;
    return { formula: `=MAX(0,${cell("area")}-${strip}-${cell("obstacles")})` };
  }
  // The spreadsheet's own arithmetic, so that the checks can tell a bad input from functions that do not work.
  if (key === "minimum")
    return { formula: `=${cell("hoursADay")}*${cell("crew")}*${cell("rate")}*(1+${cell("burden")})` };
  if (key === "lastGrit") return usualLastGrit(inputs);
  if (key === "depth") return usualDepth(inputs);
  return "";
}

export function inputFormat(key: Key): NumberFormat | undefined {
  const f: Field = field(key);
  if (f.kind !== "number") return undefined;
  // Worked out by a formula or converted, with more digits than anybody measures.
  if (key === "edgeLength" || key === "load") return "oneDecimal";
  if (f.percent) return "percentFine";
  if (f.money) return "moneyInput";
  return f.quantity === "floorArea" ? "count" : "asTyped";
}

export const inputStyle = (key: Key): StyleName => (field(key).kind === "number" ? "input" : "inputText");

/** Units are fixed once a plan stands: its numbers are in them. */
export const allowedValues = ({ choices }: ChoiceField, key: Key, { units }: Plan["inputs"]): string[] =>
  key === "units" ? [units] : choices.map(([value]) => value);

/** Keeps the cell within what its formulas accept. */
export function inputRule(key: Key, { inputs }: Plan, row: number, column: number): PlacedRule | undefined {
  const f: Field = field(key);
  const at = { row, column, rows: 1 };
  if (f.kind === "choice") {
    const values = allowedValues(f, key, inputs);
    return { ...at, rule: { list: values.join(",") }, message: RULES.oneOf(f.label, values) };
  }
  if (f.kind !== "number") return undefined;
  const { least, most, whole = false, words } = f.domain;
  return { ...at, rule: { least, most, whole }, message: RULES.within(f.label, words) };
}

export const inputLabel = (key: Key) => field(key).label;
const listed = (texts: readonly string[]) => `{${texts.map((text) => `"${text}"`).join(",")}}`;

/** Of a choice it begins with what the word in the cell stands for; formulas read the word, so that one stays. */
export function inputNote(key: Key, { inputs }: Plan, cell: (key: Key) => string): PlacedCell["content"] {
  const f = field(key);
  const note = f.sheetNote ?? f.note;
  if (f.kind !== "choice") return note;
  const words = allowedValues(f, key, inputs);
  const labels = f.choices.filter(([word]) => words.includes(word)).map(([, label]) => label);
  const label = `INDEX(${listed(labels)},1,MATCH(${cell(key)},${listed(words)},0))`;
  return { formula: `=IFERROR(${label}&". ","")&"${note}"` };
}

/** The unit beside the value; a percent shows its own sign, and in US units a depth or size its mil. */
export function inputUnit(key: Key, { inputs }: Plan, cell: (key: Key) => string): PlacedCell["content"] {
  const unit = unitOf(key, inputs.units);
  if (!isInMil(unit, inputs)) return unit === "%" ? "" : unit;
  const mil = `ROUND(${cell(key)}/${MICROMETERS_IN_A_MIL},1)`;
  return { formula: `=IF(N(${cell(key)})>0,"${unit} = "&${mil}&" mil","${unit}")` };
}
