/**
 * What a plan's sheet says of itself beside its figures, each a formula that shows "yes" or "no: " and what is wrong:
 * whether its inputs are filled and possible, its rows whole, its stages chosen for these inputs, its passes enough.
 * Typing is warned of by the cells' own rules; pasting and clearing go past those.
 */
import { ABOVE_0, ABOVE_1, BELOW_1, type Domain } from "../../functions/cell";
import { type Field, field, type Key } from "../../functions/plan/fields";
import type { Inputs } from "../../functions/plan/inputs";
import { type Column, header, LIQUID_COLUMNS, MACHINE_COLUMNS, TOOL_COLUMNS } from "../../functions/plan/shelf";
import { allowedValues, inputContent, mayBeBlank } from "./inputs-block";
import type { Plan, PlanNames } from "./plan";
import { rowAt, type StageColumnKey, type StagePlace, stageColumn } from "./stage-columns";

export const YES = "yes";
const NO = "no: ";
/** What is wrong, from one of these cells that does not say yes. */
export const complaintOf = (cell: string) => `MID(${cell},${NO.length + 1},LEN(${cell}))`;

/** Inputs that only chose the stages: no price hangs on them once a plan stands. */
export const STAGE_CHOOSERS: readonly Key[] = [
  "hardness",
  "surface",
  "groundGrit",
  "finish",
  "film",
  "lastGrit",
  "exposure",
];

/** A test that never shows an error, and what to say where it fails. */
type Case = readonly [isFine: string, complaint: string];

/**
 * The first that fails; not one IF in another, since some spreadsheets take only so many. No comma in a complaint: the
 * preview's engine would part the list there.
 */
function firstComplaint(cases: readonly Case[]): string {
  const words = [...cases.map(([, complaint]) => `"${NO}${complaint}"`), `"${YES}"`];
  const places = cases.map(([isFine], i) => `IF(${isFine},${words.length},${i + 1})`);
  return `INDEX({${words.join(",")}},1,MIN(${places.join(",")},${words.length}))`;
}

/** N takes the number out of the cell: a bare name is compared by the preview's engine with what its cell held before. */
function isWithinBounds(cell: string, { least, most, whole }: Domain): string {
  const above = least === ABOVE_0.least ? ">0" : least === ABOVE_1.least ? ">1" : `>=${least}`;
  const below = most === BELOW_1.most ? "<1" : most < 1e300 ? `<=${most}` : undefined;
  const tests = [above, below].filter((test) => test !== undefined).map((test) => `(N(${cell})${test})`);
  if (whole) tests.push(`(N(${cell})=INT(N(${cell})))`);
  return tests.join("*");
}

const isOneOf = (cell: string, values: readonly string[]) =>
  `ISNUMBER(MATCH(${cell},{${values.map((value) => `"${value}"`).join(",")}},0))`;

function possibleCase(key: Key, cell: string, inputs: Inputs): Case[] {
  const f: Field = field(key);
  if (f.kind === "text") return [];
  if (f.kind === "choice") {
    const values = allowedValues(f, key, inputs);
    return [[isOneOf(cell, values), `${f.label} must be ${values.join(" or ")}`]];
  }
  const otherwise = mayBeBlank(key) ? `COUNTBLANK(${cell})` : "0";
  return [
    [`IF(ISNUMBER(${cell}),${isWithinBounds(cell, f.domain)},${otherwise})`, `${f.label} must be ${f.domain.words}`],
  ];
}

/** Whether every input of the sheet is filled where the plan needs it, and inside its bounds. */
export function inputsPossible(keys: readonly Key[], { inputs }: Plan, input: (key: Key) => string): string {
  return firstComplaint(keys.flatMap((key) => possibleCase(key, input(key), inputs)));
}

/** Whether the inputs that chose the stages are what they were then. */
export function chosenForThese(keys: readonly Key[], plan: Plan, input: (key: Key) => string): string {
  const cases = keys
    .filter((key) => STAGE_CHOOSERS.includes(key))
    .map((key): Case => {
      const cell = input(key);
      const content = inputContent(key, plan, input);
      const then = typeof content === "object" ? plan.inputs[key] : content;
      const { label } = field(key);
      return [
        isAsThen(cell, then),
        `the stages were chosen for another ${label} (${then ?? "blank"}): plan again in the pane`,
      ];
    });
  return firstComplaint(cases);
}

function isAsThen(cell: string, then: unknown): string {
  if (typeof then === "number") return `IF(ISNUMBER(${cell}),ABS(N(${cell})-${then})<=ABS(N(${cell}))*1E-9,0)`;
  return then === null || then === "" ? `COUNTBLANK(${cell})` : isOneOf(cell, [String(then)]);
}

/** Figures of a row that sums and products would count as 0 where its formulas are missing. */
const FIGURES: readonly StageColumnKey[] = ["hours", "tooling", "crew", "machine", "liquids", "cost"];

/** Whether every row with a work or a tool has its passes and its figures, and the shelf a price for it. */
export function rowsWhole(place: StagePlace, names: PlanNames): string {
  const column = (key: StageColumnKey) => `${place.table}[${stageColumn(key).title(place.units)}]`;
  const isUsed = `(LEN(${column("work")})+LEN(${column("tool")})>0)`;
  const are = (tests: readonly string[]) => tests.map((test) => `ISNUMBER(${test})`).join("*");
  const passes = column("passes");
  const withoutFigures = `${isUsed}*(1-${are(FIGURES.map(column))})`;
  // The root of a number below 0 is an error, that of a blank is 0.
  const withoutPasses = `${isUsed}*(1-${are([passes, `SQRT(${passes})`])})`;
  const wrongRow = (rows: string, before: string, after: string, otherwise: string) =>
    `IF(SUMPRODUCT(${rows})=0,${otherwise},"${NO}${before}"&MATCH(1,INDEX(${rows},0),0)&"${after}")`;
  const onShelf = `IF(${unpriced(place, names)}=0,"${YES}","${NO}a price on the shelf is missing or below 0")`;
  return wrongRow(
    withoutFigures,
    "row ",
    " of the stages shows no figure or an error: check its Tool and Passes, or copy the formulas of another row into it",
    wrongRow(withoutPasses, "Passes in row ", " of the stages must be a number, 0 or more", onShelf),
  );
}

/** How many rows of the stages have no price on the shelf, or one below 0; machines of the shelf that cost less than 0. */
function unpriced({ table, units }: StagePlace, { tooling, liquids, machines }: PlanNames): string {
  const of = <Row>(shelf: string, columns: readonly Column<Row>[], key: keyof Row) =>
    `${shelf}[${header(columns.find((column) => column.key === key)!, units)}]`;
  const tool = `${table}[${stageColumn("tool").title(units)}]`;
  const priced = <Row extends { name: string; price: number }>(shelf: string, columns: readonly Column<Row>[]) =>
    `COUNTIFS(${of(shelf, columns, "name")},${tool},${of(shelf, columns, "price")},">=0")`;
  const rows = `SUMPRODUCT((LEN(${tool})>0)*(${priced(tooling, TOOL_COLUMNS)}+${priced(liquids, LIQUID_COLUMNS)}=0))`;
  return machines ? `(${rows}+COUNTIF(${of(machines, MACHINE_COLUMNS, "cost")},"<0"))` : rows;
}

/** Whether the first tool's passes take off the depth that is to come off, where its cut is known. */
export function passesEnough(place: StagePlace): string {
  const column = (key: StageColumnKey) => `${place.table}[${stageColumn(key).title(place.units)}]`;
  // The first tool is found anew, since the user may have put another before it.
  const first = `MATCH("start",${column("check")},0)`;
  const row = rowAt({ ...place, address: (_, at) => `INDEX(${column(place.columns[at - place.left]!)},${first})` }, 0);
  const needed = `GRIT.PASSESTOCLEAR(${place.input("depth")},${row.here("scratch")},${row.here("cut")})`;
  const words = `"${NO}Passes of "&${row.here("tool")}&": "&${row.here("passes")}&", but the depth to take off needs "&${needed}`;
  return `IFERROR(IF(${needed}>${row.here("passes")},${words},"${YES}"),"cannot tell: the first tool has no cut per pass, or a figure is missing")`;
}
