/** What the formulas of a row of the stage table may refer to. */
import type { Key } from "../../functions/plan/fields";
import type { Liquid, Machine, Tool } from "../../functions/plan/shelf";
import type { System } from "../../functions/units";

export const STAGE_COLUMN_KEYS = [
  "no",
  "work",
  "tool",
  "machineName",
  "bond",
  "grit",
  "size",
  "ratio",
  "check",
  "scratch",
  "scratchMil",
  "cut",
  "cutMil",
  "slide",
  "pressure",
  "fullCut",
  "power",
  "powerThere",
  "needed",
  "passes",
  "rate",
  "machineHours",
  "edgeHours",
  "hours",
  "wait",
  "start",
  "done",
  "setsUsed",
  "setsToBuy",
  "volume",
  "tooling",
  "crew",
  "machine",
  "liquids",
  "cost",
  "share",
  "extra",
  "toBuyPrice",
] as const;
export type StageColumnKey = (typeof STAGE_COLUMN_KEYS)[number];

/** What a row's formulas may refer to. */
export interface Row {
  /** The cell of an input; #N/A where the plan has none. */
  input(key: Key): string;
  /** Whether the plan has a cell for it. */
  has(key: Key): boolean;
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
  /** Whether the liquids table has no such column. */
  lacksOfLiquid(key: keyof Liquid): boolean;
  /** What the row's machine has: in the machines table, or in the inputs where the row names none. */
  machine(key: keyof typeof MACHINE_INPUTS): string;
  /** What describes the row's machine in the machines table; 0 where the row names none, or the table doesn't say. */
  madeUp(key: MadeUpKey): string;
  /** Whether the machines table has all of these columns. */
  hasMadeUp(...keys: MadeUpKey[]): boolean;
  /** Tools that the row's machine carries, over those of a set on the shelf; undefined where they are the same machine's. */
  setSize: string | undefined;
  /** Whether two rows of the shelf have the name that is looked up: a lookup would take the first for both. */
  isDuplicate(kind: "tool" | "liquid"): string;
  /** The same of the row's machine; undefined where there is no machines table. */
  readonly isDuplicateMachine: string | undefined;
  headerCell: string;
  readonly units: System;
}

/** The inputs that describe the machine which a stage runs on when it names none. */
export const MACHINE_INPUTS = {
  width: "machineWidth",
  speed: "speed",
  load: "load",
  toolsASet: "toolsASet",
  cost: "machineCost",
} as const satisfies Partial<Record<keyof Machine, Key>>;

export type MadeUpKey = "slideSpeed" | "motor" | "volts" | "amps" | "phases";
