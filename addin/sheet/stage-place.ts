/** Where the stage table stands, and the view that each of its rows' formulas gets of its surroundings. */
import type { Key } from "../../functions/plan/fields";
import {
  type Column,
  factorOf,
  header,
  LIQUID_COLUMNS,
  type Liquid,
  MACHINE_COLUMNS,
  type Machine,
  TOOL_COLUMNS,
  type Tool,
} from "../../functions/plan/shelf";
import type { System } from "../../functions/units";
import type { ShelfUnits } from "./plan";
import { stageColumn } from "./stage-columns";
import { MACHINE_INPUTS, type MadeUpKey, type Row, type StageColumnKey } from "./stage-row";

/** What the layout decides: where the table stands, which columns it shows, and where inputs and shelf are. */
export interface StagePlace {
  columns: readonly StageColumnKey[];
  /** Row and column of the header's first cell on the sheet. */
  top: number;
  left: number;
  table: string;
  units: System;
  input(key: Key): string;
  /** Whether this plan has a cell for it. */
  has(key: Key): boolean;
  toolingTable: string;
  /** Optional columns that the user's tooling table does not have. */
  toolingLacks: readonly (keyof Tool)[];
  liquidsTable: string;
  liquidsLacks: readonly (keyof Liquid)[];
  /** Where there is one, the stage table has a column for it. */
  machinesTable: string | undefined;
  /** Optional columns that the user's machines table does not have. */
  machinesLack: readonly (keyof Machine)[];
  shelfUnits: ShelfUnits;
  address(row: number, column: number): string;
}

/** Looks a figure up by the row's name, and converts it to the plan's units where its table is in others. */
const lookUpIn =
  ({ shelfUnits, units }: StagePlace) =>
  <Row>(kind: keyof ShelfUnits, table: string, columns: readonly Column<Row>[], key: keyof Row, name: string) => {
    const column = columns.find((c) => c.key === key)!;
    const own = shelfUnits[kind];
    const found = `INDEX(${table}[${header(column, own)}],MATCH(${name},${table}[${columns[0]!.title}],0))`;
    const factor = factorOf(column, own, units);
    return factor === 1 ? found : `(${found}*${factor})`;
  };

/** Blank cells of the table are no duplicates of a row without a name. */
const isDuplicateIn = (names: string, name: string) => `(SUMPRODUCT(--(${names}=${name}))>1)*(${name}<>"")`;

export type DescribedMachines = Pick<StagePlace, "machinesTable" | "machinesLack">;
const describes = ({ machinesTable, machinesLack }: DescribedMachines, keys: readonly MadeUpKey[]): boolean =>
  machinesTable !== undefined && !keys.some((key) => machinesLack.includes(key));
/** Whether the machines table says how fast tools slide, or what power there is. */
export const describesSpeed = (table: DescribedMachines) => describes(table, ["slideSpeed"]);
export const describesPower = (table: DescribedMachines) =>
  describes(table, ["motor"]) || describes(table, ["volts", "amps"]);

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
  const lookUp = lookUpIn(place);
  const row: Row = {
    units: place.units,
    has: place.has,
    input: (key) => (place.has(key) ? place.input(key) : "NA()"),
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
    lacksOfLiquid: (key) => place.liquidsLacks.includes(key),
    tool: (key) => {
      if (place.toolingLacks.includes(key)) return "0";
      return lookUp("tooling", place.toolingTable, TOOL_COLUMNS, key, row.here("tool"));
    },
    liquid: (key) => {
      if (place.liquidsLacks.includes(key)) return "0";
      return lookUp("liquids", place.liquidsTable, LIQUID_COLUMNS, key, row.here("tool"));
    },
    machine: (key) => {
      const ofInputs = place.input(MACHINE_INPUTS[key]);
      if (!place.machinesTable) return ofInputs;
      const name = row.here("machineName");
      return `IF(${name}="",${ofInputs},${lookUp("machines", place.machinesTable, MACHINE_COLUMNS, key, name)})`;
    },
    madeUp(key) {
      if (!describes(place, [key])) return "0";
      const name = row.here("machineName");
      return `IF(${name}="",0,N(${lookUp("machines", place.machinesTable!, MACHINE_COLUMNS, key, name)}))`;
    },
    hasMadeUp: (...keys) => describes(place, keys),
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
