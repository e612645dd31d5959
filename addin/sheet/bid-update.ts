/** What changes on a Bid sheet that stands: the cells of inputs, and the tables with their new rows. */

import { BID_KEYS, type BidKey } from "../../functions/bid/job";
import { rangeAddress } from "../common/a1";
import { BUY_COLUMNS, EXTRA_COLUMNS, FLOOR_COLUMNS, keysOf } from "./bid-columns";
import type { BidPlace } from "./bid-formulas";
import type { BidTask } from "./bid-sheet";
import { jobContent } from "./bid-sheet";
import { type BidItemRow, type BidTables, type Corners, placeBidTables } from "./bid-tables";
import type { BidOnSheet, BidTable, TableOnBid } from "./bids";
import { type Block, emptyBlock, type PlacedCell } from "./block";
import type { ResizedTable, TableArea } from "./resized";
import { asText } from "./write";

export interface BidUpdate {
  /** A table whose columns aren't those that the bid gave it. */
  readonly foreign: string | undefined;
  /** Inputs that change. */
  readonly cells: readonly { readonly address: string; readonly content: string | number | boolean }[];
  /** Cells of the extras that are typed: blank ones among them are to be blank. */
  readonly typed: string;
  /** The tables' cells. */
  readonly block: Block;
  readonly tables: readonly Omit<ResizedTable, "sheetId" | "table" | "before">[];
}

const KINDS: Partial<Record<BidTable, number>> = { floors: 1, extras: 1 };

export function updateOf(bid: BidOnSheet, task: BidTask): BidUpdate {
  const { tables, cells } = bid;
  const place: BidPlace = {
    units: task.units,
    tables: {
      floors: tables.floors.table,
      extras: tables.extras.table,
      toBuy: tables.toBuy.table,
      math: tables.math.table,
    },
    line: (key) => cells[key] ?? "NA()",
  };
  const given: BidTables = { ...task, items: task.items.map((item) => ({ ...item, onHand: typedOnHand(item, bid) })) };
  const whole = emptyBlock(task.sign);
  placeBidTables(whole, given, place, tables satisfies Corners);
  const keys = Object.keys(tables) as BidTable[];
  const placed = keys.map((key) => {
    const now = whole.tables.find(({ name }) => name === tables[key].table)!;
    const { row, column, rows, columns } = tables[key];
    const source = whole.rules.find((rule) => rule.column === now.column + (KINDS[key] ?? -1))?.rule;
    return {
      key,
      name: now.name,
      was: { row, column, rows: rows + 1, columns },
      is: { row: now.row, column: now.column, rows: now.rows, columns: now.columns },
      ...(source && "list" in source && { list: { column: KINDS[key]!, source: source.list } }),
    };
  });
  const isSameRow = sameRows(bid, given);
  const foreign = placed.find(
    ({ key, was, is }) => key !== "math" && (was.columns !== is.columns || isForeign(key, tables, whole)),
  );
  return {
    foreign: foreign?.name,
    cells: BID_KEYS.flatMap((key) => changed(key, bid, task)),
    typed: typedCells(placed.find(({ key }) => key === "extras")!.is),
    block: { ...whole, tables: [], cells: whole.cells.map((cell) => kept(cell, bid, isSameRow)) },
    tables: placed.map(({ key: _, ...table }) => table),
  };
}

const typedCells = ({ row, column, rows }: TableArea) =>
  rangeAddress(row + 1, column, rows - 1, Object.values(EXTRA_COLUMNS).filter(({ typed }) => typed).length);

function isForeign(key: BidTable, tables: BidOnSheet["tables"], { cells }: Block): boolean {
  const { row, column, headings } = tables[key];
  return headings.some((heading, i) => {
    const ours = cells.find((cell) => cell.row === row && cell.column === column + i);
    return ours?.content !== heading;
  });
}

/** An input whose value is another than the sheet shows: a formula of the user's that gives the same stays. */
function changed(key: BidKey, { cells, shown }: BidOnSheet, { job }: BidTask) {
  const address = cells[key];
  const value = job[key];
  if (address === undefined || (value ?? "") === (shown[key] ?? "")) return [];
  const content = jobContent(key, job);
  return [
    {
      address,
      content: typeof content === "object" ? content.formula : typeof content === "string" ? asText(content) : content,
    },
  ];
}

/** What was typed as on hand; the shelf's formula is written anew. */
function typedOnHand({ name }: BidItemRow, { tables: { toBuy } }: BidOnSheet): string | number | undefined {
  const [item, onHand] = (["item", "onHand"] as const).map((key) => keysOf(BUY_COLUMNS).indexOf(key));
  const row = toBuy.values.findIndex((values) => values[item!] === name);
  const typed = row < 0 ? "" : toBuy.formulas[row]![onHand!];
  if (typed === "" || (typeof typed !== "number" && String(typed).startsWith("=INDEX("))) return undefined;
  return typed as string | number;
}

/**
 * A cell in a row that stands keeps its looks; and where it shows the value that it is to have, by a formula of the
 * user's, it keeps that.
 */
function kept(
  cell: PlacedCell,
  { tables }: BidOnSheet,
  isSameRow: (table: TableOnBid, row: number) => boolean,
): PlacedCell {
  const table = Object.values(tables).find((one) => isIn(one, cell));
  if (!table || table === tables.math) return cell;
  const { style: _, format: __, ...rest } = cell;
  const [row, column] = [cell.row - table.row - 1, cell.column - table.column];
  if (row < 0 || typeof cell.content === "object" || !isSameRow(table, row)) return rest;
  const entry = table.formulas[row]![column];
  const isTheirs = typeof entry === "string" && entry.startsWith("=") && table.values[row]![column] === cell.content;
  return isTheirs ? { ...rest, content: { formula: entry } } : rest;
}

/** Whether a row is still the same floor's or extra's. */
function sameRows({ tables }: BidOnSheet, { floors, extras }: BidTables) {
  const key = keysOf(FLOOR_COLUMNS).indexOf("sheet");
  return (table: TableOnBid, row: number): boolean => {
    if (table === tables.floors) return table.values[row]![key] === floors[row]?.plan.sheet;
    return table === tables.extras && table.values[row]![0] === extras[row]?.name;
  };
}

const isIn = ({ row, column, rows, columns }: TableOnBid, cell: PlacedCell) =>
  cell.row >= row && cell.row <= row + rows && cell.column >= column && cell.column < column + columns;
