/** The stage table with its totals row, in any of its layouts. */
import { WORKS } from "../../functions/plan/proposal";
import { rangeAddress } from "../common/a1";
import type { Block } from "./block";
import type { Plan } from "./plan";
import { rowAt, type StageColumnKey, type StagePlace, stageColumn } from "./stage-columns";

export const stageColumnIndex = (place: StagePlace, key: (typeof place.columns)[number]) =>
  place.left + place.columns.indexOf(key);

/** Sources of the drop-down lists: the cells that hold the names on the shelf. */
export interface ShelfLists {
  tools: string;
  machines?: string;
}

const typedIn = (key: StageColumnKey, stage: Plan["stages"][number]) =>
  ({ work: stage.work, tool: stage.tool, machineName: stage.machine ?? "" })[key as "work" | "tool" | "machineName"];

/**
 * Puts the table's header, its rows and its totals into a block; gives the row below the totals. Names wrap in columns as
 * wide as the user has them.
 */
export function placeStageTable(
  block: Block,
  place: StagePlace,
  plan: Plan,
  lists: ShelfLists | undefined,
  nameStyle: "tableInput" | "tableInputWrapped" = "tableInput",
): number {
  const { top, left, columns, units, table } = place;
  const count = plan.stages.length;
  const put = block.cells.push.bind(block.cells);
  columns.forEach((key, i) => {
    const column = stageColumn(key);
    const at = left + i;
    put({ row: top, column: at, content: column.title(units), style: "tableHeader" });
    plan.stages.forEach((stage, index) => {
      const row = top + 1 + index;
      const typed = typedIn(key, stage);
      if (typed !== undefined) put({ row, column: at, content: typed, style: nameStyle });
      else {
        const formula = `=${column.formula!(rowAt(place, index))}`;
        const style = key === "passes" ? "tableInput" : "tableCell";
        put({ row, column: at, content: { formula }, style, format: column.format });
      }
    });
    const sum = { formula: `=SUM(${table}[${column.title(units)}])` };
    const content = column.summed ? sum : key === "work" ? "Total" : "";
    put({ row: top + 1 + count, column: at, content, style: "total", format: column.format });
  });
  block.tables.push({ name: table, row: top, column: left, rows: count + 1, columns: columns.length });
  block.rules.push({
    row: top + 1,
    column: left + columns.indexOf("work"),
    rows: count,
    rule: { list: WORKS.join(",") },
    message: `Work must be one of: ${WORKS.join(", ")}.`,
  });
  const pick = (key: StageColumnKey, list: string, message: string) =>
    block.rules.push({ row: top + 1, column: left + columns.indexOf(key), rows: count, rule: { list }, message });
  if (lists) {
    pick(
      "tool",
      lists.tools,
      "Pick a tool from the shelf; for densify and guard, type the liquid's name as the shelf has it.",
    );
    if (lists.machines) {
      pick("machineName", lists.machines, "Pick a machine of the machines table; blank is the machine of the inputs.");
    }
  }
  return top + 2 + count;
}

/** The rows of one column as a plain range. */
export function stageColumnRange(place: StagePlace, key: (typeof place.columns)[number], count: number): string {
  return rangeAddress(place.top + 1, stageColumnIndex(place, key), count, 1);
}

/** "in order", or the first row that is not and what is wrong with it. */
export function sequenceVerdict(place: StagePlace): string {
  const check = `${place.table}[${stageColumn("check").title(place.units)}]`;
  const number = `${place.table}[${stageColumn("no").title(place.units)}]`;
  const wrong = `(${check}<>"ok")*(${check}<>"start")*(${check}<>"")`;
  const row = `MATCH(1,INDEX(${wrong},0),0)`;
  return `IF(SUMPRODUCT(${wrong})=0,"in order","row "&INDEX(${number},${row})&": "&INDEX(${check},${row}))`;
}
