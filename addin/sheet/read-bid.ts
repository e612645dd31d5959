/** What the pane shows of the workbook's plans and its bid. */
import { type ExtraKind, starterExtras } from "../../functions/bid/extras";
import { BID_KEYS, type BidJob, bidField, startJob } from "../../functions/bid/job";
import type { Key } from "../../functions/plan/fields";
import type { System } from "../../functions/units";
import { EXTRA_COLUMNS, keysOf } from "./bid-columns";
import type { BidCell } from "./bid-lines";
import { askPlansForBid } from "./bid-reading";
import type { BidExtraRow } from "./bid-tables";
import { type BidOnSheet, findBid } from "./bids";
import { askExtraKinds, extraKindsIn } from "./extra-kinds";
import { inWorkbook } from "./in-workbook";
import { findPlans, namesAndTables } from "./plans";
import { proposalAmong } from "./proposals";
import { askTables } from "./shelf";

interface PlanOfBid {
  readonly sheetId: string;
  readonly sheet: string;
  readonly floor: string;
  /** undefined where the sheet shows an error. */
  readonly area: number | undefined;
  readonly hours: number | undefined;
}

export interface ReadBid {
  readonly plans: readonly PlanOfBid[];
  readonly units: System;
  readonly sign: string;
  /** What extras may be picked from: the owner's list, or the sample one. */
  readonly kinds: readonly ExtraKind[];
  /** The owner's list; undefined where there is none yet. */
  readonly list: { readonly table: string; readonly sheet: string; readonly problems: readonly string[] } | undefined;
  /** What the bid has been told, or what it begins with. */
  readonly job: BidJob;
  /** Undefined until it is written. */
  readonly bid: WrittenBid | undefined;
  /** The page for the customer, and what is wrong with it; undefined where there is none. */
  readonly proposal: { readonly sheet: string; readonly warning: string } | undefined;
}
export interface WrittenBid {
  readonly sheet: string;
  readonly shown: Readonly<Partial<Record<BidCell, unknown>>>;
  readonly floors: readonly PricedRow[];
  readonly extras: readonly (BidExtraRow & { readonly price: unknown })[];
  readonly toBuy: readonly { readonly name: string; readonly toBuy: unknown; readonly cost: unknown }[];
}
interface PricedRow {
  readonly sheet: string;
  readonly kind: BidOnSheet["floors"]["rows"][number]["kind"];
  readonly order: number;
  readonly price: unknown;
}

/** What a new bid takes over from the first plan. */
const FROM_PLAN = ["crew", "rate", "burden", "hoursADay", "setup", "overhead", "contingency", "margin"] as const;

export function readBid(): Promise<ReadBid> {
  return inWorkbook(async (context) => {
    const tables = askTables(context);
    const book = await namesAndTables(context);
    const plans = await findPlans(context, book);
    const list = extraKindsIn(tables);
    const asked = list && askExtraKinds(list);
    const bid = await findBid(context, book);
    const page = proposalAmong(book);
    const warning = page?.check === undefined ? undefined : page.sheet.getRange(page.check).load("values");
    const read = askPlansForBid(context, plans);
    const cellOf = (sheetId: string, address: string | undefined) =>
      address === undefined ? undefined : context.workbook.worksheets.getItem(sheetId).getRange(address).load("values");
    const figures = plans.map(({ sheetId, inputs, lines }) => ({
      area: cellOf(sheetId, inputs.area),
      hours: cellOf(sheetId, lines.hours),
    }));
    const [first] = plans;
    const ofFirst = FROM_PLAN.map((key) => cellOf(first?.sheetId ?? "", first?.inputs[key satisfies Key]));
    if (first || list || warning) await context.sync();
    const own = asked?.();
    const units = first?.units ?? "us";
    const taken = FROM_PLAN.flatMap((key, i) => {
      const value = numberIn(ofFirst[i]);
      return value === undefined ? [] : [[key, value] as const];
    });
    return {
      plans: plans.map(({ sheetId, sheet, floor }, i) => ({
        sheetId,
        sheet,
        floor,
        area: numberIn(figures[i]!.area),
        hours: numberIn(figures[i]!.hours),
      })),
      units,
      sign: read()[0]?.sign ?? "",
      kinds: own?.kinds ?? starterExtras(units),
      list: list && { table: list.name, sheet: list.sheet, problems: own!.problems },
      job: bid ? jobOn(bid) : { ...startJob(units), ...Object.fromEntries(taken) },
      bid: bid && writtenOf(bid),
      proposal: page && { sheet: page.sheet.name, warning: warning ? String(warning.values[0]![0]) : "" },
    };
  });
}

const numberIn = (range: Excel.Range | undefined): number | undefined => {
  const value: unknown = range ? range.values[0]![0] : undefined;
  return typeof value === "number" ? value : undefined;
};

/** A minimum that is worked out is one that nobody typed. */
function jobOn({ shown, units }: BidOnSheet): BidJob {
  const start = startJob(units);
  const entries = BID_KEYS.map((key) => {
    const value = shown[key];
    if (bidField(key).kind === "text") return [key, String(value ?? "")];
    return [key, typeof value === "number" ? value : null];
  });
  return { ...start, ...Object.fromEntries(entries) };
}

function writtenOf({ sheet, shown, floors, tables }: BidOnSheet): WrittenBid {
  const column = (table: (typeof tables)["floors"], heading: string) => table.headings.indexOf(heading);
  const price = column(tables.floors, "Price");
  const keys = keysOf(EXTRA_COLUMNS);
  const typed = keys.filter((key) => "typed" in EXTRA_COLUMNS[key]);
  return {
    sheet,
    shown,
    floors: floors.rows.map((row, i) => ({
      sheet: row.sheet,
      kind: row.kind,
      order: row.order,
      price: tables.floors.values[i]![price],
    })),
    extras: tables.extras.values
      .filter(([name]) => name !== "")
      .map((row) => ({
        ...(Object.fromEntries(typed.map((key) => [key, row[keys.indexOf(key)]])) as BidExtraRow),
        price: row[keys.indexOf("price")],
      })),
    toBuy: tables.toBuy.values
      .filter((row) => Number(row[column(tables.toBuy, "To buy")]) > 0)
      .map((row) => ({
        name: String(row[0]),
        toBuy: row[column(tables.toBuy, "To buy")],
        cost: row[column(tables.toBuy, "Cost")],
      })),
  };
}
