/** The rows of a table, and what makes new ones look and calculate like those above them. */
import { cellRect, endColumn, endRow, formatAddress, type Rect } from "../a1";
import { invalidArgument, itemNotFound } from "../errors";
import { bodyRect, moveFormula } from "../formula";
import type { Model } from "../model";
import type { TableModel } from "../names";
import { HostCollection, HostObject, ordinal } from "./object";
import type { Range } from "./range";
import { Table } from "./table";

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
    // guess(last-table-row): the last row of a body is only emptied, since a table keeps one.
    if (body.rows === 1) this.getRange().clear("Contents");
    else this.getRange().delete("Up");
  }
}
