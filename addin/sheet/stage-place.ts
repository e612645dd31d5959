/** Where the stage table stands, and the view that each of its rows' formulas gets of its surroundings. */
import type { Key } from "../../functions/plan/fields";
import { header, LIQUID_COLUMNS, MACHINE_COLUMNS, TOOL_COLUMNS, type Tool } from "../../functions/plan/shelf";
import type { System } from "../../functions/units";
import { stageColumn } from "./stage-columns";
import { MACHINE_INPUTS, type Row, type StageColumnKey } from "./stage-row";

/** What the layout decides: where the table stands, which columns it shows, and where inputs and shelf are. */
export interface StagePlace {
  columns: readonly StageColumnKey[];
  /** Row and column of the header's first cell on the sheet. */
  top: number;
  left: number;
  table: string;
  units: System;
  input(key: Key): string;
  toolingTable: string;
  /** Optional columns that the user's tooling table does not have. */
  toolingLacks: readonly (keyof Tool)[];
  liquidsTable: string;
  /** Where there is one, the stage table has a column for it. */
  machinesTable: string | undefined;
  address(row: number, column: number): string;
}

const lookUp = (table: string, column: string, nameColumn: string, name: string) =>
  `INDEX(${table}[${column}],MATCH(${name},${table}[${nameColumn}],0))`;

/** Blank cells of the table are no duplicates of a row without a name. */
const isDuplicateIn = (names: string, name: string) => `(SUMPRODUCT(--(${names}=${name}))>1)*(${name}<>"")`;

/** The view that one row's formulas have; `index` counts the stages from 0. */
export function rowAt(place: StagePlace, index: number): Row {
  const rowNumber = place.top + 1 + index;
  const columnOf = (key: StageColumnKey) => {
    const at = place.columns.indexOf(key);
    return at < 0 ? undefined : place.left + at;
  };
  const shown = (key: StageColumnKey) => {
    const column = columnOf(key);
    if (column === undefined) throw new Error(`this layout needs the column ${key}`);
    return column;
  };
  const row: Row = {
    input: place.input,
    get setSize() {
      return place.machinesTable && `(${row.machine("toolsASet")}/${place.input("toolsASet")})`;
    },
    here(key) {
      const column = columnOf(key);
      if (column !== undefined) return place.address(rowNumber, column);
      return `(${stageColumn(key).formula!(row)})`;
    },
    above(key) {
      const column = shown(key);
      const top = place.address(place.top, column).replace(/([A-Z]+)(\d+)$/, "$1$$$2");
      return `${top}:${place.address(rowNumber - 1, column)}`;
    },
    whole: (key) => `${place.table}[${stageColumn(key).title(place.units)}]`,
    lacks: (key) => place.toolingLacks.includes(key),
    tool: (key) => {
      if (place.toolingLacks.includes(key)) return "0";
      const column = TOOL_COLUMNS.find((c) => c.key === key)!;
      return lookUp(place.toolingTable, header(column, place.units), TOOL_COLUMNS[0]!.title, row.here("tool"));
    },
    liquid: (key) => {
      const column = LIQUID_COLUMNS.find((c) => c.key === key)!;
      return lookUp(place.liquidsTable, header(column, place.units), LIQUID_COLUMNS[0]!.title, row.here("tool"));
    },
    machine: (key) => {
      const ofInputs = place.input(MACHINE_INPUTS[key]);
      if (!place.machinesTable) return ofInputs;
      const column = MACHINE_COLUMNS.find((c) => c.key === key)!;
      const name = row.here("machineName");
      const title = header(column, place.units);
      return `IF(${name}="",${ofInputs},${lookUp(place.machinesTable, title, MACHINE_COLUMNS[0]!.title, name)})`;
    },
    isDuplicate(kind) {
      const [table, columns] =
        kind === "tool" ? [place.toolingTable, TOOL_COLUMNS] : [place.liquidsTable, LIQUID_COLUMNS];
      return isDuplicateIn(`${table}[${columns[0]!.title}]`, row.here("tool"));
    },
    get isDuplicateMachine() {
      if (!place.machinesTable) return undefined;
      return isDuplicateIn(`${place.machinesTable}[${MACHINE_COLUMNS[0]!.title}]`, row.here("machineName"));
    },
    headerCell: place.address(place.top, place.left).replace(/([A-Z]+)(\d+)$/, "$1$$$2"),
  };
  return row;
}
