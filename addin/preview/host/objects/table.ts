/** Tables: a header row, a body that grows, and perhaps a row of totals. */
import { cellRect, contains, endColumn, endRow, formatAddress, intersection, type Rect } from "../a1";
import { accessDenied, HostError, invalidArgument, itemAlreadyExists, itemNotFound } from "../errors";
import { bodyRect, moveFormula, renameInFormula, spellOutTable } from "../formula";
import type { Model } from "../model";
import { newColumns, type TableColumnModel, type TableModel, uniqueHeaders } from "../names";
import { AutoFilter, clearFilter, Filter } from "./filter";
import { checkName } from "./named-item";
import { HostCollection, HostObject, ordinal } from "./object";
import { Range, rangeAt } from "./range";
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

  /** guess: a table in its cells ends the sheet's filter. */
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
    // guess: the cells of a deleted table are left blank, and nothing moves up.
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

export class TableColumnCollection extends HostCollection<TableColumn> {
  readonly typeName = "TableColumnCollection";

  constructor(private readonly table: Table) {
    super(table.model);
  }

  _items(): TableColumn[] {
    return this.table._model().columns.map((column) => new TableColumn(this.table, column));
  }

  /** By number or by name. */
  override _find(key: unknown): TableColumn | undefined {
    const { columns } = this.table._model();
    const wanted = String(key).toLowerCase();
    const column =
      typeof key === "number"
        ? columns.find(({ id }) => id === key)
        : columns.find(({ name }) => name.toLowerCase() === wanted);
    return column && new TableColumn(this.table, column);
  }

  add(index?: unknown, values?: unknown, name?: unknown): TableColumn {
    this.table._guard();
    const table = this.table._model();
    const at =
      index === undefined || index === null || index === -1
        ? table.columns.length
        : ordinal(index, table.columns.length);
    const { rect } = table;
    const added = newColumns(table.columns, 1)[0]!;
    if (at < table.columns.length) {
      this.table._range({ ...rect, column: rect.column + at, columns: 1 }).insert("Right");
      if (at === 0) this.model.resizeTable(table, rect);
      table.columns.splice(at, table.columns.length === rect.columns + 1 ? 1 : 0, added);
    } else {
      this.table._range({ ...rect, column: endColumn(rect) + 1, columns: 1 }).insert("Right");
      table.columns.push(added);
    }
    this.model.resizeTable(table, { ...rect, columns: rect.columns + 1 });
    const column = new TableColumn(this.table, added);
    if (at > 0) this._formatAsBefore(column.getDataBodyRange());
    column.name = typeof name === "string" && name !== "" ? name : added.name;
    if (values !== undefined && values !== null) column.values = values;
    return column;
  }

  /** guess: a new column takes the number formats of the one at its left. */
  private _formatAsBefore(body: Range) {
    const { engine } = this.model;
    const { row, column, rows } = body._rect();
    for (let i = row; i < row + rows; i++) {
      const { n } = engine.style(body._sheetId(), i, column - 1);
      if (n) engine.setStyle(body._sheetId(), cellRect(i, column), { n });
    }
  }
}

export class TableColumn extends HostObject {
  readonly typeName = "TableColumn";

  constructor(
    private readonly table: Table,
    private readonly column: TableColumnModel,
  ) {
    super(table.model);
    this.key = column.id;
  }

  get id(): number {
    return this.column.id;
  }

  get index(): number {
    const index = this.table._model().columns.indexOf(this.column);
    if (index < 0) throw itemNotFound();
    return index;
  }

  get name(): string {
    return this.column.name;
  }

  set name(name: unknown) {
    if (typeof name !== "string" || name === "") throw invalidArgument();
    this.getHeaderRowRange()._enter([[`'${name}`]]);
  }

  get filter(): Filter {
    return new Filter(this.model, this.table._model(), this.column.id);
  }

  get values(): unknown {
    return this.getRange().values;
  }

  set values(values: unknown) {
    this.getRange()._enter(values);
  }

  getRange(): Range {
    return this._within(this.table._model().rect);
  }

  getHeaderRowRange(): Range {
    return this._within(this.table.getHeaderRowRange()._rect());
  }

  getDataBodyRange(): Range {
    return this._within(bodyRect(this.table._model()));
  }

  delete() {
    this.table._guard();
    const table = this.table._model();
    // A table keeps at least one column.
    if (table.columns.length === 1) throw invalidArgument();
    this._within(table.rect).delete("Left");
  }

  private _within(rect: Rect): Range {
    return this.table._range({ ...rect, column: rect.column + this.index, columns: 1 });
  }
}

export class TableRowCollection extends HostCollection<TableRow> {
  readonly typeName = "TableRowCollection";

  constructor(private readonly table: Table) {
    super(table.model);
  }

  _items(): TableRow[] {
    return Array.from({ length: bodyRect(this.table._model()).rows }, (_, i) => new TableRow(this.table, i));
  }

  add(index?: unknown, values?: unknown): TableRow {
    this.table._guard();
    const body = bodyRect(this.table._model());
    const at = index === undefined || index === null || index === -1 ? body.rows : ordinal(index, body.rows);
    const lines = linesOf(values, body.columns);
    const rule = calculatedColumns(this.table);
    insertRows(this.table, at, lines.length);
    const range = this.table._range({ ...body, row: body.row + at, rows: lines.length });
    this._fillCalculated(range, lines, rule);
    range._enter(lines);
    return new TableRow(this.table, at);
  }

  /** Where no value is given, a column that calculates goes on calculating. */
  private _fillCalculated(range: Range, lines: unknown[][], rule: (CalculatedColumn | undefined)[]) {
    const { engine } = this.model;
    lines.forEach((line, i) => {
      line.forEach((value, j) => {
        const calculated = rule[j];
        if (!calculated || (value !== null && value !== "")) return;
        const formula = moveFormula(calculated.formula, range.rowIndex + i - calculated.row, 0);
        engine.write(range._sheetId(), range.rowIndex + i, range.columnIndex + j, { value: null, formula });
        line[j] = null;
      });
    });
  }
}

function linesOf(values: unknown, columns: number): unknown[][] {
  if (values === undefined || values === null) return [Array<unknown>(columns).fill("")];
  if (!Array.isArray(values) || values.length === 0) throw invalidArgument();
  const lines = (Array.isArray(values[0]) ? values : [values]) as unknown[][];
  if (lines.some((line) => line.length !== columns)) throw invalidArgument();
  return lines.map((line) => [...line]);
}

interface CalculatedColumn {
  readonly formula: string;
  readonly row: number;
}

/** The columns whose every row holds the same formula. */
export function calculatedColumns(table: Table): (CalculatedColumn | undefined)[] {
  const { engine } = table.model;
  const body = bodyRect(table._model());
  return table._model().columns.map((_, i) => {
    const first = engine.formula(table._model().sheetId, body.row, body.column + i);
    if (!first) return undefined;
    for (let row = 1; row < body.rows; row++) {
      const formula = engine.formula(table._model().sheetId, body.row + row, body.column + i);
      if (formula !== moveFormula(first, row, 0)) return undefined;
    }
    return { formula: first, row: body.row };
  });
}

/** A user's typing right below a table takes the row into it, as the grid's host does; its calculated columns go on. */
export function growWithTyping(model: Model, sheetId: string, typed: Rect) {
  const { engine } = model;
  const below = ({ rect, showTotals }: TableModel) =>
    !showTotals &&
    typed.row === endRow(rect) + 1 &&
    typed.column >= rect.column &&
    endColumn(typed) <= endColumn(rect) &&
    engine.value(sheetId, typed.row, typed.column) !== null;
  const shape = engine.book.tables.find((table) => table.sheetId === sheetId && below(table));
  if (!shape || model.sheet(sheetId).protection) return;
  const calculated = calculatedColumns(new Table(model, shape));
  const last = endRow(shape.rect);
  model.resizeTable(shape, { ...shape.rect, rows: shape.rect.rows + typed.rows });
  for (let row = typed.row; row <= endRow(typed); row++) {
    for (const [j, column] of calculated.entries()) {
      const at = shape.rect.column + j;
      engine.setStyle(sheetId, cellRect(row, at), engine.style(sheetId, last, at));
      if (!column || engine.value(sheetId, row, at) !== null) continue;
      engine.write(sheetId, row, at, { value: null, formula: moveFormula(column.formula, row - column.row, 0) });
    }
  }
}

/** Makes room in the body; new rows look like the row they follow, or the first row if they lead. */
function insertRows(table: Table, at: number, count: number) {
  const { model } = table;
  const { engine } = model;
  const shape = table._model();
  const body = bodyRect(shape);
  const { rect } = shape;
  table._range({ ...body, row: body.row + at, rows: count }).insert("Down");
  const grown = { ...rect, rows: rect.rows + count };
  if (formatAddress(shape.rect) !== formatAddress(grown)) model.resizeTable(shape, grown);
  const pattern = at === 0 ? body.row + count : body.row + at - 1;
  for (let j = 0; j < body.columns; j++) {
    const style = engine.style(shape.sheetId, pattern, body.column + j);
    for (let i = 0; i < count; i++) {
      engine.clearStyle(shape.sheetId, cellRect(body.row + at + i, body.column + j));
      engine.setStyle(shape.sheetId, cellRect(body.row + at + i, body.column + j), style);
    }
  }
}

export class TableRow extends HostObject {
  readonly typeName = "TableRow";

  constructor(
    private readonly table: Table,
    private readonly row: number,
  ) {
    super(table.model);
  }

  get index(): number {
    return this.row;
  }

  get values(): unknown {
    return this.getRange().values;
  }

  set values(values: unknown) {
    this.getRange()._enter(values);
  }

  getRange(): Range {
    const body = bodyRect(this.table._model());
    if (this.row >= body.rows) throw itemNotFound();
    return this.table._range({ ...body, row: body.row + this.row, rows: 1 });
  }

  delete() {
    this.table._guard();
    const body = bodyRect(this.table._model());
    // guess: the last row of a body is only emptied, since a table keeps one.
    if (body.rows === 1) this.getRange().clear("Contents");
    else this.getRange().delete("Up");
  }
}
