/**
 * What a plan's sheet checks of itself: whether its inputs are complete and valid, its rows calculated, its stages chosen
 * for these inputs, its passes enough. Each check is a number, and the words for it are made from that number alone.
 * Typing is warned of by the cells' own rules; pasting and clearing go past those.
 */
import { ABOVE_0, ABOVE_1, BELOW_1, type Domain } from "../../functions/domain";
import type { Field } from "../../functions/plan/field";
import { field, type Key } from "../../functions/plan/fields";
import { floorOf, type Inputs } from "../../functions/plan/inputs";
import { RULES } from "../../functions/plan/rules";
import { type Column, header, LIQUID_COLUMNS, MACHINE_COLUMNS, TOOL_COLUMNS } from "../../functions/plan/shelf";
import { allowedValues, inputContent, mayBeBlank } from "./inputs-block";
import type { Plan, PlanNames } from "./plan";
import { COMPLAINTS } from "./plan-texts";
import { stageColumn } from "./stage-columns";
import type { StagePlace } from "./stage-place";
import type { StageColumnKey } from "./stage-row";

/** Formulas: of the number, 0 where all is fine and else the case that fails; and of what is wrong then, else "". */
export interface Check {
  readonly code: string;
  readonly words: (code: string) => string;
}

/** Inputs that only chose the stages: no price hangs on them once a plan stands. */
export const STAGE_CHOOSERS: readonly Key[] = [
  "hardness",
  "surface",
  "groundGrit",
  "finish",
  "film",
  "lastGrit",
  "exposure",
  "coats",
  "grout",
];

/** A test that never shows an error, and what to say where it fails; with a cell, the words go around its address. */
type Case = readonly [isFine: string, complaint: string];
interface CellCase {
  readonly cell: string;
  readonly isFine: string;
  readonly label: string;
  readonly complaint: string;
}

const quoted = (words: string) => `"${words}"`;

/** Numbered by the first case that fails; not one IF in another, since some spreadsheets take only so many. */
function codeOf(tests: readonly string[]): string {
  const beyond = tests.length + 1;
  const failing = tests.map((isFine, i) => `IF(${isFine},${beyond},${i + 1})`);
  return `MOD(MIN(${failing.join(",")},${beyond}),${beyond})`;
}

/** A list and not CHOOSE, of which some spreadsheets take thirty words. */
const oneOf = (words: readonly string[], code: string) => `INDEX({${words.map(quoted).join(",")}},1,${code})`;

function firstFailing(cases: readonly Case[]): Check {
  return {
    code: codeOf(cases.map(([isFine]) => isFine)),
    words: (code) =>
      `IF(${code}=0,"",${oneOf(
        cases.map(([, complaint]) => complaint),
        code,
      )})`,
  };
}

/** "Margin, D55, must be …": the cell is found where it stands now, wherever rows have moved it. */
function firstFailingCell(cases: readonly CellCase[]): Check {
  const of = (call: "ROW" | "COLUMN", code: string) =>
    cases.map(({ cell }, i) => `(${code}=${i + 1})*${call}(${cell})`).join("+");
  const isOneColumn = !cases.some(({ cell }) => cell.startsWith("$"));
  const column = (code: string) => (isOneColumn ? `COLUMN(${cases[0]!.cell})` : of("COLUMN", code));
  return {
    code: codeOf(cases.map(({ isFine }) => isFine)),
    words: (code) => {
      const [labels, complaints] = [cases.map(({ label }) => label), cases.map(({ complaint }) => complaint)];
      const at = `ADDRESS(${of("ROW", code)},${column(code)},4)`;
      return `IF(${code}=0,"",${oneOf(labels, code)}&", "&${at}&", "&${oneOf(complaints, code)})`;
    },
  };
}

function isWithinBounds(cell: string, { least, most, whole }: Domain): string {
  const above = least === ABOVE_0.least ? ">0" : least === ABOVE_1.least ? ">1" : `>=${least}`;
  const below = most === BELOW_1.most ? "<1" : most < 1e300 ? `<=${most}` : undefined;
  const tests = [above, below].filter((test) => test !== undefined).map((test) => `(${cell}${test})`);
  if (whole) tests.push(`(${cell}=INT(${cell}))`);
  return tests.join("*");
}

const isOneOf = (cell: string, values: readonly string[]) =>
  `ISNUMBER(MATCH(${cell},{${values.map((value) => `"${value}"`).join(",")}},0))`;

function possibleCase(key: Key, cell: string, inputs: Inputs): CellCase {
  const f: Field = field(key);
  const { label } = f;
  if (f.kind === "text") return { cell, label, isFine: `NOT(ISERROR(${cell}))`, complaint: COMPLAINTS.showsError };
  if (f.kind === "choice") {
    const values = allowedValues(f, key, inputs);
    return { cell, label, isFine: isOneOf(cell, values), complaint: COMPLAINTS.must(values.join(" or ")) };
  }
  const otherwise = mayBeBlank(key) ? `COUNTBLANK(${cell})` : "0";
  const isFine = `IF(ISNUMBER(${cell}),${isWithinBounds(cell, f.domain)},${otherwise})`;
  const words = f.percent ? COMPLAINTS.percent(f.domain.words) : f.domain.words;
  return { cell, label, isFine, complaint: COMPLAINTS.must(words) };
}

/** Rules over several inputs, all of which the sheet has. */
const ruleCases = (keys: readonly Key[], input: (key: Key) => string): CellCase[] =>
  RULES.flatMap(({ key, reads, onSheet }) => {
    if (!onSheet || ![key, ...reads].every((one) => keys.includes(one))) return [];
    const isFine = `IFERROR(${onSheet.isFine(input)},0)`;
    return [{ cell: input(key), label: field(key).label, isFine, complaint: onSheet.words }];
  });

/** Whether every input of the sheet is filled where the plan needs it, inside its bounds, and fits the others. */
export function inputsPossible(keys: readonly Key[], { inputs }: Plan, input: (key: Key) => string): Check {
  return firstFailingCell([...keys.map((key) => possibleCase(key, input(key), inputs)), ...ruleCases(keys, input)]);
}

/** Whether the inputs that chose the stages are what they were then. */
export function chosenForThese(keys: readonly Key[], plan: Plan, input: (key: Key) => string): Check {
  const cases = keys
    .filter((key) => STAGE_CHOOSERS.includes(key))
    .map((key): Case => {
      const cell = input(key);
      const content = inputContent(key, plan, input);
      const then = typeof content === "object" ? plan.inputs[key] : content;
      return [isAsThen(cell, then), COMPLAINTS.chosenFor(field(key).label, then ?? "blank")];
    });
  return firstFailing(cases);
}

function isAsThen(cell: string, then: unknown): string {
  if (typeof then === "number") return `IF(ISNUMBER(${cell}),ABS(${cell}-${then})<=ABS(${cell})*1E-9,0)`;
  return then === null || then === "" ? `COUNTBLANK(${cell})` : isOneOf(cell, [String(then)]);
}

/** Whether the edge length still belongs to the floor area: one may change and the other stay behind. */
export function edgesFit({ inputs }: Plan, input: (key: Key) => string): Check {
  const { area, edge } = floorOf(inputs);
  const [now, along] = [input("area"), input("edgeLength")];
  const hasStayed = `(ABS(N(${along})-${edge})<=${edge}*1E-9)`;
  const hasChanged = `(ABS(N(${now})-${area})>${area}*0.01)`;
  return firstFailing([[`IFERROR(1-${hasChanged}*${hasStayed},1)`, COMPLAINTS.edgeStayed]]);
}

/** Larger than any column's number: a row times this and a column make one number. */
const BEYOND_COLUMNS = "100000";

/** Whether every formula of the plan still is one: 0, or the place of one that is typed over. */
export function formulasIntact(place: StagePlace, cells: readonly string[]): Check {
  const columns = place.columns
    .filter((key) => stageColumn(key).formula && key !== "passes")
    .map((key) => `${place.table}[${stageColumn(key).title(place.units)}]`);
  const places = [...columns, ...cells].map(
    (range) => `(1-ISFORMULA(${range}))*(ROW(${range})*${BEYOND_COLUMNS}+COLUMN(${range}))`,
  );
  return {
    code: `SUMPRODUCT(MAX(${places.join(",")}))`,
    words: (code) =>
      `IF(${code}=0,"",ADDRESS(INT(${code}/${BEYOND_COLUMNS}),MOD(${code},${BEYOND_COLUMNS}),4)&"${COMPLAINTS.typedOver}")`,
  };
}

/** Figures of a row that sums and products would count as 0 where its formulas are missing. */
const FIGURES: readonly StageColumnKey[] = ["hours", "tooling", "crew", "machine", "liquids", "cost"];

/** Whether every row with a work or a tool has its passes and its figures, and the shelf a price for it. */
export function rowsWhole(place: StagePlace, names: PlanNames): Check {
  const column = (key: StageColumnKey) => `${place.table}[${stageColumn(key).title(place.units)}]`;
  const isUsed = `(LEN(${column("work")})+LEN(${column("tool")})>0)`;
  const are = (tests: readonly string[]) => tests.map((test) => `ISNUMBER(${test})`).join("*");
  const passes = column("passes");
  const withoutFigures = `${isUsed}*(1-${are(FIGURES.map(column))})`;
  // The root of a number below 0 is an error, that of a blank is 0.
  const withoutPasses = `${isUsed}*(1-${are([passes, `SQRT(${passes})`])})`;
  const isNone = (rows: string) => `SUMPRODUCT(${rows})=0`;
  const first = (rows: string) => `MATCH(1,INDEX(${rows},0),0)`;
  // Without passes the figures are errors, and the passes are what to fix.
  const passesFirst = `${withoutPasses}*ISERROR(${column("hours")})`;
  const complaints = [
    `"Passes in row "&${first(passesFirst)}&" ${COMPLAINTS.badPasses}"`,
    `"row "&${first(withoutFigures)}&" ${COMPLAINTS.noFigures}"`,
    `"Passes in row "&${first(withoutPasses)}&" ${COMPLAINTS.badPasses}"`,
    quoted(COMPLAINTS.noPrice),
  ];
  return {
    code: codeOf([isNone(passesFirst), isNone(withoutFigures), isNone(withoutPasses), `${unpriced(place, names)}=0`]),
    words: (code) => `IF(${code}=0,"",CHOOSE(${code},${complaints.join(",")}))`,
  };
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

/** Whether every stage's passes take off the depth, or the scratches before it, where its cut is known. */
export function passesEnough({ table, units }: StagePlace): Check {
  const column = (key: StageColumnKey) => `${table}[${stageColumn(key).title(units)}]`;
  const [passes, needed] = [column("passes"), column("needed")];
  const isShort = `ISNUMBER(${needed})*(${needed}>${passes})`;
  const of = (key: StageColumnKey, row: string) => `INDEX(${column(key)},${row})`;
  const first = `MATCH("start",${column("check")},0)`;
  const words = (row: string) =>
    [
      `${of("tool", row)}&": "&${of("passes", row)}&IF(${of("passes", row)}=1," pass"," passes")&"${COMPLAINTS.planned}"`,
      `${of("needed", row)}&IF(${row}=${first},"${COMPLAINTS.neededForDepth}","${COMPLAINTS.neededForScratches}")`,
    ].join("&");
  return {
    code: `IF(ISNUMBER(INDEX(${needed},${first})),IFERROR(MATCH(1,INDEX(${isShort},0),0),0),-1)`,
    words: (code) => `IF(${code}>0,${words(code)},IF(${code}<0,${quoted(COMPLAINTS.noCut)},""))`,
  };
}

/** Whether every stage's machine has the power for what its tool could cut: 0, or the first row without it. */
export function powerEnough({ table, units }: StagePlace): Check {
  const column = (key: StageColumnKey) => `${table}[${stageColumn(key).title(units)}]`;
  const [taken, there] = [column("power"), column("powerThere")];
  const isShort = `ISNUMBER(${taken})*ISNUMBER(${there})*(${taken}>${there})`;
  const of = (key: StageColumnKey, row: string) => `INDEX(${column(key)},${row})`;
  const words = (row: string) => {
    const full = `${of("cut", row)}*${of("power", row)}/${of("powerThere", row)}`;
    const allowed = `${quoted(COMPLAINTS.powerAllows)}&ROUND(${of("cut", row)},0)`;
    const wanted = `${quoted(COMPLAINTS.powerOf)}&ROUND(${full},0)&${quoted(COMPLAINTS.powerThen)}`;
    return `${of("tool", row)}&" on "&${of("machineName", row)}&${allowed}&${wanted}`;
  };
  return {
    code: `IFERROR(MATCH(1,INDEX(${isShort},0),0),0)`,
    words: (code) => `IF(${code}>0,${words(code)},"")`,
  };
}
