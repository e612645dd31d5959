/** Finds the log of a job among a workbook's tables, and reads it with what its plans promise. */
import { isLine, readLine } from "../../functions/log/check";
import type { ClosingJob } from "../../functions/log/close-out";
import { LOG_KEYS, type LogKey, type LogLine, logField } from "../../functions/log/fields";
import type { QuotedStage } from "../../functions/log/stages";
import type { System } from "../../functions/units";
import { cellAddress } from "../common/a1";
import { findBid } from "./bids";
import { inWorkbook } from "./in-workbook";
import { askQuotes, soldPlans } from "./log-quotes";
import { CHANGED_AT, CHANGED_AT_NAME } from "./log-sheet";
import { findPlans, namesAndTables } from "./plans";
import { askTables } from "./shelf";

/** The table with all of the log's headings, in whatever order; the last one written where there are several. */
export const logAmong = (tables: readonly Excel.Table[]): Excel.Table | undefined =>
  tables.findLast((table) => {
    const headings = table.columns.items.map(({ name }) => name);
    return LOG_KEYS.every((key) => headings.includes(logField(key).label));
  });

/** Lines that can't be read are in no figure of the pane; where they are, as the user finds them: "Log!A12". */
interface BadLine {
  readonly cell: string;
  readonly problems: Exclude<ReturnType<typeof readLine>, LogLine>;
}

export interface ReadLog {
  readonly sheet: string;
  readonly table: string;
  readonly lines: readonly LogLine[];
  readonly bad: readonly BadLine[];
  /** Segment height at which a set is changed, mm. */
  readonly changedAt: number;
}

export interface Logged {
  readonly units: System;
  /** Stands before every amount of money. */
  readonly sign: string;
  readonly stages: readonly QuotedStage[];
  /** What the job was sold at. */
  readonly price: number;
  /** Undefined where there is none yet. */
  readonly log: ReadLog | undefined;
}

/** The plans' stages and the log; undefined where the workbook has no plan. */
export function readLog(): Promise<Logged | undefined> {
  return inWorkbook(async (context) => {
    const found = await lookForLog(context);
    return (
      found && { units: found.units, sign: found.sign, stages: found.stages, price: jobOf(found).price, log: found.log }
    );
  });
}

/** All that a command needs of the log and of what it is held against. */
export async function lookForLog(context: Excel.RequestContext) {
  const tables = askTables(context);
  const book = await namesAndTables(context);
  const bid = await findBid(context, book);
  const plans = soldPlans(await findPlans(context, book), bid);
  if (plans.length === 0) return undefined;
  const quotes = askQuotes(context, plans);
  const table = logAmong(tables.items);
  const asked = table && askLog(table);
  await context.sync();
  const { units, sign, floors, stages } = quotes();
  return { units, sign, floors, stages, bid, table, log: asked?.() };
}

function askLog(table: Excel.Table): () => ReadLog {
  const body = table.getDataBodyRange().load("values,rowIndex,columnIndex");
  const names = table.worksheet.names.getItemOrNullObject(CHANGED_AT_NAME);
  const changedAt = names.getRangeOrNullObject().load("values");
  return () => {
    const at = logColumns(table);
    const lines: LogLine[] = [];
    const bad: BadLine[] = [];
    body.values.forEach((row, r) => {
      if (LOG_KEYS.every((key) => row[at[key]] === "")) return;
      const read = readLine(Object.fromEntries(LOG_KEYS.map((key) => [key, row[at[key]]])));
      if (isLine(read)) lines.push(read);
      else {
        const cell = cellAddress(body.rowIndex + r, body.columnIndex + at[read[0]!.key]);
        bad.push({ cell: `${table.worksheet.name}!${cell}`, problems: read });
      }
    });
    const given = changedAt.isNullObject ? undefined : changedAt.values[0]![0];
    return {
      sheet: table.worksheet.name,
      table: table.name,
      lines,
      bad,
      changedAt: typeof given === "number" && given >= 0 ? given : CHANGED_AT,
    };
  };
}

/** In which of the table's columns, from 0, each field stands. */
export const logColumns = (table: Excel.Table): Readonly<Record<LogKey, number>> => {
  const headings = table.columns.items.map(({ name }) => name);
  return Object.fromEntries(LOG_KEYS.map((key) => [key, headings.indexOf(logField(key).label)])) as Record<
    LogKey,
    number
  >;
};

type Found = NonNullable<Awaited<ReturnType<typeof lookForLog>>>;

/** By the bid; without one, or where it shows no figure, by the plans alone. */
export function jobOf({ floors, stages, bid }: Found): ClosingJob {
  const [first] = floors;
  const sum = (of: (floor: Found["floors"][number]) => number) => floors.reduce((all, floor) => all + of(floor), 0);
  const shown = (key: "offered" | "cost" | "overhead" | "contingency", otherwise: number) => {
    const value = bid?.shown[key];
    return typeof value === "number" ? value : otherwise;
  };
  const names = [...new Set(floors.map(({ jobName }) => jobName).filter((name) => name !== ""))];
  const client = String(bid?.shown.client ?? "").trim();
  return {
    // Plans of several floors may have but their floor's name for a job.
    name: names.length === 1 ? names[0]! : client || names[0] || first!.floor,
    ...{ floors, stages },
    price:
      Math.round(
        shown(
          "offered",
          sum(({ price }) => price),
        ) * 100,
      ) / 100,
    cost: shown(
      "cost",
      sum(({ cost }) => cost),
    ),
    overhead: shown("overhead", first!.overhead),
    contingency: shown("contingency", first!.contingency),
  };
}

/** First day on site; undefined where no bid says it. */
export function startOf({ bid }: Pick<Found, "bid">): number | undefined {
  const start = bid?.shown.start;
  return typeof start === "number" && start > 0 ? start : undefined;
}
