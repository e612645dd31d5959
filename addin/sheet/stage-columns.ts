/**
 * The columns of the stage table. Every cell of a column holds the same formula, so that a row the user adds or
 * changes keeps working; what a formula needs beyond its row (an input, a tool's data) it gets through `Row`.
 */
import type { Key } from "../../functions/plan/fields";
import {
  header,
  LIQUID_COLUMNS,
  type Liquid,
  MACHINE_COLUMNS,
  type Machine,
  TOOL_COLUMNS,
  type Tool,
} from "../../functions/plan/shelf";
import { type System, symbol } from "../../functions/units";
import { DUPLICATES } from "./plan-texts";
import type { NumberFormat } from "./styles";

export type StageColumnKey =
  | "no"
  | "work"
  | "tool"
  | "machineName"
  | "bond"
  | "grit"
  | "size"
  | "ratio"
  | "check"
  | "scratch"
  | "cut"
  | "needed"
  | "passes"
  | "rate"
  | "machineHours"
  | "edgeHours"
  | "hours"
  | "setsUsed"
  | "setsToBuy"
  | "tooling"
  | "crew"
  | "machine"
  | "liquids"
  | "cost"
  | "share"
  | "extra";

/** What a row's formulas may refer to. */
export interface Row {
  /** The cell of an input. */
  input(key: Key): string;
  /** A column's cell in this row; where the layout leaves that column out, its formula in brackets. */
  here(key: StageColumnKey): string;
  /** The column's cells from the header down to the row above. */
  above(key: StageColumnKey): string;
  /** The whole column of the stage table. */
  whole(key: StageColumnKey): string;
  /** A cell of the row that the tool, or the liquid, has on the shelf. */
  tool(key: keyof Tool): string;
  /** Whether the tooling table has no such column. */
  lacks(key: keyof Tool): boolean;
  liquid(key: keyof Liquid): string;
  /** What the row's machine has: in the machines table, or in the inputs where the row names none. */
  machine(key: keyof typeof MACHINE_INPUTS): string;
  /** Tools that the row's machine carries, over those of a set on the shelf; undefined where they are the same machine's. */
  setSize: string | undefined;
  /** Whether two rows of the shelf have the name that is looked up: a lookup would take the first for both. */
  isDuplicate(kind: "tool" | "liquid"): string;
  /** The same of the row's machine; undefined where there is no machines table. */
  readonly isDuplicateMachine: string | undefined;
  headerCell: string;
}

export interface StageColumn {
  readonly key: StageColumnKey;
  readonly title: (units: System) => string;
  readonly format?: NumberFormat;
  /** Width in points. */
  readonly width: number;
  readonly summed?: boolean;
  /** Typed by the user, or by us for them; anything else is a formula. */
  readonly formula?: (row: Row) => string;
}

/** The inputs that describe the machine which a stage runs on when it names none. */
const MACHINE_INPUTS = {
  width: "machineWidth",
  speed: "speed",
  load: "load",
  toolsASet: "toolsASet",
  cost: "machineCost",
} as const satisfies Partial<Record<keyof Machine, Key>>;

const isLiquid = (row: Row) => `OR(${row.here("work")}="densify",${row.here("work")}="guard")`;
const byKind = (row: Row, liquid: string, tool: string) => `IF(${isLiquid(row)},${liquid},${tool})`;
/** #DIV/0! where the name is no row's own: no figure comes from one of two. */
const unlessDuplicate = (isDuplicate: string, figure: string) => `${figure}/NOT(${isDuplicate})`;
const isDuplicateRun = (row: Row) =>
  row.isDuplicateMachine ? `OR(${row.isDuplicate("tool")},${row.isDuplicateMachine})` : row.isDuplicate("tool");
const isSized = (row: Row) => `N(${row.tool("size")})>0`;
const checkOf = (row: Row, verdict: string) => {
  const duplicate = byKind(row, row.isDuplicate("liquid"), row.isDuplicate("tool"));
  const ofShelf = `IF(${duplicate},"${DUPLICATES.shelf}",${verdict})`;
  return row.isDuplicateMachine ? `IF(${row.isDuplicateMachine},"${DUPLICATES.machine}",${ofShelf})` : ofShelf;
};
/** What wet work changes by; nothing where the shelf has no such column, or a blank in it. */
const inWetWork = (row: Row, key: "wetSpeed" | "wetLife") =>
  row.lacks(key) ? "" : `*IF((${row.input("grinding")}="wet")*(N(${row.tool(key)})>0),${row.tool(key)},1)`;
const speed = (row: Row) => `${row.machine("speed")}*${row.tool("speedFactor")}${inWetWork(row, "wetSpeed")}`;
const life = (row: Row) => `${row.tool("life")}${inWetWork(row, "wetLife")}`;
const setLife = (row: Row) => (row.setSize ? `${life(row)}*${row.setSize}` : life(row));
const onHand = (row: Row) => (row.setSize ? `${row.tool("onHand")}/${row.setSize}` : row.tool("onHand"));
/** Larger than any number in a sheet: looked up, it finds the last number. */
const BEYOND = "9.99E+307";
/** The last number above, since a densify row between two tools has none. */
const lastAbove = (row: Row, key: StageColumnKey, none: string) =>
  `IF(COUNT(${row.above(key)})=0,${none},LOOKUP(${BEYOND},${row.above(key)}))`;

/** What the hand grinder wears along the edges; nothing where the shelf has no life or no price for it. */
const edgeTooling = (row: Row) =>
  row.lacks("edgeLife") || row.lacks("edgePrice")
    ? "0"
    : `IF(N(${row.tool("edgeLife")})>0,${row.input("edgeLength")}*${row.input("edgePasses")}/${row.tool("edgeLife")}*N(${row.tool("edgePrice")}),0)`;

/** Hours that one more machine pass takes: none while the edges take longer beside it. */
function hoursOfOneMore(row: Row): string {
  const [machine, edges] = [row.here("machineHours"), row.here("edgeHours")];
  const longer = `${machine}*(1+1/${row.here("passes")})`;
  return `IF(${row.input("edgeWork")}="alongside",MAX(${longer},${edges})-MAX(${machine},${edges}),${machine}/${row.here("passes")})`;
}

/** Of no passes nothing; a blank is none, and our functions, to which a 0 is one too, refuse it. */
const ofPasses = (row: Row, formula: string, passes = row.here("passes")) =>
  `IF(ISNUMBER(${passes})*(${passes}=0),0,${formula})`;

const crewCost = (row: Row, hours: string) =>
  `GRIT.CREWCOST(${hours},${row.input("crew")},${row.input("rate")},${row.input("burden")})`;

const liquidCost = (row: Row, coats: string) =>
  `GRIT.CONTAINERS(GRIT.LIQUID(${row.input("area")},${row.liquid("coverage")},${coats},${row.liquid("waste")}),${row.liquid("container")})*${row.liquid("price")}`;

const STAGE_COLUMNS: readonly StageColumn[] = [
  { key: "no", title: () => "No.", width: 30, format: "count", formula: (row) => `ROW()-ROW(${row.headerCell})` },
  { key: "work", title: () => "Work", width: 52 },
  { key: "tool", title: () => "Tool", width: 116 },
  { key: "machineName", title: () => "Run on", width: 80 },
  { key: "bond", title: () => "Bond", width: 72, formula: (row) => byKind(row, '""', row.tool("bond")) },
  {
    key: "grit",
    title: () => "Grit",
    width: 44,
    format: "count",
    formula: (row) => byKind(row, '""', row.tool("grit")),
  },
  {
    key: "size",
    title: () => "Size µm",
    width: 48,
    format: "size",
    formula: (row) =>
      byKind(
        row,
        '""',
        unlessDuplicate(
          row.isDuplicate("tool"),
          `IF(${isSized(row)},${row.tool("size")},GRIT.SIZE(${row.here("grit")},${row.input("scale")}))`,
        ),
      ),
  },
  {
    key: "ratio",
    title: () => "Step ratio",
    width: 48,
    format: "ratio",
    formula: (row) =>
      `IF(OR(${isLiquid(row)},COUNT(${row.above("size")})=0),"",GRIT.STEPRATIO(LOOKUP(${BEYOND},${row.above("size")}),${row.here("size")},"um"))`,
  },
  {
    key: "check",
    title: () => "Check",
    width: 90,
    formula: (row) =>
      checkOf(
        row,
        `IF(${isLiquid(row)},"",IF(COUNT(${row.above("size")})=0,"start",GRIT.STEPCHECK(LOOKUP(${BEYOND},${row.above("size")}),${row.here("size")},INDEX(${row.above("bond")},MATCH(${BEYOND},${row.above("size")})),${row.here("bond")},${row.input("maxRatio")},"um")))`,
      ),
  },
  {
    key: "scratch",
    title: () => "Scratch µm",
    width: 50,
    format: "size",
    formula: (row) => byKind(row, '""', `GRIT.SCRATCH(${row.here("size")},${row.here("bond")},"um")`),
  },
  {
    key: "cut",
    title: () => "Cut a pass µm",
    width: 54,
    format: "size",
    formula: (row) =>
      byKind(
        row,
        '""',
        `IF(N(${row.input("cutCoefficient")})>0,GRIT.CUTPERPASS(${row.input("cutCoefficient")},${row.machine("load")},${row.input("slideSpeed")},${row.machine("width")},${speed(row)},${row.input("overlap")},${row.input("units")})*${row.here("size")}/${row.input("stripSize")},IF(N(${row.tool("cut")})>0,${row.tool("cut")},""))`,
      ),
  },
  {
    key: "needed",
    title: () => "Passes needed",
    width: 54,
    format: "asTyped",
    formula: (row) =>
      byKind(
        row,
        '""',
        `IF(N(${row.here("cut")})>0,GRIT.PASSESTOCLEAR(${lastAbove(row, "scratch", row.input("depth"))},${row.here("scratch")},${row.here("cut")}),"")`,
      ),
  },
  {
    key: "passes",
    title: () => "Passes",
    width: 54,
    format: "asTyped",
    formula: (row) =>
      byKind(
        row,
        row.liquid("coats"),
        `IF(OR(${row.input("passesFrom")}="shelf",N(${row.here("needed")})=0),${row.tool("passes")},IF(${row.input("passesFrom")}="scratch",${row.here("needed")},MAX(${row.here("needed")},${row.tool("passes")})))`,
      ),
  },
  {
    key: "rate",
    title: (units) => `Area rate ${symbol("areaRate", units)}`,
    width: 56,
    format: "whole",
    formula: (row) =>
      byKind(
        row,
        row.liquid("rate"),
        `GRIT.AREARATE(${row.machine("width")},${speed(row)},${row.input("overlap")},${row.input("efficiency")},${row.input("units")})`,
      ),
  },
  {
    key: "machineHours",
    title: () => "Machine h",
    width: 54,
    format: "hours",
    summed: true,
    formula: (row) =>
      byKind(
        row,
        "0",
        unlessDuplicate(
          isDuplicateRun(row),
          ofPasses(
            row,
            `GRIT.PASSTIME(${row.input("machineArea")},${row.machine("width")},${speed(row)},${row.here("passes")},${row.input("overlap")},${row.input("efficiency")},${row.input("units")})`,
          ),
        ),
      ),
  },
  {
    key: "edgeHours",
    title: () => "Edge h",
    width: 48,
    format: "hours",
    summed: true,
    formula: (row) =>
      byKind(
        row,
        "0",
        ofPasses(
          row,
          `GRIT.EDGETIME(${row.input("edgeLength")},${row.input("edgeRate")},${row.input("edgePasses")},${row.input("units")})`,
          row.input("edgePasses"),
        ),
      ),
  },
  {
    key: "hours",
    title: () => "Hours",
    width: 56,
    format: "hours",
    summed: true,
    formula: (row) =>
      byKind(
        row,
        unlessDuplicate(row.isDuplicate("liquid"), `${row.input("area")}*${row.here("passes")}/${row.liquid("rate")}`),
        `IF(${row.input("edgeWork")}="alongside",MAX(${row.here("machineHours")},${row.here("edgeHours")}),${row.here("machineHours")}+${row.here("edgeHours")})+${row.input("changeHours")}`,
      ),
  },
  {
    key: "setsUsed",
    title: () => "Sets used",
    width: 46,
    format: "sets",
    formula: (row) =>
      byKind(
        row,
        "0",
        ofPasses(row, `GRIT.TOOLSUSED(${row.input("machineArea")},${setLife(row)},${row.here("passes")})`),
      ),
  },
  {
    key: "setsToBuy",
    title: () => "Sets to buy",
    width: 54,
    format: "whole",
    summed: true,
    formula: (row) =>
      byKind(
        row,
        "0",
        ofPasses(
          row,
          `GRIT.TOOLSTOBUY(${row.input("machineArea")},${setLife(row)},${row.here("passes")},${onHand(row)})`,
        ),
      ),
  },
  {
    key: "tooling",
    title: () => "Tooling cost",
    width: 62,
    format: "money",
    summed: true,
    formula: (row) =>
      byKind(
        row,
        "0",
        unlessDuplicate(
          row.isDuplicate("tool"),
          `(${ofPasses(row, `GRIT.TOOLCOST(${row.input("machineArea")},${life(row)},${row.tool("price")},${row.here("passes")})`)}+${edgeTooling(row)})`,
        ),
      ),
  },
  {
    key: "crew",
    title: () => "Crew cost",
    width: 62,
    format: "money",
    summed: true,
    formula: (row) => crewCost(row, row.here("hours")),
  },
  {
    key: "machine",
    title: () => "Machine cost",
    width: 62,
    format: "money",
    summed: true,
    formula: (row) => `${row.here("machineHours")}*${row.machine("cost")}`,
  },
  {
    key: "liquids",
    title: () => "Liquids cost",
    width: 62,
    format: "money",
    summed: true,
    formula: (row) => byKind(row, ofPasses(row, liquidCost(row, row.here("passes"))), "0"),
  },
  {
    key: "cost",
    title: () => "Stage cost",
    width: 70,
    format: "money",
    summed: true,
    formula: (row) => `${row.here("tooling")}+${row.here("crew")}+${row.here("machine")}+${row.here("liquids")}`,
  },
  {
    key: "share",
    title: () => "Share of total",
    width: 44,
    format: "percent",
    formula: (row) => `IF(SUM(${row.whole("cost")})=0,0,${row.here("cost")}/SUM(${row.whole("cost")}))`,
  },
  {
    key: "extra",
    title: () => "One more pass",
    width: 62,
    format: "money",
    formula: (row) =>
      `IF(${row.here("passes")}=0,"",${byKind(
        row,
        `${liquidCost(row, `${row.here("passes")}+1`)}-${row.here("liquids")}+${row.here("crew")}/${row.here("passes")}`,
        `(${row.here("tooling")}-${edgeTooling(row)}+${row.here("machine")})/${row.here("passes")}+${crewCost(row, hoursOfOneMore(row))}`,
      )})`,
  },
];

export const stageColumn = (key: StageColumnKey): StageColumn => STAGE_COLUMNS.find((column) => column.key === key)!;

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
