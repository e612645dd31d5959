/** Defined names and tables of the workbook: what formulas may call by name, and what each call means. */
import { contains, type Rect, type Shift, shiftRect } from "./a1";
import {
  type DefinedName,
  type Lookups,
  renameInFormula,
  type Scope,
  shiftFormula,
  type TableShape,
  withoutSheet,
} from "./formula";
import type { FilterCriteria } from "./model";

export interface NameModel extends DefinedName {
  readonly id: string;
  name: string;
  formula: string;
  readonly sheetId: string | undefined;
  comment: string;
  visible: boolean;
}

export interface TableColumnModel {
  readonly id: number;
  name: string;
}

export interface TableModel extends TableShape {
  readonly id: string;
  name: string;
  rect: Rect;
  showTotals: boolean;
  /** In order; with headers shown, the names are what the header cells say. */
  columns: TableColumnModel[];
  style: string;
  showBandedRows: boolean;
  showFilterButton: boolean;
  /** What its filter asks, by the column's id. */
  readonly filter: Map<number, FilterCriteria>;
}

/** What the book asks of the workbook around it. */
interface Workbook {
  sheetName(sheetId: string): string;
  sheetIdOf(name: string): string | undefined;
  sheetSize(sheetId: string): { rows: number; columns: number };
}

/** The engine's own registers, from which it completes formulas as they are typed. */
export interface NameRegister {
  setName(name: NameModel): void;
  removeName(name: NameModel): void;
  setTable(table: TableModel): void;
  removeTable(name: string): void;
}

const keyOf = (name: string, sheetId: string | undefined) => `${sheetId ?? ""}!${name.toLowerCase()}`;

/** As plain data. */
export interface SavedBook {
  readonly names: readonly NameModel[];
  readonly tables: readonly Omit<TableModel, "filter">[];
  readonly nextTable: number;
  readonly nextName: number;
}

export class NameBook implements Lookups {
  readonly names: NameModel[] = [];
  readonly tables: TableModel[] = [];
  /** Rises whenever what a name or table means may have changed. */
  version = 0;
  /** The names by scope and text, as they were at that version. */
  private readonly byName = new Map<string, NameModel>();
  private indexed = -1;
  private nextTable = 1;
  private nextName = 1;

  constructor(
    private readonly workbook: Workbook,
    private readonly register: NameRegister,
  ) {}

  touch() {
    this.version++;
  }

  findName(name: string, sheetId: string | undefined): NameModel | undefined {
    return this.nameIn(name, sheetId) ?? this.nameIn(name, undefined);
  }

  /** The name of exactly this scope. */
  nameIn(name: string, sheetId: string | undefined): NameModel | undefined {
    if (this.indexed !== this.version) {
      this.indexed = this.version;
      this.byName.clear();
      for (const known of this.names) {
        const key = keyOf(known.name, known.sheetId);
        if (!this.byName.has(key)) this.byName.set(key, known);
      }
    }
    return this.byName.get(keyOf(name, sheetId));
  }

  addName(name: string, formula: string, sheetId: string | undefined, comment: string): NameModel {
    const model: NameModel = { id: `name-${this.nextName++}`, name, formula, sheetId, comment, visible: true };
    this.names.push(model);
    this.nameChanged(model);
    return model;
  }

  nameChanged(model: NameModel) {
    this.register.setName(model);
    this.touch();
  }

  /** What the names stand for, once something that they refer to has moved or changed its name. */
  rewriteNames(change: (name: NameModel) => string) {
    for (const name of this.names) {
      const changed = change(name);
      if (changed === name.formula) continue;
      name.formula = changed;
      this.nameChanged(name);
    }
  }

  removeName(model: NameModel) {
    this.names.splice(this.names.indexOf(model), 1);
    this.register.removeName(model);
    this.touch();
  }

  findTable(name: string): TableModel | undefined {
    const wanted = name.toLowerCase();
    return this.tables.find((table) => table.name.toLowerCase() === wanted);
  }

  tableAt({ sheetId, row, column }: Scope): TableModel | undefined {
    return this.tables.find((table) => table.sheetId === sheetId && contains(table.rect, row, column));
  }

  addTable(sheetId: string, rect: Rect, columnNames: readonly string[]): TableModel {
    while (this.findTable(`Table${this.nextTable}`)) this.nextTable++;
    const table: TableModel = {
      id: `{${crypto.randomUUID().toUpperCase()}}`,
      name: `Table${this.nextTable++}`,
      sheetId,
      rect,
      columns: columnNames.map((name, i) => ({ id: i + 1, name })),
      showTotals: false,
      style: "TableStyleMedium2",
      showBandedRows: true,
      showFilterButton: true,
      filter: new Map(),
    };
    this.tables.push(table);
    this.tableChanged(table);
    return table;
  }

  tableChanged(table: TableModel) {
    this.register.setTable(table);
    this.touch();
  }

  renameTable(table: TableModel, name: string) {
    this.register.removeTable(table.name);
    table.name = name;
    this.tableChanged(table);
  }

  removeTable(table: TableModel) {
    this.tables.splice(this.tables.indexOf(table), 1);
    this.register.removeTable(table.name);
    this.touch();
  }

  headers(table: TableShape): string[] {
    return (table as TableModel).columns.map(({ name }) => name);
  }

  sheetName(sheetId: string): string {
    return this.workbook.sheetName(sheetId);
  }

  sheetIdOf(name: string): string | undefined {
    return this.workbook.sheetIdOf(name);
  }

  sheetSize(sheetId: string) {
    return this.workbook.sheetSize(sheetId);
  }

  save(): SavedBook {
    return {
      names: this.names,
      tables: this.tables.map(({ filter: _, ...table }) => table),
      ...{ nextTable: this.nextTable, nextName: this.nextName },
    };
  }

  restore({ names, tables, nextTable, nextName }: SavedBook) {
    for (const name of names) {
      this.names.push(name);
      this.nameChanged(name);
    }
    for (const table of tables) {
      const restored = { ...table, filter: new Map() };
      this.tables.push(restored);
      this.tableChanged(restored);
    }
    Object.assign(this, { nextTable, nextName });
  }

  /** Names and tables follow cells that were inserted or deleted. */
  shift(sheetId: string, shift: Shift) {
    const sheetName = this.sheetName(sheetId);
    this.rewriteNames(({ formula, sheetId: own }) =>
      shiftFormula(formula, own === undefined ? "" : this.sheetName(own), sheetName, shift),
    );
    for (const table of this.tables.filter((known) => known.sheetId === sheetId)) this.shiftTable(table, shift);
  }

  private shiftTable(table: TableModel, shift: Shift) {
    const rect = shiftRect(table.rect, shift);
    if (!rect) {
      this.removeTable(table);
      return;
    }
    if (rect === table.rect) return;
    if (rect.columns !== table.rect.columns) shiftColumns(table, rect, shift);
    table.rect = rect;
    this.tableChanged(table);
  }

  renameSheet(from: string, to: string) {
    this.rewriteNames(({ formula }) => renameInFormula(formula, "sheet", from, to));
    this.touch();
  }

  /** A sheet that goes takes its own names and its tables with it. */
  removeSheet(sheetId: string) {
    for (const name of this.names.filter((known) => known.sheetId === sheetId)) this.removeName(name);
    for (const table of this.tables.filter((known) => known.sheetId === sheetId)) this.removeTable(table);
  }

  /** What else referred to a sheet that is gone. */
  forgetSheet(sheetId: string, sheetName: string) {
    this.removeSheet(sheetId);
    this.rewriteNames(({ formula }) => withoutSheet(formula, sheetName));
    this.touch();
  }

  /** A name as the engine's name manager now has it. */
  takeName(given: NameModel) {
    const known = this.names.find(({ id }) => id === given.id);
    if (known) Object.assign(known, given);
    else this.names.push(given);
    this.touch();
  }

  dropName(id: string) {
    const index = this.names.findIndex((name) => name.id === id);
    if (index >= 0) this.names.splice(index, 1);
    this.touch();
  }
}

function shiftColumns({ rect: before, columns }: TableModel, after: Rect, { area, direction }: Shift) {
  const at = Math.max(0, area.column - before.column);
  if (direction === "right") columns.splice(at, 0, ...newColumns(columns, after.columns - before.columns));
  else columns.splice(at, before.columns - after.columns);
}

/** Columns with names and numbers that the table does not have yet. */
export function newColumns(columns: readonly TableColumnModel[], count: number): TableColumnModel[] {
  const highest = Math.max(0, ...columns.map(({ id }) => id));
  const names = uniqueHeaders([...columns.map(({ name }) => name), ...Array<string>(count).fill("")]);
  return Array.from({ length: count }, (_, i) => ({ id: highest + i + 1, name: names[columns.length + i]! }));
}

/** Header texts as Excel keeps them: never blank, never twice. */
export function uniqueHeaders(texts: readonly string[]): string[] {
  const taken = new Set<string>();
  return texts.map((text, i) => {
    const base = text.trim() === "" ? `Column${i + 1}` : text;
    let name = base;
    for (let n = 2; taken.has(name.toLowerCase()); n++) name = `${base}${n}`;
    taken.add(name.toLowerCase());
    return name;
  });
}
