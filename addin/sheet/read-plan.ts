/** Reads a plan back from its sheet: what stands there by now, and what of it can't be read. */
import { FIELDS, field, KEYS, type Key } from "../../functions/plan/fields";
import { type Inputs, startInputs } from "../../functions/plan/inputs";
import type { PlannedStage } from "../../functions/plan/stage";
import { usualDepth, usualLastGrit } from "../../functions/plan/usual";
import { WORKS, type Work } from "../../functions/plan/works";
import { cellAddress, quotedSheet } from "../common/a1";
import { inputContent } from "./inputs-block";
import type { Links, PastJobs } from "./plan";
import type { PlanOnSheet } from "./plans";

/** A cell of a plan that can't be read, and why. */
export interface Unreadable {
  readonly at: string;
  /** The input or the column of the stage table. */
  readonly label: string;
  readonly why: "notNumber" | "notAllowed" | "blankStage" | "noTool" | "noPastJobs";
  /** What it holds. */
  readonly holds: string;
}

export interface PlanRead {
  readonly inputs: Inputs;
  readonly links: Links;
  readonly stages: readonly PlannedStage[];
  /** What its hours at a confidence are worked out from, as the formulas on the sheet have it. */
  readonly pastJobs: PastJobs | undefined;
  readonly unreadable: Unreadable[];
}

/** The cells of a plan that are read, asked for; the next sync answers. */
export function askPlan(sheet: Excel.Worksheet, found: PlanOnSheet): () => PlanRead {
  const cells = KEYS.flatMap((key) => {
    const address = found.inputs[key];
    return address === undefined ? [] : [[key, sheet.getRange(address).load("formulas,values,numberFormat")] as const];
  });
  const table = sheet.tables.getItem(found.stages.table).getRange().load("formulas,values,rowIndex,columnIndex");
  const hoursAt = found.lines.hoursAt === undefined ? undefined : sheet.getRange(found.lines.hoursAt).load("formulas");
  return () => {
    const unreadable: Unreadable[] = [];
    const at = (address: string) => `${quotedSheet(found.sheet)}!${address.replaceAll("$", "")}`;
    const { inputs, links } = inputsFrom(cells, found, (key, why, holds) =>
      unreadable.push({ at: at(found.inputs[key]!), label: FIELDS[key].label, why, holds: String(holds) }),
    );
    const stages = stagesFrom(table, found, (row, column, label, why, holds) =>
      unreadable.push({
        at: at(cellAddress(table.rowIndex + row, table.columnIndex + column)),
        label,
        why,
        holds: String(holds),
      }),
    );
    const pastJobs = hoursAt && pastJobsFrom(String(hoursAt.formulas[0]![0]));
    if (inputs.pastJobs !== "" && !pastJobs) {
      const where = found.lines.hoursAt ?? found.inputs.pastJobs ?? "A1";
      unreadable.push({ at: at(where), label: FIELDS.pastJobs.label, why: "noPastJobs", holds: inputs.pastJobs });
    }
    return { inputs, links, stages, pastJobs, unreadable };
  };
}

type Complaint = (key: Key, why: Unreadable["why"], holds: unknown) => void;

/** A cell of another sheet or of this one, on its own or kept from being 0 where it is blank. */
const LINK = /^=(?:IF\((?<asked>[^=]+)="",(?:""|NA\(\)),(?<given>[^=]+)\)|(?<bare>.+))$/i;
const CELL = /^(?:(?:'(?:[^']|'')+'|[\p{L}\p{N}_.]+)!)?\$?[A-Z]{1,3}\$?\d+$/iu;

/** The user's own cell that an input is taken from. */
function linkIn(formula: string, sheet: string): string | undefined {
  const { asked, given, bare } = LINK.exec(formula)?.groups ?? {};
  const cell = bare ?? (asked === given ? given : undefined);
  if (cell === undefined || !CELL.test(cell)) return undefined;
  return cell.includes("!") ? cell : `${quotedSheet(sheet)}!${cell}`;
}

const bare = (formula: string) => formula.replace(/\s/g, "").toUpperCase();

function inputsFrom(
  cells: readonly (readonly [Key, Excel.Range])[],
  { sheet, units, inputs: found }: PlanOnSheet,
  complain: Complaint,
): { inputs: Inputs; links: Links } {
  const inputs: Record<string, unknown> = { ...startInputs(units), ...NOT_ON_SHEET };
  const links: Links = {};
  const odd: [Key, Unreadable["why"], unknown][] = [];
  for (const [key, range] of cells) {
    const [formula, value] = [range.formulas[0]![0], range.values[0]![0]];
    const f = field(key);
    if (typeof formula === "string" && formula.startsWith("=")) {
      const link = linkIn(formula, sheet);
      if (link !== undefined) links[key] = link;
    }
    if (f.kind === "text") inputs[key] = String(value);
    else if (f.kind === "choice") {
      if (f.choices.some(([word]) => word === value)) inputs[key] = value;
      else odd.push([key, "notAllowed", value]);
    } else if (typeof value === "number") inputs[key] = value;
    // A link may be to a cell that is blank for now, and what is worked out to one that can't be read.
    else if (value === "" || links[key]) inputs[key] = null;
    else odd.push([key, "notNumber", value]);
  }
  const money = cells.find(([key]) => key === "rate");
  if (money) inputs.currency = signIn(String(money[1].numberFormat[0]![0]));
  const read = inputs as Inputs;
  // What the sheet works out by itself is a blank in the pane.
  const blanks = cells.flatMap(([key, range]) =>
    isWorkedOut(key, String(range.formulas[0]![0]), read, links) ? [key] : [],
  );
  for (const key of blanks) inputs[key] = null;
  for (const [key, why, value] of odd) if (!blanks.includes(key)) complain(key, why, value);
  for (const key of KEYS) if (key !== "currency" && found[key] === undefined && isNumber(key)) inputs[key] ??= null;
  return { inputs: read, links };
}

const isNumber = (key: Key) => field(key).kind === "number";

/** Inputs that have a row only where they are given. */
const NOT_ON_SHEET: Partial<Inputs> = {
  floor: "",
  length: null,
  width: null,
  jointLength: null,
  crackLength: null,
  grout: "no",
  coats: "no",
};

function isWorkedOut(key: Key, formula: string, inputs: Inputs, links: Links): boolean {
  if (links[key]) return false;
  if (key === "lastGrit") return inputs.lastGrit === usualLastGrit({ ...inputs, lastGrit: null });
  if (key === "depth") return inputs.depth === usualDepth({ ...inputs, depth: null });
  if (!formula.startsWith("=")) return false;
  const blank = inputContent(
    key,
    { inputs: { ...inputs, [key]: null }, links: {}, stages: [], shelf: { tools: [], liquids: [], machines: [] } },
    (other) => FIELDS[other].name,
  );
  return typeof blank === "object" && bare(blank.formula) === bare(formula);
}

/** The sign before the digits of an amount of money. */
function signIn(format: string): string {
  const match = /^(?:"(?<quoted>[^"]*)"|\[\$(?<local>[^\]-]*)[^\]]*\]|(?<plain>[^#0";]*))#/.exec(format);
  const { quoted, local, plain } = match?.groups ?? {};
  return (quoted ?? local ?? plain ?? "").trim();
}

type StageComplaint = (row: number, column: number, label: string, why: Unreadable["why"], holds: unknown) => void;

function stagesFrom(table: Excel.Range, { stages }: PlanOnSheet, complain: StageComplaint): PlannedStage[] {
  const [headings, ...rows] = table.values;
  const columnOf = (key: "work" | "tool" | "machineName" | "passes") => {
    const heading = stages.headings[key];
    return heading === undefined ? -1 : headings!.indexOf(heading);
  };
  const [work, tool, machine, passes] = [
    columnOf("work"),
    columnOf("tool"),
    columnOf("machineName"),
    columnOf("passes"),
  ];
  return rows.flatMap((row, i): PlannedStage[] => {
    const name = String(row[tool] ?? "").trim();
    const does = String(row[work] ?? "").trim();
    if (name === "" && does === "") {
      complain(i + 1, tool, stages.headings.tool!, "blankStage", "");
      return [];
    }
    if (name === "") complain(i + 1, tool, stages.headings.tool!, "noTool", "");
    if (!(WORKS as readonly string[]).includes(does)) complain(i + 1, work, stages.headings.work!, "notAllowed", does);
    const counted = table.formulas[i + 1]![passes];
    const isTyped = typeof counted === "number" && counted >= 0;
    if (!isTyped && !(typeof counted === "string" && counted.startsWith("="))) {
      complain(i + 1, passes, stages.headings.passes!, "notNumber", counted);
    }
    const runsOn = machine < 0 ? "" : String(row[machine] ?? "").trim();
    return [
      { work: does as Work, tool: name, ...(runsOn && { machine: runsOn }), ...(isTyped && { passes: counted }) },
    ];
  });
}

/** The jobs' hours in a call of HOURSAT: its second and third argument. */
function pastJobsFrom(formula: string): PastJobs | undefined {
  const parts = argumentsOf(/^=[\w.]*HOURSAT\((?<inside>.*)\)$/is.exec(formula)?.groups?.inside ?? "");
  const [, estimated, actual] = parts;
  return parts.length === 4 ? { estimated: estimated!, actual: actual! } : undefined;
}

/** What stands between the commas of a call. */
function argumentsOf(inside: string): string[] {
  const parts = [""];
  let depth = 0;
  // Texts and sheets' names in quotes are one piece each.
  for (const piece of inside.match(/"(?:[^"]|"")*"|'(?:[^']|'')*'|./gs) ?? []) {
    if ("([{".includes(piece)) depth++;
    if (")]}".includes(piece)) depth--;
    if (piece === "," && depth === 0) parts.push("");
    else parts[parts.length - 1] += piece;
  }
  return parts;
}
