/** The stage plan in little, for a place in a quote that the user already has. */
import { tellsExposure } from "../../functions/plan/exposure";
import type { Key } from "../../functions/plan/fields";
import { absoluteAddress, cellAddress } from "../common/a1";
import { type Block, emptyBlock } from "./block";
import { inputsFigure } from "./check-cell";
import { placeExposure } from "./exposure-block";
import { inputContent, inputFormat, inputGroups, inputLabel, inputRule, inputStyle, inputUnit } from "./inputs-block";
import { CAUTION, type Plan, type PlanNames } from "./plan";
import { chosenForThese, inputsPossible, passesEnough, rowsWhole } from "./plan-checks";
import { CHECK_LINES, type LineKey, lineName, NAMED_LINES, priceLineKeys, priceLines } from "./price-lines";
import { type StageColumnKey, type StagePlace, stageColumn } from "./stage-columns";
import { placeStageTable, type ShelfLists, sequenceVerdict, stageColumnIndex } from "./stage-table";

const COLUMNS: readonly StageColumnKey[] = [
  "no",
  "work",
  "tool",
  "machineName",
  "bond",
  "grit",
  "size",
  "check",
  "scratch",
  "passes",
  "hours",
  "tooling",
  "crew",
  "machine",
  "liquids",
  "cost",
];
/** Inputs run in columns of label, value and unit beside one another. */
const ACROSS = [0, 4, 8] as const;
const VALUE = 2;
const UNIT = 3;
/** Price lines that a quote takes over; none of them refers to one that is left out. */
const SHOWN: readonly LineKey[] = [
  "stages",
  "setup",
  "direct",
  "overhead",
  "contingency",
  "cost",
  "price",
  "hours",
  "jobsFactor",
  "hoursAt",
  "priceAt",
  "jobsSlab",
  "days",
  "daysAt",
  "sequence",
  ...CHECK_LINES,
];

/** The block with its first cell at a row and column of the sheet. */
export function planBlock(
  plan: Plan,
  names: PlanNames,
  lists: ShelfLists | undefined,
  top: number,
  left: number,
): Block {
  const block = emptyBlock();
  const put = block.cells.push.bind(block.cells);
  const { inputs } = plan;
  put({ row: top, column: left, content: inputs.jobName ? `Stages: ${inputs.jobName}` : "Stages", style: "title" });
  put({ row: top + 1, column: left, content: CAUTION, style: "caution" });

  const keys = inputGroups(plan).flatMap((group) => group.keys);
  const perColumn = Math.ceil(keys.length / ACROSS.length);
  const spot = (key: Key) => {
    const i = keys.indexOf(key);
    return { row: top + 2 + (i % perColumn), column: left + ACROSS[Math.floor(i / perColumn)]! };
  };
  const input = (key: Key) => absoluteAddress(spot(key).row, spot(key).column + VALUE);
  const inputCells = ACROSS.map((across) => {
    const column = left + across + VALUE;
    return `${absoluteAddress(top + 2, column)}:${absoluteAddress(top + 1 + perColumn, column)}`;
  });
  for (const key of keys) {
    const { row, column } = spot(key);
    put({ row, column, content: inputLabel(key), style: "labelWrapped" });
    put({
      row,
      column: column + VALUE,
      content: inputContent(key, plan, input),
      style: inputStyle(key),
      format: inputFormat(key),
    });
    put({ row, column: column + UNIT, content: inputUnit(key, plan), style: "unit" });
    const rule = inputRule(key, plan, row, column + VALUE);
    if (rule) block.rules.push(rule);
  }

  const place: StagePlace = {
    columns: COLUMNS.filter((key) => key !== "machineName" || names.machines),
    top: top + 3 + perColumn,
    left,
    table: names.stages,
    units: inputs.units,
    input,
    toolingTable: names.tooling,
    toolingLacks: names.toolingLacks,
    liquidsTable: names.liquids,
    machinesTable: names.machines,
    address: cellAddress,
  };
  const below = placeStageTable(block, place, plan, lists, "tableInputWrapped");

  const valueColumn = stageColumnIndex(place, "cost");
  const labelColumn = stageColumnIndex(place, "tooling");
  const shown = priceLineKeys(plan).filter((key) => SHOWN.includes(key));
  const rowOf = (key: LineKey) => below + shown.indexOf(key);
  const lines = priceLines(shown, {
    input,
    column: (key) => `${names.stages}[${stageColumn(key).title(inputs.units)}]`,
    line: (key) => absoluteAddress(rowOf(key), valueColumn),
    verdict: sequenceVerdict(place),
    inputsFigure: inputsFigure(inputCells, names, inputs.units),
    checks: {
      passesEnough: passesEnough(place),
      inputsPossible: inputsPossible(keys, plan, input),
      rowsWhole: rowsWhole(place, names),
      chosenForThese: chosenForThese(keys, plan, input),
    },
    units: inputs.units,
    pastJobs: plan.pastJobs,
  });
  for (const line of lines) {
    const row = rowOf(line.key);
    put({ row, column: labelColumn, content: line.label, style: "label" });
    const style = line.strong ? "figureStrong" : "figure";
    put({ row, column: valueColumn, content: { formula: line.formula }, style, format: line.format });
    const name = lineName(line.key, names);
    if (name) put({ row, column: valueColumn + 1, content: `= ${name}`, style: "unit" });
  }
  for (const key of NAMED_LINES.filter((named) => shown.includes(named))) {
    block.names.push({ name: names[key], row: rowOf(key), column: valueColumn, scope: "workbook" });
  }
  if (tellsExposure(inputs)) {
    // Beside the price lines, under the stage table's first columns; the words run on to where those begin.
    const columns = {
      label: left,
      value: left + 3,
      unit: left + 4,
      action: left + 5,
      limit: left + 6,
      words: left + 7,
    };
    placeExposure(block, { top: below, ...columns, units: inputs.units, input });
  }
  return block;
}
