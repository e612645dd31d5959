/**
 * The columns of the stage table. Every cell of a column holds the same formula, so that a row the user adds or
 * changes keeps working; what a formula needs beyond its row (an input, a tool's data) it gets through `Row`.
 */
import { MICROMETERS_IN_A_MIL, type System, symbol } from "../../functions/units";
import {
  afterWait,
  amount,
  BEYOND,
  byKind,
  checkOf,
  crewCost,
  cutWithPower,
  doneAt,
  edgeTooling,
  fullCut,
  gritOf,
  hoursOfOneMore,
  isDuplicateRun,
  isLiquid,
  isStrip,
  leftBefore,
  life,
  liquidCost,
  liquidRate,
  liquidVolume,
  ofPasses,
  onHand,
  passHours,
  powerTaken,
  powerThere,
  pressure,
  scratchLeft,
  setLife,
  sizeOf,
  slideOf,
  toolRate,
  unlessDuplicate,
  unlessGrouted,
} from "./stage-formulas";
import type { Row, StageColumnKey } from "./stage-row";
import type { NumberFormat } from "./styles";

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

/** A depth that a US plan shows in mil too; blank where there is none. */
const inMil = (micrometers: string) => `IF(N(${micrometers})>0,${micrometers}/${MICROMETERS_IN_A_MIL},"")`;

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
    formula: (row) => byKind(row, '""', gritOf(row)),
  },
  {
    key: "size",
    title: () => "Size µm",
    width: 48,
    format: "size",
    formula: (row) =>
      byKind(row, '""', `IF(${isStrip(row)},"",${unlessDuplicate(row.isDuplicate("tool"), sizeOf(row))})`),
  },
  {
    key: "ratio",
    title: () => "Step ratio",
    width: 48,
    format: "ratio",
    formula: (row) =>
      `IF(OR(${isLiquid(row)},${isStrip(row)},COUNT(${row.above("size")})=0),"",GRIT.STEPRATIO(LOOKUP(${BEYOND},${row.above("size")}),${row.here("size")},"um"))`,
  },
  {
    key: "check",
    title: () => "Check",
    width: 90,
    formula: (row) =>
      checkOf(
        row,
        `IF(OR(${isLiquid(row)},${isStrip(row)}),"",IF(COUNT(${row.above("size")})=0,"start",${unlessGrouted(
          row,
          `GRIT.STEPCHECK(LOOKUP(${BEYOND},${row.above("size")}),${row.here("size")},INDEX(${row.above("bond")},MATCH(${BEYOND},${row.above("size")})),${row.here("bond")},${row.input("maxRatio")},"um")`,
        )}))`,
      ),
  },
  {
    key: "scratch",
    title: () => "Scratch µm",
    width: 50,
    format: "size",
    formula: (row) => byKind(row, '""', scratchLeft(row)),
  },
  {
    key: "scratchMil",
    title: () => "Scratch mil",
    width: 50,
    format: "size",
    formula: (row) => inMil(row.here("scratch")),
  },
  {
    key: "slide",
    title: (units) => `Sliding ${symbol("slidingSpeed", units)}`,
    width: 54,
    format: "whole",
    formula: (row) => byKind(row, '""', slideOf(row)),
  },
  {
    key: "pressure",
    title: (units) => `Pressure ${symbol("pressure", units)}`,
    width: 54,
    format: "oneDecimal",
    formula: (row) => byKind(row, '""', pressure(row)),
  },
  {
    key: "fullCut",
    title: () => "Full cut µm",
    width: 54,
    format: "size",
    formula: (row) => byKind(row, '""', fullCut(row)),
  },
  {
    key: "power",
    title: () => "Power taken kW",
    width: 54,
    format: "hours",
    formula: (row) => byKind(row, '""', powerTaken(row)),
  },
  {
    key: "powerThere",
    title: () => "Power there kW",
    width: 54,
    format: "hours",
    formula: (row) => byKind(row, '""', powerThere(row)),
  },
  {
    key: "cut",
    title: () => "Cut a pass µm",
    width: 54,
    format: "size",
    formula: (row) => byKind(row, '""', cutWithPower(row)),
  },
  { key: "cutMil", title: () => "Cut a pass mil", width: 54, format: "size", formula: (row) => inMil(row.here("cut")) },
  {
    key: "needed",
    title: () => "Passes needed",
    width: 54,
    format: "asTyped",
    formula: (row) =>
      byKind(
        row,
        '""',
        `IF(N(${row.here("cut")})>0,GRIT.PASSESTOCLEAR(${leftBefore(row)},${row.here("scratch")},${row.here("cut")}),"")`,
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
    formula: (row) => byKind(row, liquidRate(row), toolRate(row)),
  },
  {
    key: "machineHours",
    title: () => "Machine h",
    width: 54,
    format: "hours",
    summed: true,
    formula: (row) => byKind(row, "0", unlessDuplicate(isDuplicateRun(row), ofPasses(row, passHours(row)))),
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
        unlessDuplicate(row.isDuplicate("liquid"), `${amount(row)}*${row.here("passes")}/${liquidRate(row)}`),
        `IF(${row.input("edgeWork")}="alongside",MAX(${row.here("machineHours")},${row.here("edgeHours")}),${row.here("machineHours")}+${row.here("edgeHours")})+${row.input("changeHours")}`,
      ),
  },
  {
    key: "wait",
    title: () => "Wait h",
    width: 44,
    format: "hours",
    formula: (row) => (row.lacksOfLiquid("wait") ? "0" : byKind(row, `N(${row.liquid("wait")})`, "0")),
  },
  {
    key: "start",
    title: () => "Starts at work h",
    width: 54,
    format: "oneDecimal",
    formula: (row) => {
      const last = (key: "done" | "wait") => `LOOKUP(${BEYOND},${row.above(key)})`;
      return `IF(COUNT(${row.above("done")})=0,${row.input("setup")},${afterWait(row, last("done"), last("wait"))})`;
    },
  },
  { key: "done", title: () => "Done at work h", width: 54, format: "oneDecimal", formula: doneAt },
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
    key: "volume",
    title: (units) => `Liquid ${symbol("volume", units)}`,
    width: 48,
    format: "hours",
    formula: (row) => byKind(row, ofPasses(row, liquidVolume(row)), "0"),
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
    formula: (row) => byKind(row, ofPasses(row, liquidCost(row, row.here("volume"), row.here("passes"))), "0"),
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
        `${liquidCost(row, `${row.here("volume")}*(1+1/${row.here("passes")})`, `(${row.here("passes")}+1)`)}-${row.here("liquids")}+${row.here("crew")}/${row.here("passes")}`,
        `(${row.here("tooling")}-${edgeTooling(row)}+${row.here("machine")})/${row.here("passes")}+${crewCost(row, hoursOfOneMore(row))}`,
      )})`,
  },
  {
    key: "toBuyPrice",
    title: () => "Price of sets to buy",
    width: 62,
    format: "money",
    summed: true,
    // A set for another machine has as many tools as that carries.
    formula: (row) =>
      byKind(row, "0", `${row.here("setsToBuy")}*${row.tool("price")}${row.setSize ? `*${row.setSize}` : ""}`),
  },
];

export const stageColumn = (key: StageColumnKey): StageColumn => STAGE_COLUMNS.find((column) => column.key === key)!;
