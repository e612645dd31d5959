/** Reads the shelf from the rows of its tables: what can be used, what cannot and why, and names that more than one row has. */
import { isGritLabel } from "../scale";
import {
  type Column,
  LIQUID_COLUMNS,
  MACHINE_COLUMNS,
  type Machine,
  type Shelf,
  TOOL_COLUMNS,
  type Unpriced,
} from "./shelf";

/** A row of the table that cannot be used, with the column and the reason. */
export interface BadRow {
  row: number;
  reason: string;
}

/** A name that more than one row of a table has. */
export interface Duplicates {
  readonly name: string;
  /** Counted from 0. */
  readonly rows: readonly number[];
}

/** What a lookup takes for the same name: letter case does not count, nor, with us, do spaces around it. */
const nameKey = (name: unknown) =>
  String(name ?? "")
    .trim()
    .toLowerCase();

/** Names that a lookup could not tell apart, of rows that can be used and of those that cannot. */
export function duplicatesAmong(names: readonly unknown[]): Duplicates[] {
  const found = new Map<string, { name: string; rows: number[] }>();
  names.forEach((name, row) => {
    const key = nameKey(name);
    if (key === "") return;
    const duplicates = found.get(key) ?? { name: String(name).trim(), rows: [] };
    duplicates.rows.push(row);
    found.set(key, duplicates);
  });
  return [...found.values()].filter(({ rows }) => rows.length > 1);
}

/** The rows whose names are theirs alone. */
export function withoutDuplicates<Row extends { readonly name: string }>(
  rows: readonly Row[],
  duplicates: readonly Duplicates[],
) {
  const names = duplicates.map(({ name }) => nameKey(name));
  return rows.filter(({ name }) => !names.includes(nameKey(name)));
}

/** The first cell of a row that cannot be used, in words. */
function faultIn<Row>(row: Record<keyof Row, unknown>, columns: readonly Column<Row>[]): string | undefined {
  for (const { key, title, check } of columns) {
    const wrong = check(row[key], row);
    if (wrong) return `${title} ${wrong}`;
  }
  return undefined;
}

/** The rows that can be used, and why the others cannot. */
export function rowsOf<Row>(rows: readonly (readonly unknown[])[], columns: readonly Column<Row>[]) {
  const good: Row[] = [];
  const bad: BadRow[] = [];
  const unpriced: Row[] = [];
  rows.forEach((cells, i) => {
    if (cells.every((cell) => cell === "" || cell === null)) return;
    const read = (cell: unknown) => (cell === "" ? null : typeof cell === "string" ? cell.trim() : (cell ?? null));
    const row = Object.fromEntries(columns.map((column, k) => [column.key, lowered(column.key, read(cells[k]))]));
    const reason = faultIn(row as Record<keyof Row, unknown>, columns);
    if (reason === undefined) good.push(row as Row);
    else {
      bad.push({ row: i + 1, reason });
      const priced = { ...row, price: 0 };
      if (row.price === null && !faultIn(priced as Record<keyof Row, any>, columns)) unpriced.push(priced as Row);
    }
  });
  return { good, bad, unpriced };
}

/** What the user calls things stays as it is written. */
const NAMES: readonly string[] = ["name", "slab", "machine", "tool", "unit", "words"];

/** Words may be typed in any letter case; "hybrid" is another word for transitional. */
function lowered(key: string, cell: unknown): unknown {
  if (typeof cell !== "string" || NAMES.includes(key)) return cell;
  // In a column that keeps labels as they are typed, numbers are texts too.
  if (key === "grit") return isGritLabel(cell) || Number.isNaN(Number(cell)) ? cell : Number(cell);
  const word = cell.toLowerCase();
  return key === "bond" && word === "hybrid" ? "transitional" : word;
}

/** A machine that is described as far as its row goes. */
const withoutBlanks = (machine: Machine): Machine =>
  Object.fromEntries(Object.entries(machine).filter(([, cell]) => cell !== null)) as unknown as Machine;

/** The shelf in the tables' rows (without headers); rows that cannot be used are listed, not dropped in silence. */
export function shelfOf(
  toolRows: readonly (readonly unknown[])[],
  liquidRows: readonly (readonly unknown[])[],
  machineRows: readonly (readonly unknown[])[] = [],
): { shelf: Shelf; unpriced: Unpriced; badTools: BadRow[]; badLiquids: BadRow[]; badMachines: BadRow[] } {
  const tools = rowsOf(toolRows, TOOL_COLUMNS);
  const liquids = rowsOf(liquidRows, LIQUID_COLUMNS);
  const machines = rowsOf(machineRows, MACHINE_COLUMNS);
  return {
    shelf: { tools: tools.good, liquids: liquids.good, machines: machines.good.map(withoutBlanks) },
    unpriced: { tools: tools.unpriced, liquids: liquids.unpriced },
    badTools: tools.bad,
    badLiquids: liquids.bad,
    badMachines: machines.bad,
  };
}
