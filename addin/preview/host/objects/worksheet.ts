/** Worksheets and what belongs to a sheet as a whole. */
import { cellRect, endColumn, endRow, isWholeColumns, isWholeRows, type Rect } from "../a1";
import { accessDenied, invalidArgument, invalidOperation, itemAlreadyExists, itemNotFound } from "../errors";
import { renameInFormula } from "../formula";
import type { Model } from "../model";
import { ChartCollection } from "./chart";
import { AutoFilter } from "./filter";
import { NamedItemCollection } from "./named-item";
import { HostCollection, HostObject, NULL_OBJECT, type OrNull, ordinal } from "./object";
import { HorizontalPageBreaks, PageLayout } from "./page-layout";
import { Range, rangeAt } from "./range";
import { TableCollection } from "./table";

const LONGEST_SHEET_NAME = 31;

/** guess(locked-structure): what a protected structure refuses is refused with this code. */
function guardStructure(model: Model) {
  if (model.structure) throw accessDenied();
}

/** The rules for a sheet's name; "History" is reserved. */
function checkSheetName(model: Model, name: unknown, own?: string): string {
  if (typeof name !== "string" || name === "" || name.length > LONGEST_SHEET_NAME) throw invalidArgument();
  if (/[\\/?*[\]:]/.test(name) || name.startsWith("'") || name.endsWith("'")) throw invalidArgument();
  if (name.toLowerCase() === "history") throw invalidArgument();
  const taken = model.engine.sheetIdOf(name);
  if (taken !== undefined && taken !== own) throw itemAlreadyExists();
  return name;
}

export class WorksheetCollection extends HostCollection<Worksheet> {
  readonly typeName = "WorksheetCollection";

  _items(): Worksheet[] {
    return this.model.engine.sheetIds().map((sheetId) => new Worksheet(this.model, sheetId));
  }

  override _find(key: unknown): Worksheet | undefined {
    const { engine } = this.model;
    const sheetId = engine.sheetIds().find((id) => id === String(key)) ?? engine.sheetIdOf(String(key));
    return sheetId === undefined ? undefined : new Worksheet(this.model, sheetId);
  }

  override getCount(visibleOnly = false): number {
    const { engine } = this.model;
    return engine.sheetIds().filter((id) => !visibleOnly || !engine.isHidden(id)).length;
  }

  add(name?: unknown): Worksheet {
    guardStructure(this.model);
    const { engine } = this.model;
    let free = engine.sheetIds().length + 1;
    while (engine.sheetIdOf(`Sheet${free}`)) free++;
    const wanted = name === null || name === undefined || name === "" ? `Sheet${free}` : name;
    return new Worksheet(this.model, engine.addSheet(checkSheetName(this.model, wanted)));
  }

  getActiveWorksheet(): Worksheet {
    return new Worksheet(this.model, this.model.engine.active);
  }

  getFirst(visibleOnly = false): Worksheet {
    return this._nth(visibleOnly, 0);
  }

  override _call(name: string, args: unknown[]): unknown {
    return isEventRegistration(name, SHEET_EVENTS) ? undefined : super._call(name, args);
  }

  private _nth(visibleOnly: boolean, index: number): Worksheet {
    const { engine } = this.model;
    const sheetId = engine
      .sheetIds()
      .filter((id) => !visibleOnly || !engine.isHidden(id))
      .at(index);
    if (sheetId === undefined) throw itemNotFound();
    return new Worksheet(this.model, sheetId);
  }
}

/** The events that this host sends; `_Register…` of any other is refused. */
const SHEET_EVENTS = ["Activated", "Added", "Calculated", "DataChanged", "Deactivated", "Deleted", "SelectionChanged"];

export function isEventRegistration(method: string, events: readonly string[]): boolean {
  const match = /^_(?:Unr|R)egister(\w+)Event$/.exec(method);
  return match !== null && events.includes(match[1]!);
}

export class Worksheet extends HostObject {
  readonly typeName = "Worksheet";

  constructor(
    model: Model,
    private readonly sheetId: string,
  ) {
    super(model);
    this.key = sheetId;
  }

  _id(): string {
    if (!this.model.engine.hasSheet(this.sheetId)) throw itemNotFound();
    return this.sheetId;
  }

  get id(): string {
    return this._id();
  }

  get name(): string {
    return this.model.engine.sheetName(this._id());
  }

  set name(name: unknown) {
    guardStructure(this.model);
    const checked = checkSheetName(this.model, name, this._id());
    if (checked !== this.name) this.model.engine.renameSheet(this.sheetId, checked);
  }

  get position(): number {
    return this.model.engine.sheetIds().indexOf(this._id());
  }

  set position(position: unknown) {
    guardStructure(this.model);
    this.model.engine.moveSheet(this._id(), ordinal(position, this.model.engine.sheetIds().length - 1));
  }

  get visibility(): string {
    if (!this.model.engine.isHidden(this._id())) return "Visible";
    return this.model.sheet(this.sheetId).veryHidden ? "VeryHidden" : "Hidden";
  }

  set visibility(visibility: unknown) {
    guardStructure(this.model);
    if (!["Visible", "Hidden", "VeryHidden"].includes(String(visibility))) throw invalidArgument();
    const hidden = visibility !== "Visible";
    if (hidden) this._refuseIfLastVisible();
    this.model.engine.setHidden(this._id(), hidden);
    this.model.sheet(this.sheetId).veryHidden = visibility === "VeryHidden";
  }

  get showGridlines(): boolean {
    return this.model.engine.showsGridlines(this._id());
  }

  set showGridlines(shown: boolean) {
    if (typeof shown !== "boolean") throw invalidArgument();
    this.model.engine.showGridlines(this._id(), shown);
  }

  /** The wire's name for setting `showGridlines`. */
  set gridlines(shown: unknown) {
    this.showGridlines = shown as boolean;
  }

  get charts(): ChartCollection {
    return new ChartCollection(this.model, this._id());
  }

  get tables(): TableCollection {
    return new TableCollection(this.model, this._id());
  }

  get names(): NamedItemCollection {
    return new NamedItemCollection(this.model, this._id());
  }

  get protection(): WorksheetProtection {
    return new WorksheetProtection(this.model, this._id());
  }

  get autoFilter(): AutoFilter {
    return new AutoFilter(this.model, this._id());
  }

  get freezePanes(): WorksheetFreezePanes {
    return new WorksheetFreezePanes(this.model, this._id());
  }

  get pageLayout(): PageLayout {
    return new PageLayout(this.model, this._id());
  }

  get horizontalPageBreaks(): HorizontalPageBreaks {
    return new HorizontalPageBreaks(this.model, this._id());
  }

  getRange(address?: unknown): Range {
    if (address === undefined || address === null) return rangeAt(this.model, "", this._id());
    if (typeof address !== "string") throw invalidArgument();
    return rangeAt(this.model, address, this._id());
  }

  getCell(row: unknown, column: unknown): Range {
    return new Range(this.model, this._id(), cellRect(ordinal(row), ordinal(column)));
  }

  getRangeByIndexes(row: unknown, column: unknown, rows: unknown, columns: unknown): Range {
    const rect = { row: ordinal(row), column: ordinal(column), rows: ordinal(rows), columns: ordinal(columns) };
    return new Range(this.model, this._id(), rect);
  }

  getUsedRange(valuesOnly = false): Range {
    const used = this.getUsedRangeOrNullObject(valuesOnly);
    return used === NULL_OBJECT ? this.getRange().getCell(0, 0) : (used as Range);
  }

  getUsedRangeOrNullObject(valuesOnly = false): OrNull<Range> {
    return this.getRange().getUsedRangeOrNullObject(valuesOnly);
  }

  activate() {
    // guess(activate-hidden): a hidden sheet cannot be activated.
    if (this.model.engine.isHidden(this._id())) throw invalidOperation();
    this.model.engine.activate(this.sheetId);
  }

  calculate() {
    this.getUsedRange().calculate();
  }

  delete() {
    guardStructure(this.model);
    this._refuseIfLastVisible();
    // The documentation of Worksheet.delete; office-js#365.
    if (this.model.sheet(this._id()).veryHidden) throw invalidOperation();
    this.model.engine.removeSheet(this._id());
    this.model.changed();
  }

  copy(position: unknown = "None", relativeTo?: unknown): Worksheet {
    guardStructure(this.model);
    const { engine } = this.model;
    let n = 2;
    while (engine.sheetIdOf(`${this.name.slice(0, LONGEST_SHEET_NAME - 5)} (${n})`)) n++;
    const other = relativeTo instanceof Worksheet ? relativeTo.position : undefined;
    const places: Record<string, number | undefined> = {
      None: engine.sheetIds().length,
      End: engine.sheetIds().length,
      Beginning: 0,
      Before: other,
      After: other === undefined ? undefined : other + 1,
    };
    const index = places[String(position)];
    if (index === undefined) throw invalidArgument();
    const copyId = engine.addSheet(`${this.name.slice(0, LONGEST_SHEET_NAME - 5)} (${n})`, index);
    const copy = new Worksheet(this.model, copyId);
    this._copyCellsTo(copyId, (formula) => formula === "");
    const renamed = this._copyTablesTo(copyId);
    this._copyNamesTo(copy);
    // Formulas last: they use the copy's own tables and names.
    this._copyCellsTo(copyId, (formula) => formula !== "", renamed);
    return copy;
  }

  override _call(name: string, args: unknown[]): unknown {
    return isEventRegistration(name, SHEET_EVENTS) ? undefined : super._call(name, args);
  }

  /** guess(copied-sheet): the copy's tables are numbered on, and its formulas use them. */
  private _copyTablesTo(copyId: string): (formula: string) => string {
    const { book } = this.model.engine;
    const pairs = book.tables
      .filter((table) => table.sheetId === this.sheetId)
      .map((table) => {
        const copy = book.addTable(
          copyId,
          table.rect,
          table.columns.map(({ name }) => name),
        );
        const { showTotals, style, showBandedRows, showFilterButton } = table;
        Object.assign(copy, { showTotals, style, showBandedRows, showFilterButton });
        let n = 2;
        while (book.findTable(`${table.name}${n}`)) n++;
        book.renameTable(copy, `${table.name}${n}`);
        return [table.name, copy.name] as const;
      });
    return (formula) => pairs.reduce((now, [from, to]) => renameInFormula(now, "table", from, to), formula);
  }

  /** Names of the sheet, and those of the workbook that stand for its cells, become the copy's own. */
  private _copyNamesTo(copy: Worksheet) {
    const { book } = this.model.engine;
    for (const { name, formula, sheetId, comment } of [...book.names]) {
      const own = renameInFormula(formula, "sheet", this.name, copy.name);
      if (sheetId !== this.sheetId && (sheetId !== undefined || own === formula)) continue;
      if (!book.nameIn(name, copy._id())) book.addName(name, own, copy._id(), comment);
    }
  }

  private _copyCellsTo(
    copyId: string,
    isAsked: (formula: string) => boolean,
    renamed: (formula: string) => string = String,
  ) {
    const { engine } = this.model;
    engine.forEachKnown(this.sheetId, this.getRange()._rect(), (row, column) => {
      const formula = engine.formula(this.sheetId, row, column);
      if (!isAsked(formula ?? "")) return;
      const value = engine.value(this.sheetId, row, column);
      engine.write(copyId, row, column, formula ? { value: null, formula: renamed(formula) } : { value });
      engine.setStyle(copyId, cellRect(row, column), engine.style(this.sheetId, row, column));
    });
    const { rows, columns } = engine.sheetSize(this.sheetId);
    for (let column = 0; column < columns; column++) {
      engine.sizes.setColumnWidth(copyId, column, 1, engine.sizes.columnWidth(this.sheetId, column));
    }
    for (let row = 0; row < rows; row++) {
      const height = engine.sizes.rowHeight(this.sheetId, row);
      if (height !== engine.sizes.rowHeight(copyId, row)) engine.sizes.setRowHeight(copyId, row, 1, height);
    }
  }

  private _refuseIfLastVisible() {
    const { engine } = this.model;
    const others = engine.sheetIds().filter((id) => id !== this._id() && !engine.isHidden(id));
    if (others.length === 0) throw invalidOperation();
  }
}

const PROTECTION_OPTIONS = {
  allowAutoFilter: false,
  allowDeleteColumns: false,
  allowDeleteRows: false,
  allowEditObjects: false,
  allowEditScenarios: false,
  allowFormatCells: false,
  allowFormatColumns: false,
  allowFormatRows: false,
  allowInsertColumns: false,
  allowInsertHyperlinks: false,
  allowInsertRows: false,
  allowPivotTables: false,
  allowSort: false,
  selectionMode: "Normal",
};

export class WorksheetProtection extends HostObject {
  readonly typeName = "WorksheetProtection";

  constructor(
    model: Model,
    private readonly sheetId: string,
  ) {
    super(model);
  }

  get protected(): boolean {
    return this.model.sheet(this.sheetId).protection !== undefined;
  }

  get options(): unknown {
    return this.model.sheet(this.sheetId).protection?.options ?? null;
  }

  protect(options?: unknown, password?: unknown) {
    // Confirmed; guess(protect-twice): the code.
    if (this.protected) throw invalidOperation();
    const wanted = (options ?? {}) as Record<string, unknown>;
    for (const name of Object.keys(wanted)) if (!(name in PROTECTION_OPTIONS)) throw invalidArgument();
    const given = Object.fromEntries(
      Object.entries(wanted).filter(([, value]) => value !== null && value !== undefined),
    );
    this.model.sheet(this.sheetId).protection = {
      options: { ...PROTECTION_OPTIONS, ...given },
      password: typeof password === "string" && password !== "" ? password : undefined,
    };
  }

  unprotect(password?: unknown) {
    const known = this.model.sheet(this.sheetId).protection;
    if (!known) return;
    if (known.password !== undefined && known.password !== password) throw accessDenied();
    this.model.sheet(this.sheetId).protection = undefined;
  }
}

export class WorksheetFreezePanes extends HostObject {
  readonly typeName = "WorksheetFreezePanes";

  constructor(
    model: Model,
    private readonly sheetId: string,
  ) {
    super(model);
  }

  freezeAt(frozen: unknown) {
    const rect = this._rect(frozen);
    this._freeze(isWholeColumns(rect) ? 0 : endRow(rect) + 1, isWholeRows(rect) ? 0 : endColumn(rect) + 1);
  }

  freezeRows(count: unknown = 1) {
    this._freeze(ordinal(count), 0);
  }

  unfreeze() {
    this._freeze(0, 0);
  }

  getLocationOrNullObject(): OrNull<Range> {
    const { rows, columns } = this.model.engine.frozen(this.sheetId);
    if (rows === 0 && columns === 0) return NULL_OBJECT;
    const whole = rangeAt(this.model, "", this.sheetId)._rect();
    return new Range(this.model, this.sheetId, {
      ...whole,
      rows: rows || whole.rows,
      columns: columns || whole.columns,
    });
  }

  private _rect(frozen: unknown): Rect {
    if (frozen instanceof Range) return frozen._rect();
    if (typeof frozen !== "string") throw invalidArgument();
    return rangeAt(this.model, frozen, this.sheetId)._rect();
  }

  private _freeze(rows: number, columns: number) {
    this.model.engine.freeze(this.sheetId, { rows, columns });
    this.model.changed();
  }
}
