/**
 * The workbook engine: Univer behind the few verbs that an Excel host needs. The same for the browser, where Univer
 * draws the grid, and for Node, where it has no user interface.
 *
 * Writes are collected and reach Univer as one command a sheet (`flush`); whatever reads flushes first.
 */
import type {
  ICellData,
  ICommandService,
  IStyleData,
  IUndoRedoService,
  IWorkbookData,
  Nullable,
  Workbook,
  Worksheet,
} from "@univerjs/core";
import type { FUniver } from "@univerjs/core/facade";
import type { FormulaDataModel } from "@univerjs/engine-formula";
import {
  bounding,
  cellRect,
  contains,
  endColumn,
  endRow,
  intersection,
  isWholeColumns,
  isWholeRows,
  type Rect,
  rectBetween,
  SHEET_RECT,
  type Shift,
  shiftRect,
} from "./a1";
import { setBandStyle, setBlockStyle } from "./block-styles";
import { Calculation, type Trigger } from "./calculation";
import { calculateByColumn } from "./column-functions";
import { spillByColumn } from "./column-results";
import {
  allowTallSpills,
  correctValues,
  findFormulasQuickly,
  findHiddenRowsQuickly,
  keepSpillsInPlace,
} from "./corrections";
import { type CellValue, type Entry, enter, GENERAL, isCellError } from "./entry";
import { renameInFormula, shiftFormula, withoutSheet } from "./formula";
import { ErrorMessages } from "./functions";
import { gridWatch, type UniverName } from "./grid-watch";
import { DEFAULT_ROW_HEIGHT } from "./measure";
import type { UniverModules } from "./modules";
import { NameBook, type TableModel } from "./names";
import { contentRect, isEmpty, lineOf, type Matrix, PendingWrites } from "./pending";
import { shiftCells } from "./shift-cells";
import { DEFAULT_COLUMN_WIDTH, GROWTH, Sizes } from "./sizes";
import { SPILL_ERROR, Spills } from "./spills";
import { nameFrom, nameRegister } from "./univer-names";
import { UNIT, univerRange } from "./univer-range";

export type EngineEvent =
  | { readonly kind: "cells"; readonly sheetId: string; readonly rect: Rect; readonly byUser: boolean }
  | { readonly kind: "selection"; readonly sheetId: string; readonly rect: Rect }
  | { readonly kind: "activated"; readonly sheetId: string; readonly before: string }
  | { readonly kind: "calculated"; readonly sheetIds: readonly string[] }
  | { readonly kind: "sheetAdded" | "sheetDeleted" | "sheetRenamed"; readonly sheetId: string }
  | { readonly kind: "shift"; readonly sheetId: string; readonly shift: Shift };

export interface EngineOptions {
  /** Size of a new sheet; sheets grow when something is written past their end. */
  readonly rows?: number;
  readonly columns?: number;
  readonly firstSheet?: string;
  readonly messages?: ErrorMessages;
  /** What an engine gave away when its workbook was saved: nothing of it is calculated anew. */
  readonly saved?: SavedCells;
}

/** The cells, sheets and sizes of a workbook, as plain data. */
export interface SavedCells {
  readonly workbook: Partial<IWorkbookData>;
  readonly active: string;
  readonly setHeights: Sizes["saved"];
}

export interface FrozenPanes {
  readonly rows: number;
  readonly columns: number;
}

/** One formula may fill a long column: the page, which a calculation shares with the pane, is to hear clicks meanwhile. */
const FORMULAS_BETWEEN_PAUSES = 5;
/** Cells that are worth being given a style together. */
const LARGE_BLOCK = 200;

const isBlank = (cell: Nullable<ICellData>) =>
  !cell || ((cell.v === undefined || cell.v === null) && !cell.f && !cell.si);

const newSheetId = () => `{${crypto.randomUUID().toUpperCase()}}`;

export class Engine {
  readonly book: NameBook;
  readonly messages: ErrorMessages;
  readonly calculation: Calculation;
  readonly sizes: Sizes;
  private readonly workbook: Workbook;
  private readonly commands: ICommandService;
  private readonly undo: IUndoRedoService;
  private readonly formulas: FormulaDataModel;
  private readonly spills: Spills;
  private readonly listeners = new Set<(event: EngineEvent) => void>();
  private readonly pending = new Map<string, PendingWrites>();
  private readonly selections = new Map<string, Rect>();
  private readonly rows: number;
  private readonly columns: number;
  private readonly names = new Map<string, string>();
  /** Above 0 while the engine changes something itself, and not the user. */
  private ours = 0;
  private activeId: string;
  /** Sheets that were added or unhidden and that the grid has not shown by itself yet. */
  private readonly unasked = new Set<string>();

  constructor(
    private readonly modules: UniverModules,
    readonly api: FUniver,
    { rows = 500, columns = 40, firstSheet = "Sheet1", messages = new ErrorMessages(), saved }: EngineOptions = {},
  ) {
    this.rows = rows;
    this.columns = columns;
    this.messages = messages;
    this.activeId = saved?.active ?? newSheetId();
    const facade = api.createWorkbook(
      saved?.workbook ?? {
        id: UNIT,
        name: "Book1",
        sheetOrder: [this.activeId],
        sheets: { [this.activeId]: this.blankSheet(this.activeId, firstSheet) },
      },
    );
    this.workbook = facade.getWorkbook();
    const injector = facade.getSheets()[0]!.getInject();
    this.commands = injector.get(modules.ICommandService);
    this.undo = injector.get(modules.IUndoRedoService);
    this.formulas = injector.get(modules.FormulaDataModel);
    this.sizes = new Sizes(modules, {
      run: (id, params) => this.run(id, params),
      sheet: (sheetId) => this.sheet(sheetId),
      hasSheet: (sheetId) => this.hasSheet(sheetId),
      onSheet: (sheetId, rect) => this.onSheet(sheetId, rect),
      ensureSize: (sheetId, rect) => this.ensureSize(sheetId, rect),
      forEachKnown: (sheetId, rect, visit) => this.forEachKnown(sheetId, rect, visit),
      hasStyle: (sheetId, row, column) => Boolean(this.cell(sheetId, row, column)?.s),
      style: (sheetId, row, column) => this.style(sheetId, row, column),
      text: (sheetId, row, column) => this.text(sheetId, row, column),
    });
    this.book = new NameBook(
      this,
      nameRegister(modules, (id, params) => this.run(id, params)),
    );
    this.spills = new Spills(this.formulas, {
      shows: (sheetId, row, column) => this.cell(sheetId, row, column)?.v,
      isInTable: (sheetId, row, column) => this.book.tableAt({ sheetId, row, column }) !== undefined,
    });
    const services = {
      commands: this.commands,
      formulas: this.formulas,
      config: injector.get(modules.IFormulaCurrentConfigService),
      trigger: injector.get(modules.TriggerCalculationController) as unknown as Trigger,
    };
    const config = injector.get(modules.IConfigService);
    const pauses = { intervalCount: FORMULAS_BETWEEN_PAUSES };
    config.setConfig(modules.ENGINE_FORMULA_PLUGIN_CONFIG_KEY, pauses, { merge: true });
    correctValues(modules);
    const runtime = injector.get(modules.IFormulaRuntimeService);
    allowTallSpills(runtime);
    spillByColumn(modules, runtime);
    keepSpillsInPlace(this.formulas);
    findFormulasQuickly(this.formulas, this.workbook);
    findHiddenRowsQuickly(this.formulas, this.workbook);
    calculateByColumn(modules, injector.get(modules.IFunctionService));
    this.calculation = new Calculation(modules, UNIT, services, this.book);
    this.workbook.setActiveSheet(this.workbook.getSheetBySheetId(this.activeId)!);
    for (const sheetId of this.sheetIds()) this.names.set(sheetId, this.sheetName(sheetId));
    if (saved) this.sizes.saved = saved.setHeights;
    const watch = gridWatch(modules, UNIT, this.gridListener());
    this.commands.onCommandExecuted((command, options) => {
      if (!options?.fromFormula) watch(command.id, command.params);
    });
  }

  listen(listener: (event: EngineEvent) => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Writes what is pending and waits until everything is calculated. */
  async settle(): Promise<void> {
    this.flush();
    this.sizes.flush();
    await this.calculation.settle();
  }

  get stale(): boolean {
    return this.pending.size > 0 || this.calculation.stale;
  }

  /** The workbook as plain data, once nothing is pending. */
  save(): SavedCells {
    return { workbook: this.workbook.getSnapshot(), active: this.activeId, setHeights: this.sizes.saved };
  }

  // Sheets

  sheetIds(): readonly string[] {
    return this.workbook.getSheetOrders();
  }

  hasSheet(sheetId: string): boolean {
    return this.workbook.getSheetBySheetId(sheetId) !== null && this.workbook.getSheetBySheetId(sheetId) !== undefined;
  }

  sheetName(sheetId: string): string {
    return this.workbook.getSheetBySheetId(sheetId)?.getName() ?? "#REF";
  }

  sheetIdOf(name: string): string | undefined {
    const wanted = name.toLowerCase();
    return this.sheetIds().find((id) => this.sheetName(id).toLowerCase() === wanted);
  }

  sheetSize(sheetId: string) {
    const sheet = this.sheet(sheetId);
    return { rows: sheet.getRowCount(), columns: sheet.getColumnCount() };
  }

  addSheet(name: string, index = this.sheetIds().length): string {
    const sheetId = newSheetId();
    this.unasked.add(sheetId);
    this.run(this.modules.InsertSheetMutation.id, { unitId: UNIT, index, sheet: this.blankSheet(sheetId, name) });
    this.book.touch();
    return sheetId;
  }

  removeSheet(sheetId: string) {
    this.flush();
    const name = this.sheetName(sheetId);
    if (this.activeId === sheetId) {
      const visible = this.sheetIds().filter((id) => id !== sheetId && !this.isHidden(id));
      const index = this.sheetIds().indexOf(sheetId);
      this.activate(visible.find((id) => this.sheetIds().indexOf(id) > index) ?? visible.at(-1)!);
    }
    this.book.removeSheet(sheetId);
    this.run(this.modules.RemoveSheetMutation.id, { unitId: UNIT, subUnitId: sheetId, subUnitName: name });
    this.rewriteFormulas((formula) => withoutSheet(formula, name));
  }

  renameSheet(sheetId: string, name: string) {
    this.flush();
    const before = this.sheetName(sheetId);
    this.run(this.modules.SetWorksheetNameMutation.id, { unitId: UNIT, subUnitId: sheetId, name });
    this.rewriteFormulas((formula) => renameInFormula(formula, "sheet", before, name));
  }

  moveSheet(sheetId: string, toOrder: number) {
    const fromOrder = this.sheetIds().indexOf(sheetId);
    this.run(this.modules.SetWorksheetOrderMutation.id, { unitId: UNIT, subUnitId: sheetId, fromOrder, toOrder });
  }

  isHidden(sheetId: string): boolean {
    return this.sheet(sheetId).isSheetHidden() === this.modules.BooleanNumber.TRUE;
  }

  setHidden(sheetId: string, hidden: boolean) {
    if (!hidden && this.isHidden(sheetId)) this.unasked.add(sheetId);
    this.run(this.modules.SetWorksheetHideMutation.id, { unitId: UNIT, subUnitId: sheetId, hidden: Number(hidden) });
    if (hidden && this.activeId === sheetId) this.activate(this.sheetIds().find((id) => !this.isHidden(id))!);
  }

  showsGridlines(sheetId: string): boolean {
    return this.sheet(sheetId).getConfig().showGridlines !== this.modules.BooleanNumber.FALSE;
  }

  showGridlines(sheetId: string, shown: boolean) {
    this.run(this.modules.ToggleGridlinesMutation.id, {
      unitId: UNIT,
      subUnitId: sheetId,
      showGridlines: Number(shown),
    });
  }

  frozen(sheetId: string): FrozenPanes {
    const { xSplit = 0, ySplit = 0 } = this.sheet(sheetId).getConfig().freeze ?? {};
    return { rows: ySplit, columns: xSplit };
  }

  freeze(sheetId: string, { rows, columns }: FrozenPanes) {
    this.run(this.modules.SetFrozenMutation.id, {
      unitId: UNIT,
      subUnitId: sheetId,
      ySplit: rows,
      xSplit: columns,
      startRow: rows > 0 ? rows : -1,
      startColumn: columns > 0 ? columns : -1,
    });
  }

  get active(): string {
    return this.activeId;
  }

  activate(sheetId: string) {
    this.run(this.modules.SetWorksheetActiveOperation.id, { unitId: UNIT, subUnitId: sheetId });
  }

  selection(sheetId: string): Rect {
    return this.selections.get(sheetId) ?? cellRect(0, 0);
  }

  select(sheetId: string, rect: Rect) {
    this.ensureSize(sheetId, rect);
    if (this.activeId !== sheetId) this.activate(sheetId);
    const range = univerRange(this.onSheet(sheetId, rect));
    const primary = { actualRow: rect.row, actualColumn: rect.column, isMerged: false, isMergedMainCell: false };
    this.run(this.modules.SetSelectionsOperation.id, {
      unitId: UNIT,
      subUnitId: sheetId,
      selections: [
        {
          range,
          primary: { ...primary, ...univerRange(cellRect(rect.row, rect.column)) },
          style: null,
        },
      ],
    });
    this.selections.set(sheetId, rect);
  }

  // Cells

  value(sheetId: string, row: number, column: number): CellValue | null {
    return this.valueReader(sheetId)(row, column);
  }

  /** Reads the values of one sheet's cells for as long as nothing is written: what all need is looked up once. */
  valueReader(sheetId: string): (row: number, column: number) => CellValue | null {
    this.flush();
    const cells = this.sheet(sheetId).getCellMatrix();
    const spills = this.spills.on(sheetId);
    const spilled = this.formulas.getArrayFormulaCellData()?.[UNIT]?.[sheetId];
    const { BOOLEAN } = this.modules.CellValueType;
    return (row, column) => {
      const own: ICellData | undefined = cells.getValue(row, column) ?? undefined;
      if (own?.f && this.spills.isInTable(sheetId, row, column)) return SPILL_ERROR;
      const isSpilled = isBlank(own) && spills.some((rect) => contains(rect, row, column));
      const shown = isSpilled ? (spilled?.[row]?.[column] as ICellData | undefined) : own;
      if (!shown || shown.v === undefined || shown.v === null) return null;
      if (shown.t === BOOLEAN) return shown.v === 1 || shown.v === true || shown.v === "TRUE";
      return shown.v;
    };
  }

  formula(sheetId: string, row: number, column: number): string | undefined {
    this.flush();
    return this.calculation.formulaAt(sheetId, row, column);
  }

  numberFormat(sheetId: string, row: number, column: number): string {
    return this.style(sheetId, row, column).n?.pattern ?? GENERAL;
  }

  /** The text a cell shows, by its number format. */
  text(sheetId: string, row: number, column: number): string {
    const value = this.value(sheetId, row, column);
    if (value === null) return "";
    if (typeof value === "boolean") return String(value).toUpperCase();
    if (isCellError(value)) return String(value);
    return this.modules.numfmt.format(this.numberFormat(sheetId, row, column), value, { throws: false });
  }

  style(sheetId: string, row: number, column: number): IStyleData {
    this.flush();
    return this.composedStyle(sheetId, row, column);
  }

  /** What else the host keeps with a cell, and moves with it: whether it is locked. */
  custom(sheetId: string, row: number, column: number): Record<string, unknown> {
    this.flush();
    return this.cell(sheetId, row, column)?.custom ?? {};
  }

  setCustom(sheetId: string, row: number, column: number, custom: Record<string, unknown>) {
    const known = this.custom(sheetId, row, column);
    this.pendingAt(sheetId, row, column).cell(row, column).custom = { ...known, ...custom };
  }

  /** Enters what was written, as typing it would; undefined leaves the cell as it is. */
  enter(sheetId: string, row: number, column: number, written: unknown) {
    const isBlank = written === null || written === undefined || written === "";
    const format = isBlank ? GENERAL : this.pendingFormat(sheetId, row, column);
    const entry = enter(written, format, this.modules.numfmt);
    if (entry) this.write(sheetId, row, column, entry);
  }

  write(sheetId: string, row: number, column: number, { value, formula, numberFormat }: Entry) {
    this.messages.clear(sheetId, row, column);
    const { STRING, NUMBER, BOOLEAN } = this.modules.CellValueType;
    const types = { string: STRING, number: NUMBER, boolean: BOOLEAN };
    this.pendingAt(sheetId, row, column).setContent(row, column, {
      v: typeof value === "boolean" ? Number(value) : value,
      t: value === null ? null : types[typeof value as keyof typeof types],
      f: formula ?? null,
      si: null,
      p: null,
    });
    if (numberFormat) this.setStyle(sheetId, cellRect(row, column), { n: { pattern: numberFormat } });
  }

  /** Adds to the styles of a block; for whole rows and columns, to those of the rows and columns themselves. */
  setStyle(sheetId: string, rect: Rect, style: IStyleData) {
    const whole = isWholeRows(rect) || isWholeColumns(rect);
    if (whole) setBandStyle(this.sheet(sheetId), rect, this.onSheet(sheetId, rect), style);
    else this.ensureSize(sheetId, rect);
    const block = this.onSheet(sheetId, rect);
    const isLarge = !whole && block.rows * block.columns >= LARGE_BLOCK;
    if (isLarge && this.pendingAt(sheetId, endRow(block), endColumn(block)).addBlock(block, style)) return;
    for (let row = block.row; row <= endRow(block); row++) {
      for (let column = block.column; column <= endColumn(block); column++) {
        if (whole && !this.hasOwnStyle(sheetId, row, column)) continue;
        this.pendingAt(sheetId, row, column).addStyle(row, column, style);
      }
    }
  }

  /** Removes the formats of a block, leaving its contents. */
  clearStyle(sheetId: string, rect: Rect) {
    this.flush();
    const cells: Matrix = {};
    this.forEachKnown(sheetId, rect, (row, column) => {
      lineOf(cells, row)[column] = { s: null, custom: null };
    });
    if (!isEmpty(cells)) this.setRangeValues(sheetId, cells, true);
  }

  /** Calls back for each cell of a block that holds something or has a style. */
  forEachKnown(sheetId: string, rect: Rect, visit: (row: number, column: number) => void) {
    this.flush();
    const block = this.onSheet(sheetId, rect);
    const matrix = this.sheet(sheetId).getCellMatrix();
    for (let row = block.row; row <= endRow(block); row++) {
      if (!matrix.getRow(row)) continue;
      for (let column = block.column; column <= endColumn(block); column++) {
        if (matrix.getValue(row, column)) visit(row, column);
      }
    }
  }

  /** The block that holds every cell of another with content (or also with a style); undefined if there is none. */
  usedRect(sheetId: string, valuesOnly: boolean, within: Rect = SHEET_RECT): Rect | undefined {
    this.flush();
    let used: Rect | undefined;
    const grow = (rect: Rect) => {
      const inside = intersection(within, rect);
      if (inside) used = used ? bounding(used, inside) : inside;
    };
    const counts = (cell: Nullable<ICellData>) => !isBlank(cell) || (!valuesOnly && Boolean(cell?.s));
    const matrix = this.sheet(sheetId).getCellMatrix().getMatrix();
    // Only what is there is looked at, in ascending order: most of a sheet is empty.
    for (const rowKey in matrix) {
      const row = Number(rowKey);
      if (row < within.row || row > endRow(within)) continue;
      const line = matrix[row]!;
      let [first, last] = [Number.POSITIVE_INFINITY, -1];
      for (const columnKey in line) {
        const column = Number(columnKey);
        if (column < within.column || column > endColumn(within) || !counts(line[column])) continue;
        first = Math.min(first, column);
        last = column;
      }
      if (first <= last) grow(rectBetween(row, first, row, last));
    }
    for (const rect of this.spills.on(sheetId)) grow(rect);
    return used;
  }

  /** The block a formula in this cell fills, if it fills more than the cell. */
  spillOf(sheetId: string, row: number, column: number): Rect | undefined {
    this.flush();
    return this.spills.of(sheetId, row, column);
  }

  /** The cell whose formula fills this one. */
  spillParent(sheetId: string, row: number, column: number): Rect | undefined {
    this.flush();
    const spill = this.spills.on(sheetId).find((rect) => contains(rect, row, column));
    return spill && cellRect(spill.row, spill.column);
  }

  // Inserting and deleting cells

  /** Moves cells to make or take room; formulas, names and tables follow. */
  shift(sheetId: string, shift: Shift) {
    this.flush();
    this.sizes.flush();
    const merges = this.merges(sheetId);
    const sheet = {
      id: sheetId,
      size: this.sheetSize(sheetId),
      used: () => this.usedRect(sheetId, false),
      run: (command: string, params: object) => this.run(command, params),
      ensureSize: (rect: Rect) => this.ensureSize(sheetId, rect),
      setValues: (cells: Matrix) => this.setRangeValues(sheetId, cells, false),
      movable: (row: number, column: number) => this.movableCell(sheetId, row, column),
    };
    shiftCells(this.modules, sheet, shift);
    if (merges.length > 0) {
      this.unmerge(sheetId, this.merges(sheetId));
      this.merge(
        sheetId,
        merges.flatMap((rect) => shiftRect(rect, shift) ?? []),
      );
    }
    // Tables first: else what is written to cells may be taken for the headers that stood there before.
    this.book.shift(sheetId, shift);
    const sheetName = this.sheetName(sheetId);
    this.rewriteFormulas((formula, own) => shiftFormula(formula, this.sheetName(own), sheetName, shift));
    this.emit({ kind: "shift", sheetId, shift });
  }

  // Merged cells

  merges(sheetId: string): Rect[] {
    return this.sheet(sheetId)
      .getMergeData()
      .map(({ startRow, startColumn, endRow, endColumn }) => rectBetween(startRow, startColumn, endRow, endColumn));
  }

  merge(sheetId: string, rects: readonly Rect[]) {
    for (const rect of rects) this.ensureSize(sheetId, rect);
    const ranges = rects.map(univerRange);
    this.run(this.modules.AddWorksheetMergeMutation.id, { unitId: UNIT, subUnitId: sheetId, ranges });
  }

  unmerge(sheetId: string, rects: readonly Rect[]) {
    const ranges = rects.map(univerRange);
    this.run(this.modules.RemoveWorksheetMergeMutation.id, { unitId: UNIT, subUnitId: sheetId, ranges });
  }

  // Pending writes

  flush() {
    if (this.pending.size === 0) return;
    const all = [...this.pending];
    this.pending.clear();
    for (const [sheetId, writes] of all) {
      if (!this.hasSheet(sheetId)) continue;
      const { contents, styles } = writes.matrices();
      for (const row of writes.rowsThatMayGrow()) this.sizes.mayGrow(sheetId, row);
      const setStyles = (cells: Matrix) => this.setRangeValues(sheetId, cells, true);
      for (const block of writes.blocks) setBlockStyle(this.sheet(sheetId), block, writes, styles, setStyles);
      if (!isEmpty(styles)) this.setRangeValues(sheetId, styles, true);
      if (!isEmpty(contents)) this.setRangeValues(sheetId, contents, false);
      if (writes.content) this.cellsChanged(sheetId, writes.content, false);
    }
    // What the user could undo before may no longer fit.
    this.undo.clearUndoRedo(UNIT);
  }

  /** Rewrites every formula that the change affects. */
  rewriteFormulas(change: (formula: string, sheetId: string) => string) {
    for (const { sheetId, row, column, text } of this.calculation.formulas()) {
      const changed = change(text, sheetId);
      if (changed !== text) this.write(sheetId, row, column, { value: null, formula: changed });
    }
    this.flush();
  }

  private run(id: string, params: object) {
    this.ours++;
    let done = false;
    try {
      done = this.commands.syncExecuteCommand(id, params);
    } finally {
      this.ours--;
    }
    if (!done) throw new Error(`The spreadsheet engine refused ${id}.`);
  }

  private sheet(sheetId: string): Worksheet {
    const sheet = this.workbook.getSheetBySheetId(sheetId);
    if (!sheet) throw new Error(`No sheet ${sheetId}.`);
    return sheet;
  }

  private blankSheet(id: string, name: string) {
    return this.modules.mergeWorksheetSnapshotWithDefault({
      id,
      name,
      rowCount: this.rows,
      columnCount: this.columns,
      defaultColumnWidth: DEFAULT_COLUMN_WIDTH,
      defaultRowHeight: DEFAULT_ROW_HEIGHT,
      cellData: {},
    });
  }

  private cell(sheetId: string, row: number, column: number): ICellData | undefined {
    return this.sheet(sheetId).getCellMatrix().getValue(row, column) ?? undefined;
  }

  private onSheet(sheetId: string, rect: Rect): Rect {
    return intersection(rect, { row: 0, column: 0, ...this.sheetSize(sheetId) }) ?? { ...rect, rows: 0, columns: 0 };
  }

  private ensureSize(sheetId: string, rect: Rect) {
    const { rows, columns } = this.sheetSize(sheetId);
    const subUnitId = sheetId;
    if (!isWholeColumns(rect) && endRow(rect) >= rows) {
      this.run(this.modules.SetWorksheetRowCountMutation.id, {
        unitId: UNIT,
        subUnitId,
        rowCount: endRow(rect) + 1 + GROWTH,
      });
      this.book.touch();
    }
    if (!isWholeRows(rect) && endColumn(rect) >= columns) {
      this.run(this.modules.SetWorksheetColumnCountMutation.id, {
        unitId: UNIT,
        subUnitId,
        columnCount: endColumn(rect) + 1,
      });
      this.book.touch();
    }
  }

  private pendingAt(sheetId: string, row: number, column: number): PendingWrites {
    let writes = this.pending.get(sheetId);
    if (!writes) {
      writes = new PendingWrites();
      this.pending.set(sheetId, writes);
    }
    this.ensureSize(sheetId, cellRect(row, column));
    return writes;
  }

  /** As it is kept; the engine's shorter way would first work out what the cell shows. */
  private composedStyle(sheetId: string, row: number, column: number): IStyleData {
    const cell = this.cell(sheetId, row, column);
    return this.sheet(sheetId).getComposedCellStyleByCellData(row, column, cell) ?? {};
  }

  private hasOwnStyle(sheetId: string, row: number, column: number): boolean {
    return Boolean(this.cell(sheetId, row, column)?.s ?? this.pending.get(sheetId)?.find(row, column)?.s);
  }

  /** A cell's number format, also if it is not flushed yet. */
  private pendingFormat(sheetId: string, row: number, column: number): string {
    const pending = this.pending.get(sheetId)?.find(row, column)?.s as IStyleData | undefined;
    const { n } = pending && "n" in pending ? pending : this.composedStyle(sheetId, row, column);
    return n?.pattern ?? GENERAL;
  }

  private setRangeValues(sheetId: string, cellValue: Matrix, styleOnly: boolean) {
    const trigger = styleOnly ? { trigger: this.modules.SetStyleCommand.id } : {};
    this.run(this.modules.SetRangeValuesMutation.id, { unitId: UNIT, subUnitId: sheetId, cellValue, ...trigger });
  }

  /** A cell with its formula spelled out, so that it can stand elsewhere. */
  private movableCell(sheetId: string, row: number, column: number): ICellData | undefined {
    const cell = this.cell(sheetId, row, column);
    if (!cell) return undefined;
    const { si: _shared, ...rest } = cell;
    const f = this.calculation.formulaAt(sheetId, row, column);
    const s = cell.s ? (this.workbook.getStyles().getStyleByCell(cell) ?? undefined) : undefined;
    return structuredClone({ ...rest, ...(f ? { f } : {}), ...(s ? { s } : {}) });
  }

  private followShift(sheetId: string, shift: Shift) {
    this.book.shift(sheetId, shift);
    this.emit({ kind: "shift", sheetId, shift });
  }

  private cellsChanged(sheetId: string, rect: Rect, byUser: boolean) {
    for (const table of this.book.tables) {
      const header = { ...table.rect, rows: 1 };
      if (table.sheetId === sheetId && intersection(header, rect)) this.readHeaders(table);
    }
    this.emit({ kind: "cells", sheetId, rect, byUser });
  }

  /** The header cells say what a table's columns are called. */
  private readHeaders(table: TableModel) {
    let changed = false;
    table.columns.forEach((column, i) => {
      const value = this.value(table.sheetId, table.rect.row, table.rect.column + i);
      if (value === null || String(value) === column.name) return;
      column.name = String(value);
      changed = true;
    });
    if (changed) this.book.tableChanged(table);
  }

  private emit(event: EngineEvent) {
    for (const listener of this.listeners) listener(event);
  }

  /** Follows what is done in the grid. What the engine does itself it follows where it does it. */
  private gridListener() {
    const byUser =
      <Args extends unknown[]>(follow: (...args: Args) => void) =>
      (...args: Args) => {
        if (this.ours > 0) return;
        follow(...args);
        this.settleSoon();
      };
    return {
      activated: (sheetId: string) => {
        const before = this.activeId;
        // The grid shows such a sheet a moment later; Excel doesn't (documentation of WorksheetCollection.add).
        if (this.unasked.delete(sheetId) && this.ours === 0 && before !== sheetId) {
          this.activate(before);
          return;
        }
        this.activeId = sheetId;
        if (before !== sheetId) this.emit({ kind: "activated", sheetId, before });
      },
      selected: (sheetId: string, rect: Rect) => {
        this.selections.set(sheetId, rect);
        this.emit({ kind: "selection", sheetId, rect });
      },
      calculated: (sheetIds: readonly string[]) => {
        const known = sheetIds.filter((sheetId) => this.hasSheet(sheetId));
        if (known.length === 0) return;
        this.flush();
        for (const sheetId of known) for (const rect of this.spills.on(sheetId)) this.ensureSize(sheetId, rect);
        this.emit({ kind: "calculated", sheetIds: known });
      },
      sheetAdded: (sheetId: string) => {
        this.names.set(sheetId, this.sheetName(sheetId));
        this.book.touch();
        this.emit({ kind: "sheetAdded", sheetId });
      },
      sheetRemoved: (sheetId: string) => {
        this.book.forgetSheet(sheetId, this.names.get(sheetId)!);
        this.names.delete(sheetId);
        this.selections.delete(sheetId);
        this.emit({ kind: "sheetDeleted", sheetId });
      },
      sheetRenamed: (sheetId: string) => {
        this.book.renameSheet(this.names.get(sheetId)!, this.sheetName(sheetId));
        this.names.set(sheetId, this.sheetName(sheetId));
        this.emit({ kind: "sheetRenamed", sheetId });
      },
      shifted: byUser((sheetId: string, shift: Shift) => this.followShift(sheetId, shift)),
      edited: byUser((sheetId: string, cells: Matrix) => {
        const rect = contentRect(cells);
        if (rect) this.cellsChanged(sheetId, rect, true);
      }),
      nameSet: byUser((name: UniverName) => this.book.takeName(nameFrom(name))),
      nameRemoved: byUser((id: string) => this.book.dropName(id)),
    };
  }

  /** The user's change may have given names or tables another meaning. */
  private settleSoon() {
    setTimeout(() => {
      if (this.stale) void this.settle();
    }, 0);
  }
}
