/** The columns of a table. */
import { cellRect, endColumn, type Rect } from "../a1";
import { invalidArgument, itemNotFound } from "../errors";
import { bodyRect } from "../formula";
import { newColumns, type TableColumnModel } from "../names";
import { Filter } from "./filter";
import { HostCollection, HostObject, ordinal } from "./object";
import type { Range } from "./range";
import type { Table } from "./table";

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

  /** guess(new-column-format): a new column takes the number formats of the one at its left. */
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
