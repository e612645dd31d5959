/** What the two layouts of a plan have in common: the stage table's place and the price lines. */
import type { Key } from "../../functions/plan/fields";
import type { System } from "../../functions/units";
import { cellAddress } from "../common/a1";
import type { Block } from "./block";
import { inputsFigure } from "./check-cell";
import { inputGroups } from "./inputs-block";
import type { Plan, PlanNames, ShelfUnits } from "./plan";
import {
  chosenForThese,
  edgesFit,
  formulasIntact,
  inputsPossible,
  passesEnough,
  powerEnough,
  rowsWhole,
} from "./plan-checks";
import { CHECK_LINES, type LineKey, lineName, type NAMED_LINES, type PriceLine, priceLines } from "./price-lines";
import { stageColumn } from "./stage-columns";
import { describesPower, describesSpeed, type StagePlace } from "./stage-place";
import type { StageColumnKey } from "./stage-row";
import { sequenceVerdict } from "./stage-table";

/** A new shelf is in the plan's units. */
const shelfUnitsOf = ({ shelfUnits }: PlanNames, units: System): ShelfUnits =>
  shelfUnits ?? { tooling: units, liquids: units, machines: units };

export function stagePlace(
  plan: Plan,
  names: PlanNames,
  at: Pick<StagePlace, "columns" | "top" | "left" | "input">,
): StagePlace {
  const { inputs } = plan;
  const given = inputGroups(plan).flatMap(({ keys }) => keys);
  return {
    ...at,
    has: (key) => given.includes(key),
    columns: at.columns.filter((key) => shows(key, names)),
    table: names.stages,
    units: inputs.units,
    toolingTable: names.tooling,
    toolingLacks: names.toolingLacks,
    liquidsTable: names.liquids,
    liquidsLacks: names.liquidsLacks,
    machinesTable: names.machines,
    shelfUnits: shelfUnitsOf(names, inputs.units),
    machinesLack: names.machinesLack,
    address: cellAddress,
  };
}

const OF_POWER: readonly StageColumnKey[] = ["fullCut", "power", "powerThere"];

/** Columns about machines are there as far as the machines table describes them; that of segments as the tooling table does. */
function shows(key: StageColumnKey, { machines: machinesTable, machinesLack, toolingLacks }: PlanNames): boolean {
  const table = { machinesTable, machinesLack };
  if (key === "machineName") return machinesTable !== undefined;
  if (key === "slide") return describesSpeed(table);
  if (key === "pressure") return !toolingLacks.includes("segments") && !toolingLacks.includes("segmentArea");
  return !OF_POWER.includes(key) || describesPower(table);
}

/**
 * The price lines, with the value of each in a cell of its own and its unit or words in another; `figures` are other cells
 * that show some of them.
 */
export function linesOf(
  plan: Plan,
  names: PlanNames,
  place: StagePlace,
  keys: readonly LineKey[],
  inputCells: readonly string[],
  cells: { line(key: LineKey): string; words(key: LineKey): string },
  figures: readonly string[] = [],
): PriceLine[] {
  const { units } = plan.inputs;
  const { input } = place;
  const isChecked = (key: LineKey) => !(CHECK_LINES as readonly LineKey[]).includes(key);
  const formulas = [...keys.filter(isChecked).map((key) => cells.line(key)), ...figures];
  const inputKeys: Key[] = inputGroups(plan).flatMap((group) => group.keys);
  return priceLines(keys, {
    ...cells,
    input,
    column: (key: StageColumnKey) => `${names.stages}[${stageColumn(key).title(units)}]`,
    verdict: sequenceVerdict(place),
    inputsFigure: inputsFigure(inputCells, names, units, place.shelfUnits),
    checks: {
      passesEnough: passesEnough(place),
      powerEnough: powerEnough(place),
      inputsPossible: inputsPossible(inputKeys, plan, input),
      rowsWhole: rowsWhole(place, names),
      formulasIntact: formulasIntact(place, formulas),
      chosenForThese: chosenForThese(inputKeys, plan, input),
      edgesFit: edgesFit(plan, input),
    },
    units,
    pastJobs: plan.pastJobs,
  });
}

/** Text runs on to the right, away from its label. */
const styleOf = ({ strong, isText, format }: PriceLine) =>
  strong ? "figureStrong" : isText || format === "check" ? "answer" : "figure";

/** Puts the figure of a line, its name in the workbook, and right of it its unit or, of a check, what is wrong. */
export function placeFigure(block: Block, line: PriceLine, names: PlanNames, row: number, column: number): void {
  const put = block.cells.push.bind(block.cells);
  put({ row, column, content: { formula: line.formula }, style: styleOf(line), format: line.format });
  const name = lineName(line.key, names);
  const beside = line.words ?? (name ? `${line.unit} = ${name}`.trim() : line.unit);
  if (beside !== "") put({ row, column: column + 1, content: beside, style: "unit" });
  if (name) {
    const key = line.key as (typeof NAMED_LINES)[number];
    block.names.push({ name: names[key], row, column, scope: "workbook" });
  }
}
