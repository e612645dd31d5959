/** The stage table with its totals row, in any of its layouts. */
import { WORKS } from "../../functions/plan/works";
import type { Block } from "./block";
import type { Plan } from "./plan";
import { HEADINGS, RULES, SEQUENCE_FINE } from "./plan-texts";
import { stageColumn } from "./stage-columns";
import { rowAt, type StagePlace } from "./stage-place";
import type { StageColumnKey } from "./stage-row";

export const stageColumnIndex = (place: StagePlace, key: (typeof place.columns)[number]) =>
  place.left + place.columns.indexOf(key);

/** Sources of the drop-down lists: the cells that hold the names on the shelf. */
export interface ShelfLists {
  tools: string;
  machines?: string;
}

const CENTERED: readonly StageColumnKey[] = ["no", "grit"];

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
      const isCounted = key === "passes" && stage.passes !== undefined;
      if (typed !== undefined) put({ row, column: at, content: typed, style: nameStyle });
      else if (isCounted) put({ row, column: at, content: stage.passes!, style: "tableInput", format: column.format });
      else {
        const formula = `=${column.formula!(rowAt(place, index))}`;
        const style = key === "passes" ? "tableInput" : CENTERED.includes(key) ? "tableCentered" : "tableCell";
        put({ row, column: at, content: { formula }, style, format: column.format });
      }
    });
    const sum = { formula: `=SUM(${table}[${column.title(units)}])` };
    const content = column.summed ? sum : key === "work" ? HEADINGS.total : "";
    put({ row: top + 1 + count, column: at, content, style: "total", format: column.format });
  });
  block.tables.push({ name: table, row: top, column: left, rows: count + 1, columns: columns.length });
  block.rules.push({
    row: top + 1,
    column: left + columns.indexOf("work"),
    rows: count,
    rule: { list: WORKS.join(",") },
    message: RULES.work(WORKS),
  });
  const pick = (key: StageColumnKey, list: string, message: string) =>
    block.rules.push({ row: top + 1, column: left + columns.indexOf(key), rows: count, rule: { list }, message });
  if (lists) {
    pick("tool", lists.tools, RULES.tool);
    if (lists.machines) {
      pick("machineName", lists.machines, RULES.machine);
    }
  }
  return top + 2 + count;
}

/** "in order", or the first row that is not and what is wrong with it. */
export function sequenceVerdict(place: StagePlace): string {
  const check = `${place.table}[${stageColumn("check").title(place.units)}]`;
  const number = `${place.table}[${stageColumn("no").title(place.units)}]`;
  const wrong = `(${check}<>"ok")*(${check}<>"start")*(${check}<>"")`;
  const row = `MATCH(1,INDEX(${wrong},0),0)`;
  return `IF(SUMPRODUCT(${wrong})=0,"${SEQUENCE_FINE}","row "&INDEX(${number},${row})&": "&INDEX(${check},${row}))`;
}
