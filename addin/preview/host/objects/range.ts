/** Range: a block of cells as the add-in sees it. */
import {
  bounding,
  COLUMNS,
  cellRect,
  contains,
  endColumn,
  endRow,
  fitsSheet,
  formatAddress,
  intersection,
  isOneCell,
  isWholeColumns,
  isWholeRows,
  parseAddress,
  quoteSheet,
  type Rect,
  ROWS,
  SHEET_RECT,
  splitSheet,
} from "../a1";
import { readCell, writeCell } from "../cell-properties";
import { GENERAL, isCellError, TEXT_FORMAT } from "../entry";
import { accessDenied, invalidArgument, invalidReference } from "../errors";
import { fromLocal, shownLocally, toLocal } from "../local";
import type { Model } from "../model";
import { uniqueHeaders } from "../names";
import { surroundingRegion } from "../region";
import { ConditionalFormatCollection } from "./conditional-format";
import { DataValidation } from "./data-validation";
import { hasFilteredRows } from "./filter";
import { RangeFormat } from "./format";
import { columnsWidth, POINTS, rowsHeight } from "./geometry";
import { HostObject, NULL_OBJECT, type OrNull, present, same } from "./object";
import { RangeAreas } from "./range-areas";
import { mergeCells, mergesIn, refuseCutMerges, unmergeCells } from "./range-merges";
import { shiftCellsBeside } from "./range-shift";
import { TableScopedCollection } from "./table";
import { Worksheet } from "./worksheet";

/** Beyond this, Excel gives null in place of the cells of a block. */
const MOST_CELLS = 5_000_000;

export interface Place {
  readonly sheetId: string;
  rect: Rect | undefined;
}

export class Range extends HostObject {
  readonly typeName = "Range";
  place: Place;

  constructor(model: Model, sheetId: string, rect: Rect) {
    super(model);
    if (!fitsSheet(rect)) throw invalidArgument();
    this.place = { sheetId, rect };
  }

  /** The range that an earlier batch took hold of. guess(tracked-cell-gone): the code for one whose cells were deleted. */
  static _tracked(model: Model, referenceId: string): Range {
    const place = model.tracked.get(referenceId);
    if (!place?.rect || !model.engine.hasSheet(place.sheetId)) throw invalidReference();
    const range = new Range(model, place.sheetId, place.rect);
    range.place = place;
    range.referenceId = referenceId;
    return range;
  }

  override _keep() {
    this.referenceId ??= this.model.track(this.place);
  }

  _rect(): Rect {
    if (!this.place.rect || !this.model.engine.hasSheet(this.place.sheetId)) throw invalidReference();
    return this.place.rect;
  }

  _sheetId(): string {
    return this.place.sheetId;
  }

  get address(): string {
    const rect = this._rect();
    return `${quoteSheet(this.model.engine.sheetName(this.place.sheetId))}!${formatAddress(rect)}`;
  }

  get addressLocal(): string {
    return this.address;
  }

  get rowIndex(): number {
    return this._rect().row;
  }

  get columnIndex(): number {
    return this._rect().column;
  }

  get rowCount(): number {
    return this._rect().rows;
  }

  get columnCount(): number {
    return this._rect().columns;
  }

  get cellCount(): number {
    const cells = this._rect().rows * this._rect().columns;
    return cells > 2 ** 31 - 1 ? -1 : cells;
  }

  get values(): unknown {
    const read = this.model.engine.valueReader(this.place.sheetId);
    return this._grid((row, column) => read(row, column) ?? "");
  }

  set values(values: unknown) {
    this._enter(values);
  }

  get formulas(): unknown {
    const { engine } = this.model;
    const read = engine.valueReader(this.place.sheetId);
    return this._grid((row, column) => engine.formula(this.place.sheetId, row, column) ?? read(row, column) ?? "");
  }

  set formulas(formulas: unknown) {
    this._enter(formulas);
  }

  get formulasLocal(): unknown {
    const formulas = this.formulas as unknown[][] | null;
    return formulas?.map((line) => line.map((entry) => toLocal(entry, this.model.separators))) ?? null;
  }

  set formulasLocal(formulas: unknown) {
    const { separators } = this.model;
    const isBlock = Array.isArray(formulas);
    const english = (line: unknown) => (Array.isArray(line) ? line.map((entry) => fromLocal(entry, separators)) : line);
    this._enter(isBlock ? formulas.map(english) : fromLocal(formulas, separators));
  }

  get text(): unknown {
    const { engine, separators } = this.model;
    const { sheetId } = this.place;
    return this._grid((row, column) => {
      const shown = engine.text(sheetId, row, column);
      return typeof engine.value(sheetId, row, column) === "number" ? shownLocally(shown, separators) : shown;
    });
  }

  get valueTypes(): unknown {
    const read = this.model.engine.valueReader(this.place.sheetId);
    return this._grid((row, column) => {
      const value = read(row, column);
      if (value === null) return "Empty";
      if (isCellError(value)) return "Error";
      return { number: "Double", string: "String", boolean: "Boolean" }[
        typeof value as "number" | "string" | "boolean"
      ];
    });
  }

  get numberFormat(): unknown {
    return this._grid((row, column) => this.model.engine.numberFormat(this.place.sheetId, row, column));
  }

  set numberFormat(formats: unknown) {
    this._guardFormat();
    const { engine } = this.model;
    const style = (format: unknown) => {
      if (typeof format !== "string") throw invalidArgument();
      return { n: format === GENERAL ? null : { pattern: format } };
    };
    if ([formats].flat(2).includes(TEXT_FORMAT)) this._rewrite();
    if (!Array.isArray(formats)) {
      engine.setStyle(this.place.sheetId, this._rect(), style(formats));
      return;
    }
    this._spread(formats, (row, column, format) => {
      if (format === null) return;
      engine.setStyle(this.place.sheetId, cellRect(row, column), style(format));
    });
  }

  /** The engine makes texts of numbers that get the format Text; written with it, they stay what they are, as in Excel. */
  private _rewrite() {
    const { engine } = this.model;
    const { sheetId } = this.place;
    const writes: (() => void)[] = [];
    engine.forEachKnown(sheetId, this._rect(), (row, column) => {
      const formula = engine.formula(sheetId, row, column);
      const value = formula ? null : engine.value(sheetId, row, column);
      const isKept = formula || (value !== null && typeof value !== "string");
      if (isKept) writes.push(() => engine.write(sheetId, row, column, { value, formula }));
    });
    for (const write of writes) write();
  }

  get hidden(): boolean | null {
    return this.rowHidden === null || this.columnHidden === null ? null : this.rowHidden || this.columnHidden;
  }

  get rowHidden(): boolean | null {
    const { row } = this._rect();
    const hidden = (i: number) => this.model.engine.sizes.rowHidden(this.place.sheetId, i);
    return same(Array.from({ length: Math.min(this.rowCount, 10_000) }, (_, i) => hidden(row + i)));
  }

  set rowHidden(hidden: boolean) {
    this._guardFormat();
    this.model.engine.sizes.hideRows(this.place.sheetId, this._rect(), hidden);
  }

  get columnHidden(): boolean | null {
    const { column } = this._rect();
    const hidden = (i: number) => this.model.engine.sizes.columnHidden(this.place.sheetId, i);
    return same(Array.from({ length: Math.min(this.columnCount, 10_000) }, (_, i) => hidden(column + i)));
  }

  set columnHidden(hidden: boolean) {
    this._guardFormat();
    this.model.engine.sizes.hideColumns(this.place.sheetId, this._rect(), hidden);
  }

  /** Points from the sheet's corner, as Excel measures. */
  get left(): number {
    return columnsWidth(this.model.engine, this.place.sheetId, 0, this._rect().column) * POINTS;
  }

  get top(): number {
    return rowsHeight(this.model.engine, this.place.sheetId, 0, this._rect().row) * POINTS;
  }

  get width(): number {
    return columnsWidth(this.model.engine, this.place.sheetId, this._rect().column, this.columnCount) * POINTS;
  }

  get height(): number {
    return rowsHeight(this.model.engine, this.place.sheetId, this._rect().row, this.rowCount) * POINTS;
  }

  get hasSpill(): boolean | null {
    const { engine } = this.model;
    const cells = (
      this._grid((row, column) => engine.spillParent(this.place.sheetId, row, column) !== undefined) ?? []
    ).flat();
    return same(cells as boolean[]);
  }

  get worksheet(): Worksheet {
    return new Worksheet(this.model, this.place.sheetId);
  }

  get format(): RangeFormat {
    return new RangeFormat(this);
  }

  get dataValidation(): DataValidation {
    return new DataValidation(this);
  }

  get conditionalFormats(): ConditionalFormatCollection {
    return new ConditionalFormatCollection(this);
  }

  getCell(row: number, column: number): Range {
    return this._sub(this.rowIndex + row, this.columnIndex + column, 1, 1);
  }

  getRow(row: number): Range {
    return this._sub(this.rowIndex + row, this.columnIndex, 1, this.columnCount);
  }

  getColumn(column: number): Range {
    return this._sub(this.rowIndex, this.columnIndex + column, this.rowCount, 1);
  }

  getOffsetRange(rows: number, columns: number): Range {
    return this._sub(this.rowIndex + rows, this.columnIndex + columns, this.rowCount, this.columnCount);
  }

  getResizedRange(rows: number, columns: number): Range {
    return this._sub(this.rowIndex, this.columnIndex, this.rowCount + rows, this.columnCount + columns);
  }

  getEntireRow(): Range {
    return this._sub(this.rowIndex, 0, this.rowCount, COLUMNS);
  }

  getEntireColumn(): Range {
    return this._sub(0, this.columnIndex, ROWS, this.columnCount);
  }

  getBoundingRect(other: unknown): Range {
    return this._at(bounding(this._rect(), this._argument(other)._rect()));
  }

  getIntersectionOrNullObject(other: unknown): OrNull<Range> {
    const range = this._argument(other);
    const common = range.place.sheetId === this.place.sheetId && intersection(this._rect(), range._rect());
    return common ? this._at(common) : NULL_OBJECT;
  }

  getUsedRangeOrNullObject(valuesOnly = false): OrNull<Range> {
    const used = this.model.engine.usedRect(this.place.sheetId, valuesOnly, this._rect());
    return used ? this._at(used) : NULL_OBJECT;
  }

  getUsedRange(valuesOnly = false): Range {
    return present(this.getUsedRangeOrNullObject(valuesOnly));
  }

  getSurroundingRegion(): Range {
    const read = this.model.engine.valueReader(this.place.sheetId);
    return this._at(surroundingRegion(this._rect(), (row, column) => read(row, column) !== null));
  }

  getSpillingToRangeOrNullObject(): OrNull<Range> {
    const spill =
      isOneCell(this._rect()) && this.model.engine.spillOf(this.place.sheetId, this.rowIndex, this.columnIndex);
    return spill ? this._at(spill) : NULL_OBJECT;
  }

  getSpillingToRange(): Range {
    return present(this.getSpillingToRangeOrNullObject());
  }

  getSpillParentOrNullObject(): OrNull<Range> {
    const parent =
      isOneCell(this._rect()) && this.model.engine.spillParent(this.place.sheetId, this.rowIndex, this.columnIndex);
    return parent ? this._at(parent) : NULL_OBJECT;
  }

  getSpillParent(): Range {
    return present(this.getSpillParentOrNullObject());
  }

  merge(across: unknown = false) {
    this._guardFormat();
    mergeCells(this, across === true);
  }

  unmerge() {
    this._guardFormat();
    unmergeCells(this);
  }

  getMergedAreasOrNullObject(): OrNull<RangeAreas> {
    const touched = mergesIn(this);
    return touched.length > 0
      ? new RangeAreas(
          this.model,
          touched.map((rect) => this._at(rect)),
        )
      : NULL_OBJECT;
  }

  getCellProperties(asked: unknown): unknown {
    return this._grid((row, column) => readCell(this._at(cellRect(row, column)).format, asked));
  }

  setCellProperties(given: unknown) {
    this._guardFormat();
    if (!Array.isArray(given)) throw invalidArgument();
    this._spread(given, (row, column, properties) => {
      writeCell(this._at(cellRect(row, column)).format, properties);
    });
  }

  setColumnProperties(given: unknown) {
    this._setEach(given, this.columnCount, (i) => this.getColumn(i));
  }

  setRowProperties(given: unknown) {
    this._setEach(given, this.rowCount, (i) => this.getRow(i));
  }

  private _setEach(given: unknown, count: number, part: (i: number) => Range) {
    this._guardFormat();
    if (!Array.isArray(given) || given.length !== count) throw invalidArgument();
    for (const [i, properties] of given.entries()) writeCell(part(i).format, properties);
  }

  getTables(fullyContained = false): TableScopedCollection {
    return new TableScopedCollection(this, fullyContained === true);
  }

  select() {
    this.model.engine.select(this.place.sheetId, this._rect());
  }

  clear(what: unknown = "All") {
    if (!["All", "Contents", "Formats"].includes(String(what))) throw invalidArgument();
    this._guardContents();
    refuseCutMerges(this);
    const { engine } = this.model;
    const { sheetId } = this.place;
    if (what !== "Contents") unmergeCells(this);
    if (what !== "Formats") {
      engine.forEachKnown(sheetId, this._rect(), (row, column) => engine.write(sheetId, row, column, { value: null }));
      this._fixHeaders();
    }
    if (what !== "Contents") {
      engine.clearStyle(sheetId, this._rect());
      new ConditionalFormatCollection(this)._clearAll();
    }
  }

  insert(shift: unknown): Range {
    if (shift !== "Down" && shift !== "Right") throw invalidArgument();
    shiftCellsBeside(this, shift === "Down" ? "down" : "right");
    return this._at(this._rect());
  }

  delete(shift: unknown) {
    if (shift !== "Up" && shift !== "Left") throw invalidArgument();
    shiftCellsBeside(this, shift === "Up" ? "up" : "left");
  }

  /** Calculates the block's formulas anew. */
  calculate() {
    const { engine } = this.model;
    this._each((row, column) => {
      const formula = engine.formula(this.place.sheetId, row, column);
      if (formula) engine.write(this.place.sheetId, row, column, { value: null, formula });
    });
  }

  override _call(name: string, args: unknown[]): unknown {
    if (name === "_ValidateArraySize") return this._checkShape(Number(args[0]), Number(args[1]));
    return super._call(name, args);
  }

  _at(rect: Rect): Range {
    return new Range(this.model, this.place.sheetId, rect);
  }

  _sub(row: number, column: number, rows: number, columns: number): Range {
    if (![row, column, rows, columns].every(Number.isInteger)) throw invalidArgument();
    return this._at({ row, column, rows, columns });
  }

  /** Another block, given as a range or as an address on this sheet. */
  _argument(other: unknown): Range {
    if (other instanceof Range) return other;
    if (typeof other !== "string") throw invalidArgument();
    return rangeAt(this.model, other, this.place.sheetId);
  }

  _grid<T>(read: (row: number, column: number) => T): T[][] | null {
    const { row, column, rows, columns } = this._rect();
    if (rows === ROWS || columns === COLUMNS || rows * columns > MOST_CELLS) return null;
    return Array.from({ length: rows }, (_, i) => Array.from({ length: columns }, (_, j) => read(row + i, column + j)));
  }

  /** Each cell of the block that the engine holds. */
  _each(visit: (row: number, column: number) => void) {
    const size = this.model.engine.sheetSize(this.place.sheetId);
    const block = intersection(this._rect(), { row: 0, column: 0, ...size });
    if (!block) return;
    for (let row = block.row; row <= endRow(block); row++) {
      for (let column = block.column; column <= endColumn(block); column++) visit(row, column);
    }
  }

  /** Hands a value, or the values of a block of the same shape, to each cell. */
  _spread(values: unknown, put: (row: number, column: number, value: unknown) => void) {
    const { row, column, rows, columns } = this._rect();
    const isBlock = Array.isArray(values);
    if (isBlock) {
      for (const line of values) this._checkShape(values.length, Array.isArray(line) ? line.length : -1);
      this._checkShape(values.length, columns);
    } else if (rows * columns > MOST_CELLS) {
      throw invalidArgument();
    }
    for (let i = 0; i < rows; i++) {
      for (let j = 0; j < columns; j++) put(row + i, column + j, isBlock ? values[i][j] : values);
    }
  }

  private _checkShape(rows: number, columns: number) {
    if (rows === this.rowCount && columns === this.columnCount) return;
    throw invalidArgument(
      "The number of rows or columns in the input array doesn't match the size or dimensions of the range.",
    );
  }

  _enter(values: unknown) {
    this._guardContents();
    const { engine } = this.model;
    const merges = mergesIn(this);
    const isFiltered = !isOneCell(this._rect()) && hasFilteredRows(this.model, this.place.sheetId, this._rect());
    this._spread(values, (row, column, given) => {
      if (isFiltered && engine.sizes.rowHidden(this.place.sheetId, row)) return;
      const value = isFiltered ? first(values) : given;
      // guess(write-under-merge): what is written to a cell hidden by a merged one is lost, without a word.
      const into = merges.find((rect) => contains(rect, row, column));
      if (into && (into.row !== row || into.column !== column)) return;
      engine.enter(this.place.sheetId, row, column, value);
    });
    this._fixHeaders();
  }

  /** Header cells of tables hold text, and never the same twice. */
  _fixHeaders() {
    const { engine } = this.model;
    for (const table of engine.book.tables) {
      if (table.sheetId !== this.place.sheetId) continue;
      const header = { ...table.rect, rows: 1 };
      if (!intersection(header, this._rect())) continue;
      const shown = table.columns.map((_, i) => engine.value(table.sheetId, header.row, header.column + i));
      uniqueHeaders(shown.map((value) => String(value ?? ""))).forEach((name, i) => {
        if (shown[i] !== name) engine.write(table.sheetId, header.row, header.column + i, { value: name });
      });
      engine.flush();
    }
  }

  _guardContents() {
    const protection = this.model.sheet(this.place.sheetId).protection;
    if (!protection) return;
    let locked = isWholeRows(this._rect()) || isWholeColumns(this._rect());
    this._each((row, column) => {
      locked ||= this.model.engine.custom(this.place.sheetId, row, column).locked !== false;
    });
    if (locked) throw accessDenied();
  }

  _guardFormat() {
    const protection = this.model.sheet(this.place.sheetId).protection;
    if (protection && protection.options.allowFormatCells !== true) throw accessDenied();
  }
}

/**
 * Excel on the desktop loses all but the first of several values where a filter hides rows among their cells: every cell
 * that is shown takes that one (office-js#224; with the values before and after in xlwings#747). It does not where rows
 * are hidden by hand (xlwings#679), nor in a single cell.
 */
const first = (values: unknown): unknown => (Array.isArray(values) ? values[0]?.[0] : values);

/** A block by its address, or by a name: what `getRange` of a sheet takes. */
export function rangeAt(model: Model, address: string, sheetId: string): Range {
  const { engine } = model;
  if (address === "") return new Range(model, sheetId, SHEET_RECT);
  const { sheet, address: cells } = splitSheet(address);
  const ownId = sheet === undefined ? sheetId : engine.sheetIdOf(sheet);
  if (ownId === undefined) throw invalidArgument();
  const rect = parseAddress(cells);
  if (rect) return new Range(model, ownId, rect);
  const name = engine.book.findName(cells, ownId);
  const target = name && splitSheet(name.formula.replace(/^=/, ""));
  const targetSheet = target?.sheet === undefined ? undefined : engine.sheetIdOf(target.sheet);
  const targetRect = target && parseAddress(target.address);
  if (!targetSheet || !targetRect) throw invalidArgument();
  return new Range(model, targetSheet, targetRect);
}
