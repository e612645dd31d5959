/** Tables: a header row, a body that grows, and perhaps a row of totals. */
import { contains, endColumn, endRow, intersection, type Rect } from "../a1";
import { accessDenied, HostError, invalidArgument, itemAlreadyExists, itemNotFound } from "../errors";
import { bodyRect, renameInFormula, spellOutTable } from "../formula";
import type { Model } from "../model";
import { newColumns, type TableModel, uniqueHeaders } from "../names";
import { AutoFilter, clearFilter } from "./filter";
import { checkName } from "./named-item";
import { HostCollection, HostObject } from "./object";
import { Range, rangeAt } from "./range";
import { TableColumnCollection } from "./table-columns";
import { TableRowCollection } from "./table-rows";
import { isEventRegistration, Worksheet } from "./worksheet";

const TABLE_EVENTS = ["DataChanged"];

function findTable(tables: readonly TableModel[], key: unknown): TableModel | undefined {
  const wanted = String(key).toLowerCase();
  return tables.find((table) => table.name.toLowerCase() === wanted || table.id.toLowerCase() === wanted);
}

/** The tables that a block touches, or holds in full. */
export class TableScopedCollection extends HostCollection<Table> {
  readonly typeName = "TableScopedCollection";

  constructor(
    private readonly range: Range,
    private readonly fullyContained: boolean,
  ) {
    super(range.model);
  }

  _items(): Table[] {
    const block = this.range._rect();
    const inside = ({ rect }: TableModel) =>
      this.fullyContained
        ? contains(block, rect.row, rect.column) && contains(block, endRow(rect), endColumn(rect))
        : intersection(block, rect) !== undefined;
    return this.model.engine.book.tables
      .filter((table) => table.sheetId === this.range._sheetId() && inside(table))
      .map((table) => new Table(this.model, table));
  }
}

export class TableCollection extends HostCollection<Table> {
  readonly typeName = "TableCollection";

  constructor(
    model: Model,
    private readonly sheetId: string | undefined,
  ) {
    super(model);
  }

  _items(): Table[] {
    return this._models().map((table) => new Table(this.model, table));
  }

  override _find(key: unknown): Table | undefined {
    const table = findTable(this._models(), key);
    return table && new Table(this.model, table);
  }

  add(address: unknown, hasHeaders: unknown): Table {
    if (typeof hasHeaders !== "boolean") throw invalidArgument();
    const range = this._range(address);
    const sheetId = range._sheetId();
    if (this.model.sheet(sheetId).protection) throw accessDenied();
    refuseOverlap(this.model, sheetId, range._rect());
    this._takeFilter(sheetId, range._rect());
    const table = hasHeaders ? this._addOver(range) : this._addBelowNewHeader(range);
    this.model.changed();
    return table;
  }

  override _call(name: string, args: unknown[]): unknown {
    return isEventRegistration(name, TABLE_EVENTS) ? undefined : super._call(name, args);
  }

  private _models(): TableModel[] {
    return this.model.engine.book.tables.filter(
      ({ sheetId }) => this.sheetId === undefined || sheetId === this.sheetId,
    );
  }

  /** guess(table-over-filter): a table in its cells ends the sheet's filter. */
  private _takeFilter(sheetId: string, rect: Rect) {
    const data = this.model.sheet(sheetId);
    if (!data.filter || !intersection(data.filter.rect, rect)) return;
    clearFilter(this.model, sheetId);
    data.filter = undefined;
  }

  private _range(address: unknown): Range {
    if (address instanceof Range) return address;
    if (typeof address !== "string") throw invalidArgument();
    return rangeAt(this.model, address, this.sheetId ?? this.model.engine.active);
  }

  private _addOver(range: Range): Table {
    const { engine } = this.model;
    const { row, column, rows, columns } = range._rect();
    const shown = Array.from({ length: columns }, (_, i) => engine.text(range._sheetId(), row, column + i));
    const names = uniqueHeaders(shown);
    names.forEach((name, i) => {
      if (engine.value(range._sheetId(), row, column + i) !== name)
        engine.write(range._sheetId(), row, column + i, { value: name });
    });
    engine.flush();
    // A table has at least one row of data.
    const rect = { row, column, columns, rows: Math.max(2, rows) };
    return new Table(this.model, engine.book.addTable(range._sheetId(), rect, names));
  }

  private _addBelowNewHeader(range: Range): Table {
    const { row, column, rows, columns } = range._rect();
    const header = range._at({ row, column, rows: 1, columns });
    header.insert("Down");
    const names = Array.from({ length: columns }, (_, i) => `Column${i + 1}`);
    range._at({ row, column, rows: 1, columns })._enter([names]);
    const rect = { row, column, rows: rows + 1, columns };
    return new Table(this.model, this.model.engine.book.addTable(range._sheetId(), rect, names));
  }
}

function refuseOverlap(model: Model, sheetId: string, rect: Rect, own?: TableModel) {
  const overlaps = model.engine.book.tables.some(
    (table) => table !== own && table.sheetId === sheetId && intersection(table.rect, rect),
  );
  if (overlaps) {
    throw invalidArgument(
      "A table can't overlap a range that contains a PivotTable report, query results, protected cells or another table.",
    );
  }
}

export class Table extends HostObject {
  readonly typeName = "Table";

  constructor(
    model: Model,
    private readonly table: TableModel,
  ) {
    super(model);
    this.key = table.id;
  }

  _model(): TableModel {
    if (!this.model.engine.book.tables.includes(this.table)) throw itemNotFound();
    return this.table;
  }

  get id(): string {
    return this._model().id;
  }

  get name(): string {
    return this._model().name;
  }

  set name(name: unknown) {
    const { book } = this.model.engine;
    const checked = checkName(name);
    const other = book.findTable(checked);
    if ((other && other !== this._model()) || book.nameIn(checked, undefined)) throw itemAlreadyExists();
    const before = this.table.name;
    book.renameTable(this.table, checked);
    this.model.engine.rewriteFormulas((formula) => renameInFormula(formula, "table", before, checked));
    book.rewriteNames(({ formula }) => renameInFormula(formula, "table", before, checked));
  }

  get style(): string {
    return this._model().style;
  }

  set style(style: unknown) {
    if (typeof style !== "string" || !/^(TableStyle(Light|Medium|Dark)\d{1,2}|)$/.test(style)) throw invalidArgument();
    this._model().style = style;
  }

  get showTotals(): boolean {
    return this._model().showTotals;
  }

  set showTotals(shown: unknown) {
    if (typeof shown !== "boolean") throw invalidArgument();
    this._guard();
    if (shown !== this.table.showTotals) shown ? this._addTotals() : this._removeTotals();
  }

  get showBandedRows(): boolean {
    return this._model().showBandedRows;
  }

  set showBandedRows(shown: unknown) {
    this._model().showBandedRows = flagOf(shown);
  }

  get showFilterButton(): boolean {
    return this._model().showFilterButton;
  }

  set showFilterButton(shown: unknown) {
    this._model().showFilterButton = flagOf(shown);
  }

  get columns(): TableColumnCollection {
    return new TableColumnCollection(this);
  }

  get rows(): TableRowCollection {
    return new TableRowCollection(this);
  }

  get worksheet(): Worksheet {
    return new Worksheet(this.model, this._model().sheetId);
  }

  get autoFilter(): AutoFilter {
    return new AutoFilter(this.model, this._model().sheetId, this._model());
  }

  getRange(): Range {
    return this._range(this._model().rect);
  }

  getHeaderRowRange(): Range {
    return this._range({ ...this._model().rect, rows: 1 });
  }

  getDataBodyRange(): Range {
    return this._range(bodyRect(this._model()));
  }

  getTotalRowRange(): Range {
    if (!this._model().showTotals) throw itemNotFound();
    return this._range({ ...this.table.rect, row: endRow(this.table.rect), rows: 1 });
  }

  resize(address: unknown) {
    this._guard();
    const range = address instanceof Range ? address : rangeAt(this.model, String(address), this._model().sheetId);
    const rect = range._rect();
    const { table } = this;
    const keepsHeader =
      range._sheetId() === table.sheetId && rect.row === table.rect.row && intersection(rect, table.rect);
    if (!keepsHeader || rect.rows < (table.showTotals ? 3 : 2)) throw invalidArgument();
    if (table.showTotals)
      throw new HostError("NotImplemented", "The emulated host does not resize a table with totals.", 501);
    refuseOverlap(this.model, table.sheetId, rect, table);
    this._resizeColumns(rect);
    this.model.resizeTable(table, rect);
  }

  convertToRange(): Range {
    const range = this.getRange();
    this.clearFilters();
    this._spellOut();
    this.model.engine.book.removeTable(this.table);
    return range;
  }

  delete() {
    this._guard();
    // guess(deleted-table): the cells of a deleted table are left blank, and nothing moves up.
    const range = this.getRange();
    this.clearFilters();
    this.model.engine.book.removeTable(this._model());
    range.clear();
  }

  clearFilters() {
    clearFilter(this.model, this._model().sheetId, this._model());
  }

  override _call(name: string, args: unknown[]): unknown {
    return isEventRegistration(name, TABLE_EVENTS) ? undefined : super._call(name, args);
  }

  _range(rect: Rect): Range {
    return new Range(this.model, this.table.sheetId, rect);
  }

  _guard() {
    if (this.model.sheet(this._model().sheetId).protection) throw accessDenied();
  }

  /** Takes the table's name out of formulas that use it: references take its place. */
  private _spellOut() {
    const { engine } = this.model;
    for (const { sheetId, row, column, text } of engine.calculation.formulas()) {
      const plain = spellOutTable(text, this.table, { sheetId, row, column }, engine.book);
      if (plain !== text) engine.write(sheetId, row, column, { value: null, formula: plain });
    }
    engine.flush();
    const scope = { sheetId: this.table.sheetId, row: -1, column: -1 };
    engine.book.rewriteNames(({ formula }) => spellOutTable(formula, this.table, scope, engine.book));
  }

  private _resizeColumns(rect: Rect) {
    const { columns } = this.table;
    const { engine } = this.model;
    if (rect.column !== this.table.rect.column) throw invalidArgument();
    if (rect.columns < columns.length) columns.splice(rect.columns);
    const first = columns.length;
    for (let i = first; i < rect.columns; i++) {
      const shown = engine.text(this.table.sheetId, rect.row, rect.column + i);
      const [added] = newColumns(columns, 1);
      const name = uniqueHeaders([...columns.map((column) => column.name), shown]).at(-1)!;
      columns.push({ id: added!.id, name });
      engine.write(this.table.sheetId, rect.row, rect.column + i, { value: name });
    }
    engine.flush();
  }

  private _addTotals() {
    const { table } = this;
    const below = { ...table.rect, row: endRow(table.rect) + 1, rows: 1 };
    this._range(below).insert("Down");
    table.showTotals = true;
    this.model.resizeTable(table, { ...table.rect, rows: table.rect.rows + 1 });
    const last = table.columns.at(-1)!;
    const { engine } = this.model;
    engine.write(table.sheetId, below.row, below.column, { value: "Total" });
    if (table.columns.length > 1) {
      engine.write(table.sheetId, below.row, endColumn(below), {
        value: null,
        formula: `=SUBTOTAL(109,[${last.name}])`,
      });
    }
  }

  private _removeTotals() {
    const { table } = this;
    const totals = this.getTotalRowRange();
    table.showTotals = false;
    this.model.resizeTable(table, { ...table.rect, rows: table.rect.rows - 1 });
    totals.delete("Up");
  }
}

const flagOf = (value: unknown): boolean => {
  if (typeof value !== "boolean") throw invalidArgument();
  return value;
};
