/** The tables of the Bid sheet as they are to stand, each anywhere: blocks of cells without what is around them. */
import { BID_KINDS, type BidKind } from "../../functions/bid/kinds";
import { factorOf, header, LIQUID_COLUMNS, MACHINE_COLUMNS, TOOL_COLUMNS } from "../../functions/plan/shelf";
import type { System } from "../../functions/units";
import { absoluteAddress, cellAddress } from "../common/a1";
import {
  BUY_COLUMNS,
  type BuyColumn,
  EXTRA_COLUMNS,
  type ExtraColumn,
  FLOOR_COLUMNS,
  type FloorColumn,
  keysOf,
  MATH_COLUMNS,
  type MathColumn,
  titleOf,
} from "./bid-columns";
import {
  type BidPlace,
  buyFormulas,
  extraFormulas,
  floorFormulas,
  type MachinesTable,
  mathFormulas,
  moreFormula,
  usedFormula,
  wholeFormula,
} from "./bid-formulas";
import { BID_RULES } from "./bid-texts";
import type { BidTable } from "./bids";
import type { Block, PlacedCell } from "./block";
import type { PlanOnSheet } from "./plans";
import type { FoundShelf } from "./shelf";
import type { NumberFormat, StyleName } from "./styles";

interface BidFloorRow {
  readonly plan: PlanOnSheet;
  readonly kind: BidKind;
  readonly order: number;
  /** The cell of its plan's own check, with its sheet. */
  readonly check: string | undefined;
}

/** As typed, so that a blank stays one. */
export type BidExtraRow = Readonly<
  Record<"name" | "kind" | "quantity" | "unit" | "crewHours" | "material" | "waste" | "words", string | number>
>;

export interface BidItemRow {
  readonly name: string;
  readonly what: "tool" | "liquid";
  /** What the user has typed; undefined for what the shelf says. */
  readonly onHand: string | number | undefined;
}

export interface BidTables {
  readonly units: System;
  readonly floors: readonly BidFloorRow[];
  readonly extras: readonly BidExtraRow[];
  readonly items: readonly BidItemRow[];
  readonly shelf: Pick<FoundShelf, "tooling" | "liquids" | "machines">;
}

/** Row and column of each table's first heading. */
export type Corners = Readonly<Record<BidTable, { readonly row: number; readonly column: number }>>;

const BLANK_EXTRA: BidExtraRow = {
  ...{ name: "", kind: "base", quantity: "", unit: "", crewHours: "", material: "", waste: "", words: "" },
};

const MATH_KEYS = keysOf(MATH_COLUMNS);
const liquidsAmong = (items: readonly BidItemRow[]) => items.filter(({ what }) => what === "liquid");
/** For each item a column with what each floor uses of it; for each liquid two more. */
export const mathWidth = (items: readonly BidItemRow[]) =>
  MATH_KEYS.length + items.length + 2 * liquidsAmong(items).length;

/** Headings of a table differ, whatever the items are called. */
function mathHeadings(items: readonly BidItemRow[], units: System): string[] {
  const taken = MATH_KEYS.map((key) => titleOf(MATH_COLUMNS[key], units));
  const wanted = [
    ...items.map(({ name }) => name),
    ...liquidsAmong(items).flatMap(({ name }) => [`${name}: whole`, `${name}: more`]),
  ];
  for (const name of wanted) {
    let free = name;
    for (let n = 2; taken.some((other) => other.toLowerCase() === free.toLowerCase()); n++) free = `${name} ${n}`;
    taken.push(free);
  }
  return taken;
}

export const tableWidths = (of: Readonly<Record<string, { width: number }>>) =>
  Object.values(of).map(({ width }) => width);

interface Row {
  put(column: number, content: PlacedCell["content"], typed: boolean, format?: NumberFormat): void;
}

/** Puts the headings of a table, and gives its rows. */
function placeTable(
  block: Block,
  { row: top, column: left }: { readonly row: number; readonly column: number },
  name: string,
  headings: readonly string[],
  rows: number,
): (row: number) => Row {
  headings.forEach((content, i) => {
    block.cells.push({ row: top, column: left + i, content, style: "tableHeader" });
  });
  block.tables.push({ name, row: top, column: left, rows: rows + 1, columns: headings.length });
  return (row) => ({
    put(column, content, typed, format) {
      const style: StyleName = typed ? "tableInput" : "tableCell";
      block.cells.push({ row: top + 1 + row, column: left + column, content, style, format });
    },
  });
}

const formula = (text: string) => ({ formula: `=${text}` });

export function placeBidTables(block: Block, given: BidTables, place: BidPlace, corners: Corners): void {
  placeFloors(block, given, place, corners);
  placeExtras(block, given, place, corners);
  placeItems(block, given, place, corners);
  placeMath(block, given, place, corners);
}

/** From the heading of a column down to the cell above one of its cells: "$C$41:$C43". */
function aboveCell(cell: string, headerRow: number): string {
  const [, column = "", row = ""] = /^(\$[A-Z]+)(\d+)$/.exec(cell) ?? [];
  return `${column}$${headerRow + 1}:${column}${Number(row) - 1}`;
}

/** The cell of a row by its column's key. */
const cellsIn =
  <K extends string>(columns: Readonly<Record<K, unknown>>, corner: { row: number; column: number }, row: number) =>
  (key: K) =>
    `$${cellAddress(corner.row + 1 + row, corner.column + Object.keys(columns).indexOf(key))}`;

function placeFloors(block: Block, { floors, units }: BidTables, place: BidPlace, corners: Corners): void {
  const keys = keysOf(FLOOR_COLUMNS);
  const titles = keys.map((key) => titleOf(FLOOR_COLUMNS[key], units));
  const rowAt = placeTable(block, corners.floors, place.tables.floors, titles, floors.length);
  floors.forEach(({ plan, kind, order, check }, index) => {
    const here = cellsIn(FLOOR_COLUMNS, corners.floors, index);
    const worked: Partial<Record<FloorColumn, string>> = floorFormulas(place, plan, here("sheet"), here("kind"), check);
    const typed: Partial<Record<FloorColumn, string | number>> = { kind, order, sheet: plan.sheet };
    const row = rowAt(index);
    keys.forEach((key, i) => {
      const { format, typed: isTyped = false } = FLOOR_COLUMNS[key];
      row.put(i, typed[key] ?? formula(worked[key]!), isTyped, format);
    });
  });
  placeKinds(block, corners.floors, keys.indexOf("kind"), floors.length);
}

function placeKinds(block: Block, corner: Corners[BidTable], column: number, rows: number): void {
  const at = { row: corner.row + 1, column: corner.column + column, rows };
  block.rules.push({ ...at, rule: { list: BID_KINDS.join(",") }, message: BID_RULES.kind });
}

function placeExtras(block: Block, { extras, units }: BidTables, place: BidPlace, corners: Corners): void {
  const keys = keysOf(EXTRA_COLUMNS);
  const rows = extras.length > 0 ? extras : [BLANK_EXTRA];
  const titles = keys.map((key) => titleOf(EXTRA_COLUMNS[key], units));
  const rowAt = placeTable(block, corners.extras, place.tables.extras, titles, rows.length);
  rows.forEach((extra, index) => {
    const here = cellsIn(EXTRA_COLUMNS, corners.extras, index);
    const above = (key: ExtraColumn) => aboveCell(here(key), corners.extras.row);
    const worked: Partial<Record<ExtraColumn, string>> = extraFormulas(place, here, above);
    const typed: Partial<Record<ExtraColumn, string | number>> = extra;
    const row = rowAt(index);
    keys.forEach((key, i) => {
      const { format, typed: isTyped = false } = EXTRA_COLUMNS[key];
      row.put(i, typed[key] ?? formula(worked[key]!), isTyped, format);
    });
  });
  placeKinds(block, corners.extras, keys.indexOf("kind"), rows.length);
}

/** Where no plan names a tool or liquid, the table still has a row. */
const NO_ITEM: BidItemRow = { name: "", what: "tool", onHand: 0 };

const itemColumn = (index: number) => MATH_KEYS.length + index;

function placeItems(block: Block, given: BidTables, place: BidPlace, corners: Corners): void {
  const { items, units, shelf, floors } = given;
  const keys = keysOf(BUY_COLUMNS);
  const rows = items.length > 0 ? items : [NO_ITEM];
  const titles = keys.map((key) => titleOf(BUY_COLUMNS[key], units));
  const rowAt = placeTable(block, corners.toBuy, place.tables.toBuy, titles, rows.length);
  const { row: top, column: left } = corners.math;
  rows.forEach(({ name, what, onHand }, index) => {
    const here = cellsIn(BUY_COLUMNS, corners.toBuy, index);
    const column = left + itemColumn(index);
    const used = `${absoluteAddress(top + 1, column)}:${absoluteAddress(top + floors.length, column)}`;
    const listed = (key: "price" | "container" | "onHand") => shelfCell(shelf, what, key, here("item"), units);
    const worked: Partial<Record<BuyColumn, string>> = {
      ...(name === "" ? NOTHING : buyFormulas(place, what, used, here)),
      price: name === "" ? "0" : listed("price"),
      container: what === "tool" ? "1" : listed("container"),
    };
    const onShelf = what === "tool" && name !== "" ? formula(listed("onHand")) : 0;
    const typed: Partial<Record<BuyColumn, PlacedCell["content"]>> = { item: name, what, onHand: onHand ?? onShelf };
    const row = rowAt(index);
    keys.forEach((key, i) => {
      const { format, typed: isTyped = false } = BUY_COLUMNS[key];
      row.put(i, typed[key] ?? formula(worked[key]!), isTyped, format);
    });
  });
}

const NOTHING = { used: "0", toBuy: "0", cost: "0", left: "0", worth: "0", whole: "0" } as const;

/** A figure of the shelf by the name in a cell, in the bid's units. */
function shelfCell(
  { tooling, liquids }: BidTables["shelf"],
  what: BidItemRow["what"],
  key: "price" | "container" | "onHand",
  name: string,
  units: System,
): string {
  const table = what === "tool" ? tooling : liquids;
  const columns = what === "tool" ? TOOL_COLUMNS : LIQUID_COLUMNS;
  const column = columns.find((one) => one.key === key)!;
  const found = `INDEX(${table.name}[${header(column, table.units)}],MATCH(${name},${table.name}[${columns[0]!.title}],0))`;
  const factor = factorOf(column, table.units, units);
  return factor === 1 ? found : `${found}*${factor}`;
}

function machinesOf({ machines }: BidTables["shelf"]): MachinesTable | undefined {
  if (!machines) return undefined;
  const of = (key: "name" | "toolsASet") =>
    `${machines.name}[${header(MACHINE_COLUMNS.find((one) => one.key === key)!, machines.units)}]`;
  return { names: of("name"), tools: of("toolsASet") };
}

function placeMath(block: Block, given: BidTables, place: BidPlace, corners: Corners): void {
  const { floors, items, units, shelf } = given;
  const headings = mathHeadings(items, units);
  const rowAt = placeTable(block, corners.math, place.tables.math, headings, floors.length);
  const machines = machinesOf(shelf);
  const liquids = liquidsAmong(items);
  const { row: top, column: left } = corners.math;
  const ofLiquid = (name: string) => itemColumn(items.length) + 2 * liquids.findIndex((one) => one.name === name);
  floors.forEach(({ plan }, index) => {
    const at = (column: number) => `$${cellAddress(top + 1 + index, left + column)}`;
    const row = rowAt(index);
    const here = (key: MathColumn) => at(MATH_KEYS.indexOf(key));
    const cells = items.map(({ name, what }, i) => {
      const used = at(itemColumn(i));
      return what === "tool" ? { used } : { used, whole: at(ofLiquid(name)), more: at(ofLiquid(name) + 1) };
    });
    const worked = mathFormulas(place, plan, { here, above: (key) => aboveCell(here(key), top), items: cells });
    MATH_KEYS.forEach((key, i) => {
      row.put(i, key === "sheet" ? plan.sheet : formula(worked[key]), false, MATH_COLUMNS[key].format);
    });
    items.forEach(({ what, name }, i) => {
      const inToBuy = cellsIn(BUY_COLUMNS, corners.toBuy, i);
      const fixed = (key: BuyColumn) => inToBuy(key).replace(/(\d+)$/, "$$$1");
      const item = {
        name: fixed("item"),
        ...{ price: fixed("price"), container: fixed("container"), used: fixed("used"), whole: fixed("whole") },
      };
      const used = at(itemColumn(i));
      row.put(itemColumn(i), formula(usedFormula(plan, item.name, what, machines)), false, "sets");
      if (what === "tool") return;
      row.put(ofLiquid(name), formula(wholeFormula(plan, item, used)), false, "money");
      row.put(ofLiquid(name) + 1, formula(moreFormula(here("kind"), item, used)), false, "money");
    });
  });
}
