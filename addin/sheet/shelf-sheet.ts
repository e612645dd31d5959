/** The shelf on sheets of its own: tooling and liquids on one, machines on another, for the user to keep. */
import {
  type Column,
  header,
  LIQUID_COLUMNS,
  MACHINE_COLUMNS,
  type Machine,
  type Shelf,
  TOOL_COLUMNS,
} from "../../functions/plan/shelf";
import type { System } from "../../functions/units";
import { cellAddress } from "../common/a1";
import { type Block, emptyBlock, type SheetSetup, tableSetup } from "./block";
import type { NumberFormat } from "./styles";

const TOP = 3;
const LIQUIDS_LEFT = TOOL_COLUMNS.length + 1;
/** The tooling table is then as wide as a Letter page, and the liquids go on the next. */
const PRINT_SCALE = 54;
const FORMATS = { money: "moneyInput", percent: "percent", number: "count", text: "text" } as const satisfies Record<
  string,
  NumberFormat
>;

export function shelfSheet(
  shelf: Shelf,
  units: System,
  names: { tooling: string; liquids: string },
  sign = "",
): { block: Block; setup: SheetSetup } {
  const block = emptyBlock(sign);
  block.cells.push({ row: 0, column: 0, content: "Shelf", style: "title" });
  block.cells.push({
    row: 1,
    column: 0,
    content:
      "Sample tools and prices. Replace them with your own, and add rows as you need. The Grit column is text, so a label such as 00 stays as typed; give it a size.",
    style: "caution",
  });
  placeTable(block, names.tooling, 0, TOOL_COLUMNS, shelf.tools, units);
  placeTable(block, names.liquids, LIQUIDS_LEFT, LIQUID_COLUMNS, shelf.liquids, units);
  const widths = [
    ...TOOL_COLUMNS.map(({ key }) => (key === "name" || key === "bond" ? 100 : 66)),
    18,
    ...LIQUID_COLUMNS.map(() => 70),
  ];
  return {
    block,
    setup: { ...tableSetup(TOP, widths), page: { scale: PRINT_SCALE, columns: widths.length, breaksAbove: [] } },
  };
}

export function machinesSheet(
  machines: readonly Machine[],
  units: System,
  name: string,
  sign = "",
): { block: Block; setup: SheetSetup } {
  const block = emptyBlock(sign);
  block.cells.push({ row: 0, column: 0, content: "Machines", style: "title" });
  block.cells.push({
    row: 1,
    column: 0,
    content: "Sample machines. Replace them with your own. The machine entered in a plan's inputs needs no row here.",
    style: "caution",
  });
  placeTable(block, name, 0, MACHINE_COLUMNS, machines, units);
  const cellOf = (row: number, key: keyof Machine) =>
    cellAddress(
      row,
      MACHINE_COLUMNS.findIndex((column) => column.key === key),
    );
  machines.forEach((_, i) => {
    const row = TOP + 1 + i;
    const [head, tool, rpm, carrier] = (["headRadius", "toolRadius", "headRpm", "carrierRpm"] as const).map((key) =>
      cellOf(row, key),
    );
    const speed = `GRIT.SLIDESPEED(N(${head}),${tool},${rpm},N(${carrier}),"${units}")`;
    const column = MACHINE_COLUMNS.findIndex(({ key }) => key === "slideSpeed");
    const content = { formula: `=IF(N(${tool})*N(${rpm})=0,"",${speed})` };
    block.cells.push({ row, column, content, style: "tableCell", format: "whole" });
  });
  return {
    block,
    setup: tableSetup(
      TOP,
      MACHINE_COLUMNS.map(({ key }) => (key === "name" ? 130 : 76)),
    ),
  };
}

function placeTable<Row>(
  block: Block,
  name: string,
  left: number,
  columns: readonly Column<Row>[],
  rows: readonly Row[],
  units: System,
): void {
  columns.forEach((column, i) => {
    block.cells.push({ row: TOP, column: left + i, content: header(column, units), style: "tableHeader" });
    rows.forEach((row, r) => {
      if (column.key === "slideSpeed") return; // worked out from the heads
      const value = row[column.key] as number | string | null;
      const format = column.format && FORMATS[column.format];
      block.cells.push({ row: TOP + 1 + r, column: left + i, content: value ?? "", style: "tableInput", format });
    });
  });
  block.tables.push({ name, row: TOP, column: left, rows: rows.length + 1, columns: columns.length });
}
