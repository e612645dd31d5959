/** What the plans of a workbook promise of each stage, as formulas refer to it and as numbers. */
import type { ClosingFloor, ClosingStage } from "../../functions/log/close-out";
import { stageName } from "../../functions/log/stages";
import type { Key } from "../../functions/plan/fields";
import { isByLength, isLiquidWork } from "../../functions/plan/works";
import { convert, type System } from "../../functions/units";
import { quotedText } from "../common/a1";
import type { BidOnSheet } from "./bids";
import type { LoggedFloor } from "./log-sheet";
import { refuseLog } from "./log-texts";
import type { PlanOnSheet } from "./plans";
import type { LineKey } from "./price-lines";
import type { StageColumnKey } from "./stage-row";

const INPUTS = [
  ...(["floor", "jobName", "machineArea", "area", "jointLength", "crackLength", "hoursADay"] as const),
  ...(["hardness", "crew", "rate", "burden", "overhead", "contingency"] as const),
] as const satisfies readonly Key[];
type Input = (typeof INPUTS)[number];
const LINES = ["cost", "price"] as const satisfies readonly LineKey[];

export interface Quotes {
  readonly units: System;
  readonly sign: string;
  readonly floors: readonly (LoggedFloor & PlannedFloor)[];
  readonly stages: readonly ClosingStage[];
}

/** What a plan says of its whole floor. */
interface PlannedFloor extends ClosingFloor {
  readonly jobName: string;
  /** Full cost and price of the floor alone. */
  readonly cost: number;
  readonly price: number;
  readonly overhead: number;
  readonly contingency: number;
}

/** A plan's sheet has its currency sign in the formats of its money alone. */
const signOf = (format: unknown): string => /"([^"]*)"#,##0/.exec(String(format ?? ""))?.[1] ?? "";

const onSheet = (sheet: string) => `'${sheet.replaceAll("'", "''")}'!`;

/** The plans of the floors that are in the bid's price, in its order; without a bid, all plans. */
export function soldPlans(plans: readonly PlanOnSheet[], bid: BidOnSheet | undefined): readonly PlanOnSheet[] {
  const base = (bid?.floors.rows ?? []).filter(({ kind }) => kind === "base").sort((a, b) => a.order - b.order);
  const sold = base.flatMap(({ sheet }) => plans.find((plan) => plan.sheet === sheet) ?? []);
  return sold.length > 0 ? sold : plans;
}

/** Asks for all that is needed of the plans; once the answers have come, the function it returns gives their quotes. */
export function askQuotes(context: Excel.RequestContext, plans: readonly PlanOnSheet[]): () => Quotes {
  const asked = plans.map((plan) => {
    const sheet = context.workbook.worksheets.getItem(plan.sheetId);
    const cells = INPUTS.flatMap((key) => {
      const address = plan.inputs[key];
      return address === undefined ? [] : [[key, sheet.getRange(address).load("values")] as const];
    });
    const lines = LINES.map((key) => {
      const address = plan.lines[key];
      return address === undefined ? undefined : sheet.getRange(address).load("values,numberFormat");
    });
    const table = context.workbook.tables.getItem(plan.stages.table);
    const head = table.getHeaderRowRange().load("values");
    return { plan, inputs: new Map(cells), lines, head, body: table.getDataBodyRange().load("values") };
  });
  return () => {
    const units = plans[0]!.units;
    const floors = asked.map((one) => {
      const value = (key: Input) => one.inputs.get(key)?.values.at(0)?.[0];
      const rows = rowsOf(one.head, one.body);
      const [cost, price] = one.lines.map((range) => numberOf(range?.values.at(0)?.[0]));
      const floor = floorOf(one.plan, value, rows.length);
      return { ...floor, ...plannedFloor(floor, value, units), cost: cost ?? 0, price: price ?? 0, value, rows };
    });
    for (const { called } of floors) {
      const alike = floors.filter((other) => other.called.toLowerCase() === called.toLowerCase());
      if (alike.length > 1) throw refuseLog("sameFloor", { floor: called, sheets: alike.map(({ sheet }) => sheet) });
    }
    return {
      units,
      sign: signOf(asked[0]!.lines.at(-1)?.numberFormat.at(0)?.[0]),
      floors,
      stages: floors.flatMap((floor) => floor.rows.map((row) => quoteOf(floor, row, units))),
    };
  };
}

/** Which cell has its name, and how its formulas refer to it. */
function floorOf({ sheet, units, inputs, jobName, stages }: PlanOnSheet, value: Value, count: number) {
  const named = (["floor", "jobName"] as const).find((key) => String(value(key) ?? "").trim() !== "");
  const at = (key: Input) => (inputs[key] === undefined ? undefined : onSheet(sheet) + inputs[key]);
  return {
    sheet,
    jobName,
    called: named ? String(value(named)) : sheet,
    name: named ? `${at(named)}&""` : quotedText(sheet),
    table: stages.table,
    units,
    stages: count,
    heading: (key: StageColumnKey) => stages.headings[key],
    input: at,
  };
}

type Value = (key: Input) => unknown;

/** In the log's units. */
function plannedFloor({ called, units: own }: ReturnType<typeof floorOf>, value: Value, units: System) {
  const area = (key: Input) => convert(numberOf(value(key)), "floorArea", own, units);
  const hardness = value("hardness");
  return {
    floor: called,
    area: area("area"),
    machineArea: area("machineArea"),
    hardness: typeof hardness === "number" && hardness > 0 ? hardness : null,
    overhead: numberOf(value("overhead")),
    contingency: numberOf(value("contingency")),
  };
}

type Floor = ReturnType<typeof floorOf> & { readonly value: Value };
type Cells = Readonly<Record<string, unknown>>;

const rowsOf = (head: Excel.Range, body: Excel.Range): Cells[] =>
  body.values.map((row) => Object.fromEntries(row.map((cell, i) => [String(head.values[0]![i]), cell])));

const numberOf = (cell: unknown) => (typeof cell === "number" ? cell : 0);

/** As the forecast's formulas have it (log-sheet.ts). */
function quoteOf(floor: Floor, row: Cells, units: System): ClosingStage {
  const cell = (key: StageColumnKey) => row[floor.heading(key) ?? ""];
  const number = (key: StageColumnKey) => numberOf(cell(key));
  const work = String(cell("work") ?? "");
  const area = (key: Input) => convert(numberOf(floor.value(key)), "floorArea", floor.units, units);
  const length = (key: Input) => convert(numberOf(floor.value(key)), "length", floor.units, units);
  const byLength = () => length(work === "joints" ? "jointLength" : "crackLength");
  const amount = isByLength(work) ? byLength() : area(isLiquidWork(work) ? "area" : "machineArea");
  return {
    floor: floor.called,
    stage: stageName(cell("no"), cell("tool")),
    toDo: amount * number("passes"),
    hours: number("hours"),
    machineHours: number("machineHours"),
    setsUsed: number("setsUsed"),
    crewCost: number("crew"),
    machineCost: number("machine"),
    toolingCost: number("tooling"),
    liquidsCost: number("liquids"),
    hoursADay: numberOf(floor.value("hoursADay")),
    bond: String(cell("bond") ?? ""),
    machine: String(cell("machineName") ?? ""),
    crew: numberOf(floor.value("crew")),
    wage: numberOf(floor.value("rate")) * (1 + numberOf(floor.value("burden"))),
  };
}
