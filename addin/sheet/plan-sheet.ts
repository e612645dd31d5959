/** The stage plan on a sheet of its own: key figures, stage table, inputs, price and pictures. */
import { tellsExposure } from "../../functions/plan/exposure";
import { FIELDS, type Key } from "../../functions/plan/fields";
import { symbol } from "../../functions/units";
import { absoluteAddress, cellAddress } from "../common/a1";
import { type Block, emptyBlock, type SheetSetup } from "./block";
import { inputsFigure } from "./check-cell";
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
import { CAUTION, type Plan, type PlanNames } from "./plan";
import { chosenForThese, complaintOf, inputsPossible, passesEnough, rowsWhole } from "./plan-checks";
import {
  confidenceWords,
  type LineKey,
  lineName,
  NAMED_LINES,
  type PriceLine,
  priceLineKeys,
  priceLines,
} from "./price-lines";
import { STAGE_COLUMNS, type StageColumnKey, type StagePlace, stageColumn } from "./stage-columns";
import { placeStageTable, type ShelfLists, sequenceVerdict, stageColumnIndex } from "./stage-table";
import { CHART_FILLS } from "./styles";

const KEY_FIGURES_ROW = 3;
const TABLE_TOP = 6;
const INPUT = { label: 0, value: 3, unit: 4, note: 5 };
const CHART_ROWS = 15;

/** The price lines stand beside the inputs, their figures in a column wide enough for money. */
const priceColumns = (place: StagePlace) => ({
  label: stageColumnIndex(place, "machineHours"),
  value: stageColumnIndex(place, "tooling"),
  unit: stageColumnIndex(place, "crew"),
});

export function planSheet(
  plan: Plan,
  names: PlanNames,
  lists: ShelfLists | undefined,
): { block: Block; setup: SheetSetup } {
  const block = emptyBlock();
  const put = block.cells.push.bind(block.cells);
  const { inputs } = plan;
  const input = (key: Key) => FIELDS[key].name;

  const title = inputs.jobName ? `Stage plan: ${inputs.jobName}` : "Stage plan";
  put({ row: 0, column: 0, content: title, style: "title" });
  put({ row: 1, column: 0, content: CAUTION, style: "caution" });

  const columns = STAGE_COLUMNS.filter(({ key }) => key !== "machineName" || names.machines);
  const place: StagePlace = {
    columns: columns.map(({ key }) => key),
    top: TABLE_TOP,
    left: 0,
    table: names.stages,
    units: inputs.units,
    input,
    toolingTable: names.tooling,
    toolingLacks: names.toolingLacks,
    liquidsTable: names.liquids,
    machinesTable: names.machines,
    address: cellAddress,
  };
  const below = placeStageTable(block, place, plan, lists) + 1;

  const inputCells = placeInputs(block, plan, below, input);
  const figure = inputsFigure([inputCells], names, inputs.units);
  const priceEnd = placePrice(block, plan, place, names, below, input, figure);
  const exposureEnd = placeExposureOf(block, plan, place, priceEnd + 1, input);
  placeCharts(block, plan, place, exposureEnd);

  return {
    block,
    setup: {
      widths: columns.map((column) => column.width),
      rowHeights: [
        [0, 24],
        [TABLE_TOP, 30],
      ],
      frozenRows: TABLE_TOP + 1,
      frozenColumns: stageColumnIndex(place, "tool") + 1,
      printTitleRow: TABLE_TOP,
    },
  };
}

/** Gives the column that the inputs' values stand in. */
function placeInputs(block: Block, plan: Plan, top: number, input: (key: Key) => string): string {
  const put = block.cells.push.bind(block.cells);
  let row = top;
  for (let column = INPUT.label; column < INPUT.note + 4; column++) {
    put({ row, column, content: column === INPUT.label ? "Inputs" : "", style: "heading" });
  }
  row++;
  for (const { title, keys } of inputGroups(plan)) {
    put({ row, column: INPUT.label, content: title, style: "group" });
    row++;
    for (const key of keys) {
      put({ row, column: INPUT.label, content: inputLabel(key), style: "label" });
      const content = inputContent(key, plan, input);
      put({ row, column: INPUT.value, content, style: inputStyle(key), format: inputFormat(key) });
      put({ row, column: INPUT.unit, content: inputUnit(key, plan), style: "unit" });
      put({ row, column: INPUT.note, content: inputNote(key), style: "note" });
      block.names.push({ name: FIELDS[key].name, row, column: INPUT.value, scope: "sheet" });
      const rule = inputRule(key, plan, row, INPUT.value);
      if (rule) block.rules.push(rule);
      row++;
    }
  }
  return `${absoluteAddress(top + 1, INPUT.value)}:${absoluteAddress(row - 1, INPUT.value)}`;
}

/** Beside the inputs, below the price; gives the row from which there is room. */
function placeExposureOf(
  block: Block,
  { inputs }: Plan,
  place: StagePlace,
  top: number,
  input: (key: Key) => string,
): number {
  if (!tellsExposure(inputs)) return top;
  const columns = {
    action: stageColumnIndex(place, "machine"),
    limit: stageColumnIndex(place, "liquids"),
    words: stageColumnIndex(place, "cost"),
  };
  return placeExposure(block, { top, ...priceColumns(place), ...columns, units: inputs.units, input }) + 1;
}

function placePrice(
  block: Block,
  plan: Plan,
  place: StagePlace,
  names: PlanNames,
  top: number,
  input: (key: Key) => string,
  figure: string,
): number {
  const put = block.cells.push.bind(block.cells);
  const at = priceColumns(place);
  for (let column = at.label; column <= at.unit; column++) {
    put({ row: top, column, content: column === at.label ? "Price" : "", style: "heading" });
  }
  const keys = priceLineKeys(plan);
  const inputKeys = inputGroups(plan).flatMap((group) => group.keys);
  const rowOf = (key: LineKey) => top + 1 + keys.indexOf(key);
  const cell = (key: LineKey) => absoluteAddress(rowOf(key), at.value);
  const lines = priceLines(keys, {
    input,
    column: (key) => `${names.stages}[${stageColumn(key).title(plan.inputs.units)}]`,
    line: cell,
    verdict: sequenceVerdict(place),
    inputsFigure: figure,
    checks: {
      passesEnough: passesEnough(place),
      inputsPossible: inputsPossible(inputKeys, plan, input),
      rowsWhole: rowsWhole(place, names),
      chosenForThese: chosenForThese(inputKeys, plan, input),
    },
    units: plan.inputs.units,
    pastJobs: plan.pastJobs,
  });
  for (const line of lines) {
    const row = rowOf(line.key);
    for (let column = at.label; column < at.value; column++) {
      const content = column === at.label ? line.label : "";
      put({ row, column, content, style: line.strong ? "labelStrong" : "label" });
    }
    const style = line.strong ? "figureStrong" : "figure";
    put({ row, column: at.value, content: { formula: line.formula }, style, format: line.format });
    const name = lineName(line.key, names);
    put({ row, column: at.unit, content: name ? `${line.unit} = ${name}`.trim() : line.unit, style: "unit" });
  }
  for (const key of NAMED_LINES.filter((named) => keys.includes(named))) {
    block.names.push({ name: names[key], row: rowOf(key), column: at.value, scope: "workbook" });
  }
  placeKeyFigures(block, lines, cell, plan, place);
  // Under "in order", which says nothing of the passes.
  const passes = cell("passesEnough");
  put({
    row: KEY_FIGURES_ROW + 2,
    column: 0,
    content: { formula: `=IF(LEFT(${passes},2)="no",${complaintOf(passes)},"")` },
    style: "caution",
  });
  return top + 1 + lines.length;
}

function placeKeyFigures(
  block: Block,
  lines: readonly PriceLine[],
  cell: (key: LineKey) => string,
  plan: Plan,
  place: StagePlace,
): void {
  const area = symbol("floorArea", plan.inputs.units);
  // Money and the verdict stand over the wider columns.
  const figures = [
    ["price", "Price", "tool"],
    ["cost", "Total cost", "bond"],
    ["margin", "Margin", "grit"],
    ["days", "Days", "size"],
    ["hours", "Hours", "ratio"],
    ["sequence", "Sequence", "check"],
    ["perArea", `Per ${area}`, "scratch"],
    ["priceAt", { formula: `="At "&${confidenceWords(FIELDS.confidence.name)}` }, "passes"],
    ["upToDate", "Numbers up to date?", "rate"],
  ] as const;
  for (const [key, label, over] of figures) {
    const line = lines.find((l) => l.key === key);
    if (!line) continue;
    const { format } = line;
    const column = stageColumnIndex(place, over);
    block.cells.push({ row: KEY_FIGURES_ROW, column, content: label, style: "keyLabel" });
    block.cells.push({
      row: KEY_FIGURES_ROW + 1,
      column,
      content: { formula: `=${cell(key)}` },
      style: "keyFigure",
      format,
    });
  }
}

function placeCharts(block: Block, plan: Plan, place: StagePlace, top: number): void {
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
    left: priceColumns(place).label,
    right: stageColumnIndex(place, "cost"),
  };
  block.charts.push({
    ...common,
    title: "Cost by stage",
    valueTitle: "Cost",
    format: "count",
    series: series(["tooling", "crew", "machine", "liquids"], ["Tooling", "Crew", "Machine", "Liquids"], CHART_FILLS),
    top,
    bottom: top + CHART_ROWS,
  });
  block.charts.push({
    ...common,
    title: "Hours by stage",
    valueTitle: "Hours worked by machine and at the edges",
    format: "asTyped",
    series: series(["machineHours", "edgeHours"], ["Machine", "Edges"], [CHART_FILLS[0], CHART_FILLS[2]]),
    top: top + CHART_ROWS + 1,
    bottom: top + 2 * CHART_ROWS + 1,
  });
}
