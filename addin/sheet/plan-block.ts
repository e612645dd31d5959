/** The stage plan in little, for a place in a quote that the user already has. */
import type { Key } from "../../functions/plan/fields";
import { signBefore, tellsExposure } from "../../functions/plan/inputs";
import { absoluteAddress } from "../common/a1";
import { type Block, emptyBlock } from "./block";
import { grindingCaution, HAZARDS } from "./cautions";
import { placeExposure } from "./exposure-block";
import { inputContent, inputFormat, inputGroups, inputLabel, inputRule, inputStyle, inputUnit } from "./inputs-block";
import type { Plan, PlanNames } from "./plan";
import { linesOf, placeFigure, stagePlace } from "./plan-parts";
import { HEADINGS, planNotes, titled } from "./plan-texts";
import { CHECK_LINES, type LineKey, priceLineKeys } from "./price-lines";
import { describesPower, describesSpeed } from "./stage-place";
import type { StageColumnKey } from "./stage-row";
import { placeStageTable, type ShelfLists, stageColumnIndex } from "./stage-table";

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
  "slide",
  "fullCut",
  "power",
  "powerThere",
  "cut",
  "needed",
  "passes",
  "hours",
  "wait",
  "start",
  "done",
  "tooling",
  "crew",
  "machine",
  "liquids",
  "cost",
];
/** The cut is long to work out only where machines are described, and has a cell of its own then. */
const columnsFor = ({ machines, machinesLack }: PlanNames) => {
  const table = { machinesTable: machines, machinesLack };
  return COLUMNS.filter((key) => key !== "cut" || describesSpeed(table) || describesPower(table));
};
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
  const block = emptyBlock(signBefore(plan.inputs));
  const put = block.cells.push.bind(block.cells);
  const { inputs } = plan;
  put({ row: top, column: left, content: titled(HEADINGS.block, inputs), style: "title" });
  const notes = planNotes(plan.notes);
  if (notes) put({ row: top + 2, column: left, content: notes, style: "warning" });
  const inputsTop = notes ? top + 3 : top + 2;

  const keys = inputGroups(plan).flatMap((group) => group.keys);
  const perColumn = Math.ceil(keys.length / ACROSS.length);
  const spot = (key: Key) => {
    const i = keys.indexOf(key);
    return { row: inputsTop + (i % perColumn), column: left + ACROSS[Math.floor(i / perColumn)]! };
  };
  const input = (key: Key) => absoluteAddress(spot(key).row, spot(key).column + VALUE);
  const inputCells = ACROSS.map((across) => {
    const column = left + across + VALUE;
    return `${absoluteAddress(inputsTop, column)}:${absoluteAddress(inputsTop + perColumn - 1, column)}`;
  });
  const caution = `="${HAZARDS} "&${grindingCaution(input)}`;
  put({ row: top + 1, column: left, content: { formula: caution }, style: "caution" });
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
    put({ row, column: column + UNIT, content: inputUnit(key, plan, input), style: "unit" });
    const rule = inputRule(key, plan, row, column + VALUE);
    if (rule) block.rules.push(rule);
  }

  const place = stagePlace(plan, names, { columns: columnsFor(names), top: inputsTop + perColumn + 1, left, input });
  const below = placeStageTable(block, place, plan, lists, "tableInputWrapped");

  const valueColumn = stageColumnIndex(place, "cost");
  const labelColumn = stageColumnIndex(place, "tooling");
  const shown = priceLineKeys(plan, place).filter((key) => SHOWN.includes(key));
  const rowOf = (key: LineKey) => below + shown.indexOf(key);
  const lines = linesOf(plan, names, place, shown, inputCells, {
    line: (key) => absoluteAddress(rowOf(key), valueColumn),
    words: (key) => absoluteAddress(rowOf(key), valueColumn + 1),
  });
  for (const line of lines) {
    const row = rowOf(line.key);
    put({ row, column: labelColumn, content: line.label, style: "label" });
    placeFigure(block, line.words ? line : { ...line, unit: "" }, names, row, valueColumn);
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
