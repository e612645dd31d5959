/** The bid of a workbook, on a sheet of its own and known by the names of its cells. */
import { BID_KINDS, type BidKind } from "../../functions/bid/kinds";
import type { System } from "../../functions/units";
import { absoluteAddress, sheetOf, withoutSheet } from "../common/a1";
import {
  type BidColumn,
  BUY_COLUMNS,
  EXTRA_COLUMNS,
  FLOOR_COLUMNS,
  keysOf,
  MATH_COLUMNS,
  titleOf,
} from "./bid-columns";
import { BID_CELLS, type BidCell, cellName, NAMED_BID_KEYS, NAMED_BID_LINES } from "./bid-lines";
import { isCell, type NamesAndTables, namesAndTables } from "./plans";

interface RowOnBid {
  readonly kind: BidKind;
  readonly nameCell: string;
  readonly priceCell: string;
}
/** One floor of the bid, and the sheet that its plan stands on. */
interface FloorOnBid extends RowOnBid {
  readonly floor: string;
  readonly order: number;
  readonly sheet: string;
}
interface ExtraOnBid extends RowOnBid {
  readonly name: string;
}

/** Where one of the bid's tables stands on its sheet. */
export interface TableOnBid {
  readonly table: string;
  readonly row: number;
  readonly column: number;
  /** Without the headings. */
  readonly rows: number;
  readonly columns: number;
  readonly headings: readonly string[];
  readonly values: readonly (readonly unknown[])[];
  readonly formulas: readonly (readonly unknown[])[];
}
export type BidTable = "floors" | "extras" | "toBuy" | "math";

export interface BidOnSheet {
  readonly sheet: string;
  readonly sheetId: string;
  readonly units: System;
  /** Where its named cells are, "$D$12", and what they show. */
  readonly cells: Readonly<Partial<Record<BidCell, string>>>;
  readonly shown: Readonly<Partial<Record<BidCell, unknown>>>;
  readonly floors: { readonly table: string; readonly rows: readonly FloorOnBid[] };
  readonly extras: { readonly table: string; readonly rows: readonly ExtraOnBid[] };
  readonly tables: Readonly<Record<BidTable, TableOnBid>>;
}

const CELL_NAMED = new Map(
  BID_CELLS.flatMap((key) => {
    const name = cellName(key);
    return name ? [[name.toLowerCase(), key] as const] : [];
  }),
);
/** Bid_Price, or Bid_Price_2 where the workbook had one. */
const LINE_NAMED = new Map(NAMED_BID_KEYS.map((key) => [NAMED_BID_LINES[key].toLowerCase(), key] as const));
const lineNamed = (name: string) => LINE_NAMED.get(name.toLowerCase().replace(/_\d+$/, ""));

const sheetIn = (formula: unknown) => sheetOf(String(formula).replace(/^=/, ""));

function cellsBy(items: readonly Excel.NamedItem[], keyOf: (name: string) => BidCell | undefined) {
  const cells: Partial<Record<BidCell, string>> = {};
  for (const { name, formula } of items) {
    const key = keyOf(name);
    if (key !== undefined) cells[key] ??= withoutSheet(String(formula));
  }
  return cells;
}

/** Headings by which each table is known, in whatever units. */
const KNOWN_BY: Readonly<Record<BidTable, readonly string[]>> = {
  floors: [FLOOR_COLUMNS.floor, FLOOR_COLUMNS.bar, FLOOR_COLUMNS.sheet].map((column) => titleOf(column, "us")),
  extras: [EXTRA_COLUMNS.name, EXTRA_COLUMNS.words, EXTRA_COLUMNS.crewHours].map((column) => titleOf(column, "us")),
  toBuy: [BUY_COLUMNS.item, BUY_COLUMNS.onHand, BUY_COLUMNS.worth].map((column) => titleOf(column, "us")),
  math: [MATH_COLUMNS.sheet, MATH_COLUMNS.wholeSum, MATH_COLUMNS.unlisted].map((column) => titleOf(column, "us")),
};
const TABLES = Object.keys(KNOWN_BY) as BidTable[];

/** The first bid of the workbook. Trips don't grow with its floors. */
export async function findBid(context: Excel.RequestContext, book?: NamesAndTables): Promise<BidOnSheet | undefined> {
  const { worksheets, names } = book ?? (await namesAndTables(context));
  const candidates = worksheets.items.flatMap((sheet) => {
    const named = sheet.names.items.filter(({ formula }) => isCell(formula));
    const own = cellsBy(named, (name) => CELL_NAMED.get(name.toLowerCase()));
    if (!own.units || !own.margin || !own.directCost) return [];
    const ofWorkbook = names.items.filter(({ formula }) => isCell(formula) && sheetIn(formula) === sheet.name);
    // On a sheet that was copied by hand, the copy's own names come first.
    const cells = { ...cellsBy(ofWorkbook, lineNamed), ...own, ...cellsBy(named, lineNamed) };
    const found = TABLES.map((key) => [key, sheet.tables.items.find((table) => isKnown(table, key))] as const);
    return found.every(([, table]) => table) ? [{ sheet, cells, found }] : [];
  });
  const [first] = candidates;
  if (!first) return undefined;
  const { sheet, cells, found } = first;
  const ranges = found.map(([, table]) => table!.getRange().load("values,formulas,rowIndex,columnIndex"));
  const shown = Object.entries(cells).map(([key, cell]) => [key, sheet.getRange(cell).load("values")] as const);
  await context.sync();
  const values = Object.fromEntries(shown.map(([key, range]) => [key, range.values[0]![0]]));
  const tables = Object.fromEntries(
    found.map(([key, table], i) => [key, placeOf(table!, ranges[i]!)]),
  ) as unknown as Record<BidTable, TableOnBid>;
  return {
    sheet: sheet.name,
    sheetId: sheet.id,
    units: values.units === "metric" ? "metric" : "us",
    cells,
    shown: values,
    floors: { table: tables.floors.table, rows: floorsIn(tables.floors) },
    extras: { table: tables.extras.table, rows: extrasIn(tables.extras) },
    tables,
  };
}

const isKnown = ({ columns }: Excel.Table, key: BidTable) =>
  KNOWN_BY[key].every((title) => columns.items.some(({ name }) => name === title));

function placeOf({ name }: Excel.Table, range: Excel.Range): TableOnBid {
  const [headings = [], ...values] = range.values;
  return {
    table: name,
    row: range.rowIndex,
    column: range.columnIndex,
    rows: values.length,
    columns: headings.length,
    headings: headings.map(String),
    values,
    formulas: range.formulas.slice(1),
  };
}

const kindOf = (value: unknown): BidKind => BID_KINDS.find((kind) => kind === value) ?? "left out";

const SYSTEMS = ["us", "metric"] as const;

/** What a table has by a column's key, and where. */
function reader<K extends string>(table: TableOnBid, columns: Readonly<Record<K, BidColumn>>) {
  const place = (key: K) => {
    const titles = SYSTEMS.map((units) => titleOf(columns[key], units));
    return table.headings.findIndex((heading) => titles.includes(heading));
  };
  const places = Object.fromEntries(keysOf(columns).map((key) => [key, place(key)])) as Record<K, number>;
  return {
    value: (row: number, key: K): unknown => table.values[row]![places[key]],
    formula: (row: number, key: K): string => String(table.formulas[row]![places[key]]),
    cell: (row: number, key: K): string => absoluteAddress(table.row + 1 + row, table.column + places[key]),
  };
}

/** A floor's own formulas tell its sheet, also after that was renamed. */
const SHEET_IN = /('(?:[^']|'')+'|[\p{L}\p{N}_.]+)!\$?[A-Z]+\$?\d+/u;
const sheetFrom = (formula: string, otherwise: string) => {
  const found = SHEET_IN.exec(formula);
  return found ? sheetOf(found[0]) : otherwise;
};

function floorsIn(table: TableOnBid): FloorOnBid[] {
  const { value, formula, cell } = reader(table, FLOOR_COLUMNS);
  return table.values.flatMap((_, row) => {
    if (value(row, "sheet") === "") return [];
    return [
      {
        floor: String(value(row, "floor")),
        kind: kindOf(value(row, "kind")),
        order: Number(value(row, "order")) || 0,
        sheet: sheetFrom(formula(row, "area"), String(value(row, "sheet"))),
        nameCell: cell(row, "floor"),
        priceCell: cell(row, "price"),
      },
    ];
  });
}

function extrasIn(table: TableOnBid): ExtraOnBid[] {
  const { value, cell } = reader(table, EXTRA_COLUMNS);
  return table.values.flatMap((_, row) => {
    const name = String(value(row, "name"));
    if (name === "") return [];
    return [{ name, kind: kindOf(value(row, "kind")), nameCell: cell(row, "name"), priceCell: cell(row, "price") }];
  });
}
