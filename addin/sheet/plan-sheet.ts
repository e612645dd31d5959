/**
 * The stage plan on a sheet of its own, in the order in which it is read: key figures, stages, price and checks, which
 * print on the first page, then inputs, crew exposure and charts.
 */
import { FIELDS, type Key } from "../../functions/plan/fields";
import { signBefore, tellsExposure } from "../../functions/plan/inputs";
import { symbol } from "../../functions/units";
import { absoluteAddress } from "../common/a1";
import { type Block, emptyBlock, type SheetSetup } from "./block";
import { grindingCaution, HAZARDS } from "./cautions";
import { placeExposure } from "./exposure-block";
import {
  inputContent,
  inputFormat,
  inputGroups,
  inputLabel,
  inputNote,
  inputRule,
  inputStyle,
  inputUnit,
} from "./inputs-block";
import type { Plan, PlanNames } from "./plan";
import { linesOf, placeFigure, stagePlace } from "./plan-parts";
import { HEADINGS, KEY_LABELS, planNotes, titled } from "./plan-texts";
import { CHECK_LINES, confidenceWords, type LineKey, type PriceLine, priceLineKeys } from "./price-lines";
import { stageColumn } from "./stage-columns";
import type { StagePlace } from "./stage-place";
import type { StageColumnKey } from "./stage-row";
import { placeStageTable, type ShelfLists, stageColumnIndex } from "./stage-table";
import { CHART_FILLS } from "./styles";

/** What an estimator reads comes first and is printed; how it was worked out stands right of it. */
const PRINTED: readonly StageColumnKey[] = [
  "no",
  "work",
  "tool",
  "machineName",
  "bond",
  "grit",
  "check",
  "passes",
  "hours",
  // Before its parts, so that it is seen without scrolling.
  "cost",
  "setsToBuy",
  "tooling",
  "crew",
  "machine",
  "liquids",
  "share",
];
const MATH: readonly StageColumnKey[] = [
  "size",
  "ratio",
  "scratch",
  "scratchMil",
  "slide",
  "pressure",
  "fullCut",
  "power",
  "powerThere",
  "cut",
  "cutMil",
  "needed",
  "rate",
  "machineHours",
  "edgeHours",
  "setsUsed",
  "toBuyPrice",
  "extra",
  "wait",
  "start",
  "done",
  "volume",
];
const ONLY_IN_US: readonly StageColumnKey[] = ["scratchMil", "cutMil"];

const CAUTION_ROW = 1;
const KEY_FIGURES_ROW = 3;
const STATUS_ROW = KEY_FIGURES_ROW + 2;
const STAGES_ROW = STATUS_ROW + 2;
const TABLE_TOP = STAGES_ROW + 1;
/** Every block below the stages has its labels, values and units in the same columns. */
const LABEL = 0;
const VALUE = 3;
const NOTE = VALUE + 2;
const CHART_ROWS = 15;

/** Printed text of 11 points is then 8 points high, and the printed columns are as wide as a Letter page. */
const PRINT_SCALE = 74;

/** Price lines that stand beside the others. */
const TIME_LINES: readonly LineKey[] = [
  "hours",
  "waits",
  "jobsFactor",
  "hoursAt",
  "hoursLow",
  "hoursHigh",
  "crewHours",
  "days",
  "daysAt",
  "edgesDecide",
  "setsToBuy",
  "setsPrice",
  "matrix",
  "loadPerTool",
  "dust",
  "slurry",
];
const CHECKED_LINES: readonly LineKey[] = ["sequence", "jobsSlab", ...CHECK_LINES];

const columnsFor = ({ units }: Plan["inputs"]): StageColumnKey[] =>
  [...PRINTED, ...MATH].filter((key) => units === "us" || !ONLY_IN_US.includes(key));

/** A sheet that stands already has the columns that it has. */
export function planSheet(
  plan: Plan,
  names: PlanNames,
  lists: ShelfLists | undefined,
  columns: readonly StageColumnKey[] = columnsFor(plan.inputs),
): { block: Block; setup: SheetSetup } {
  const block = emptyBlock(signBefore(plan.inputs));
  const put = block.cells.push.bind(block.cells);
  const { inputs } = plan;
  const input = (key: Key) => FIELDS[key].name;

  put({ row: 0, column: 0, content: titled(HEADINGS.plan, inputs), style: "title" });
  put({ row: CAUTION_ROW, column: 0, content: HAZARDS, style: "caution" });
  put({
    row: CAUTION_ROW + 1,
    column: 0,
    content: { formula: `=${grindingCaution(input)}` },
    style: "caution",
  });

  const place = stagePlace(plan, names, { columns, top: TABLE_TOP, left: 0, input });
  const printed = PRINTED.filter((key) => place.columns.includes(key)).length;
  const heading = (row: number, title: string, from = LABEL, to = printed) => {
    for (let column = from; column < to; column++) {
      put({ row, column, content: column === from ? title : "", style: "heading" });
    }
  };
  heading(STAGES_ROW, HEADINGS.stages);
  const priceTop = placeStageTable(block, place, plan, lists) + 1;

  const sections = sectionsOf(plan, place, priceTop);
  const inputsTop = sections.bottom + 1;
  const inputsEnd = placeInputs(block, plan, inputsTop, input, heading);
  const inputCells = `${absoluteAddress(inputsTop + 1, VALUE)}:${absoluteAddress(inputsEnd - 1, VALUE)}`;
  placePrice(block, plan, place, names, sections, inputCells, heading);
  const exposureEnd = placeExposureOf(block, plan, place, inputsEnd + 1, input);
  placeCharts(block, plan, place, exposureEnd, printed);

  return {
    block,
    setup: {
      widths: place.columns.map((key) => stageColumn(key).width),
      rowHeights: [
        [0, 24],
        [TABLE_TOP, 30],
      ],
      frozenRows: STAGES_ROW,
      frozenColumns: stageColumnIndex(place, "tool") + 1,
      printTitleRow: 0,
      page: { scale: PRINT_SCALE, columns: printed, breaksAbove: [inputsTop, exposureEnd] },
    },
  };
}

type Heading = (row: number, title: string, from?: number, to?: number) => void;

/** Gives the row below. */
function placeInputs(block: Block, plan: Plan, top: number, input: (key: Key) => string, heading: Heading): number {
  const put = block.cells.push.bind(block.cells);
  heading(top, HEADINGS.inputs);
  let row = top + 1;
  for (const { title, keys } of inputGroups(plan)) {
    put({ row, column: LABEL, content: title, style: "group" });
    row++;
    for (const key of keys) {
      put({ row, column: LABEL, content: inputLabel(key), style: "label" });
      const content = inputContent(key, plan, input);
      put({ row, column: VALUE, content, style: inputStyle(key), format: inputFormat(key) });
      put({ row, column: VALUE + 1, content: inputUnit(key, plan, input), style: "unit" });
      put({ row, column: NOTE, content: inputNote(key, plan, input), style: "note" });
      block.names.push({ name: FIELDS[key].name, row, column: VALUE, scope: "sheet" });
      const rule = inputRule(key, plan, row, VALUE);
      if (rule) block.rules.push(rule);
      row++;
    }
  }
  return row;
}

/** Below the inputs; gives the row from which there is room. */
function placeExposureOf(
  block: Block,
  { inputs }: Plan,
  place: StagePlace,
  top: number,
  input: (key: Key) => string,
): number {
  if (!tellsExposure(inputs)) return top;
  const columns = {
    action: stageColumnIndex(place, "passes"),
    limit: stageColumnIndex(place, "hours"),
    words: stageColumnIndex(place, "cost"),
  };
  const at = { top, label: LABEL, value: VALUE, unit: VALUE + 1, ...columns };
  return placeExposure(block, { ...at, units: inputs.units, input }) + 1;
}

interface Section {
  readonly title: string;
  readonly keys: readonly LineKey[];
  readonly top: number;
  readonly label: number;
  readonly value: number;
}

/** The price, beside it the hours, and below both the checks, whose words need the whole width. */
function sectionsOf(
  plan: Plan,
  place: StagePlace,
  top: number,
): { price: Section; time: Section; checks: Section; bottom: number } {
  const all = priceLineKeys(plan, place);
  const time = all.filter((key) => TIME_LINES.includes(key));
  const checks = all.filter((key) => CHECKED_LINES.includes(key));
  const price = all.filter((key) => !time.includes(key) && !checks.includes(key));
  const checksTop = top + Math.max(price.length, time.length) + 2;
  const beside = { label: stageColumnIndex(place, "passes"), value: stageColumnIndex(place, "tooling") };
  return {
    price: { title: HEADINGS.price, keys: price, top, label: LABEL, value: VALUE },
    time: { title: HEADINGS.time, keys: time, top, ...beside },
    checks: { title: HEADINGS.checks, keys: checks, top: checksTop, label: LABEL, value: VALUE },
    bottom: checksTop + 1 + checks.length,
  };
}

function placePrice(
  block: Block,
  plan: Plan,
  place: StagePlace,
  names: PlanNames,
  { price, time, checks }: ReturnType<typeof sectionsOf>,
  inputCells: string,
  heading: Heading,
): void {
  const put = block.cells.push.bind(block.cells);
  const sections = [price, time, checks];
  // A line that this plan does not have is in none, and left out.
  const sectionOf = (key: LineKey) => sections.find(({ keys }) => keys.includes(key)) ?? price;
  const spot = (key: LineKey) => {
    const { keys, top, value } = sectionOf(key);
    return { row: top + 1 + keys.indexOf(key), column: value };
  };
  const cell = (key: LineKey, right = 0) => absoluteAddress(spot(key).row, spot(key).column + right);
  const keys = priceLineKeys(plan, place);
  const lines = linesOf(
    plan,
    names,
    place,
    keys,
    [inputCells],
    {
      line: (key) => cell(key),
      words: (key) => cell(key, 1),
    },
    keyFigures(place, keys),
  );

  heading(price.top, price.title, price.label, time.label - 1);
  heading(time.top, time.title, time.label);
  heading(checks.top, checks.title);
  for (const line of lines) {
    const { row, column } = spot(line.key);
    const { label } = sectionOf(line.key);
    for (let at = label; at < column; at++) {
      const content = at === label ? line.label : "";
      put({ row, column: at, content, style: line.strong ? "labelStrong" : "label" });
    }
    placeFigure(block, line, names, row, column);
  }
  placeKeyFigures(block, lines, cell, plan, place);
}

/** What stands at the top, and the column of the stages that is wide enough for it. */
const KEY_FIGURES = [
  ["price", "tool"],
  ["cost", "bond"],
  ["margin", "grit"],
  ["priceAt", "check"],
  ["perArea", "passes"],
  ["days", "hours"],
  ["hours", "cost"],
  ["sequence", "tooling"],
] as const satisfies [LineKey, StageColumnKey][];

const keyFigures = (place: StagePlace, keys: readonly LineKey[]) =>
  KEY_FIGURES.filter(([key]) => keys.includes(key)).map(([, over]) =>
    absoluteAddress(KEY_FIGURES_ROW + 1, stageColumnIndex(place, over)),
  );

/** They stay on the screen; what may be wrong with them has the rows below, as wide as it needs. */
function placeKeyFigures(
  block: Block,
  lines: readonly PriceLine[],
  cell: (key: LineKey, right?: number) => string,
  plan: Plan,
  place: StagePlace,
): void {
  const put = block.cells.push.bind(block.cells);
  const at = { formula: `="${KEY_LABELS.priceAt}"&${confidenceWords(FIELDS.confidence.name)}` };
  const labels = { ...KEY_LABELS, perArea: KEY_LABELS.perArea(symbol("floorArea", plan.inputs.units)), priceAt: at };
  for (const [key, over] of KEY_FIGURES) {
    const line = lines.find((l) => l.key === key);
    if (!line) continue;
    const label = labels[key];
    const column = stageColumnIndex(place, over);
    put({ row: KEY_FIGURES_ROW, column, content: label, style: "keyLabel" });
    const content = { formula: `=${cell(key)}` };
    put({ row: KEY_FIGURES_ROW + 1, column, content, style: "keyFigure", format: line.format });
  }
  put({ row: STATUS_ROW, column: LABEL, content: KEY_LABELS.upToDate, style: "caution" });
  put({ row: STATUS_ROW, column: VALUE, content: { formula: `=${cell("upToDate")}` }, style: "answer" });
  // The sequence may be in order, and its passes still too few.
  const power = lines.some(({ key }) => key === "powerEnough") ? cell("powerEnough", 1) : '""';
  const content = { formula: `=IF(${cell("passesEnough")}>0,${cell("passesEnough", 1)},${power})` };
  put({ row: STATUS_ROW + 1, column: LABEL, content, style: "warning" });
  // Right of the passes that may be too few, which is a sentence at most.
  const notesAt = { row: STATUS_ROW + 1, column: stageColumnIndex(place, "passes") };
  put({ ...notesAt, content: planNotes(plan.notes), style: "warning" });
}

/** Side by side. */
function placeCharts(block: Block, plan: Plan, place: StagePlace, top: number, printed: number): void {
  const rows = plan.stages.length;
  const first = place.top + 1;
  const series = (keys: readonly StageColumnKey[], titles: readonly string[], fills: readonly string[]) =>
    keys.map((key, i) => ({
      name: titles[i]!,
      row: first,
      column: stageColumnIndex(place, key),
      fill: fills[i]!,
    }));
  const categories = { row: first, column: stageColumnIndex(place, "tool") };
  const common = {
    kind: "ColumnStacked" as const,
    rows,
    categories,
    top,
    bottom: top + CHART_ROWS,
  };
  const middle = stageColumnIndex(place, "passes");
  block.charts.push({
    ...common,
    title: "Cost by stage",
    valueTitle: "Cost",
    format: "moneyWhole",
    series: series(["tooling", "crew", "machine", "liquids"], ["Tooling", "Crew", "Machine", "Liquids"], CHART_FILLS),
    left: LABEL,
    right: middle,
  });
  block.charts.push({
    ...common,
    title: "Hours by stage",
    valueTitle: "Hours worked by machine and at the edges",
    format: "asTyped",
    series: series(["machineHours", "edgeHours"], ["Machine", "Edges"], [CHART_FILLS[0], CHART_FILLS[2]]),
    left: middle,
    right: printed,
  });
}
