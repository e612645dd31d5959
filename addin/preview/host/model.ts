/** The workbook as the host holds it: the engine's cells, and beside them what the engine does not model. */
import { intersection, type Rect, sameRect, shiftRect } from "./a1";
import { type Conditions, noConditions } from "./conditions";
import type { Engine, EngineEvent } from "./engine";
import { bodyRect } from "./formula";
import { ENGLISH, type Separators } from "./local";
import type { TableModel } from "./names";
import type { Settings } from "./objects/record";

/** A corner of a chart: a cell and how far into it, in pixels. */
export interface Anchor {
  row: number;
  column: number;
  x: number;
  y: number;
}

/** A block of cells on a sheet. */
export interface SheetRect {
  readonly sheetId: string;
  readonly rect: Rect;
}

export interface SeriesData {
  name: string | undefined;
  nameCell: SheetRect | undefined;
  values: SheetRect | undefined;
  categories: SheetRect | undefined;
  /** What formats and options were set. */
  readonly settings: Settings;
}

export interface ChartData {
  readonly id: string;
  name: string;
  type: string;
  from: Anchor;
  to: Anchor;
  readonly series: SeriesData[];
  readonly settings: Settings;
}

export interface ValidationData {
  rect: Rect;
  readonly settings: Settings;
}

export interface ConditionalFormatData {
  readonly id: string;
  readonly type: string;
  rects: Rect[];
  readonly settings: Settings;
}

export interface ProtectionData {
  readonly options: Readonly<Record<string, unknown>>;
  readonly password: string | undefined;
}

export interface PageData {
  printArea: Rect | undefined;
  titleRows: Rect | undefined;
  titleColumns: Rect | undefined;
  /** Rows that begin a printed page. */
  rowBreaks?: number[];
  readonly settings: Settings;
}

/** What a filter asks of a column. */
export interface FilterCriteria {
  readonly filterOn: string;
  readonly values?: readonly string[];
  readonly criterion1?: string;
}

/** The filter of a sheet: its cells with their headings, and what is asked, by column from 0. */
interface FilterData {
  rect: Rect;
  readonly criteria: Map<number, FilterCriteria>;
}

export interface SheetData {
  filter: FilterData | undefined;
  readonly charts: ChartData[];
  validations: ValidationData[];
  conditionalFormats: ConditionalFormatData[];
  protection: ProtectionData | undefined;
  readonly page: PageData;
  veryHidden: boolean;
}

const newSheetData = (): SheetData => ({
  filter: undefined,
  charts: [],
  validations: [],
  conditionalFormats: [],
  protection: undefined,
  page: { printArea: undefined, titleRows: undefined, titleColumns: undefined, settings: {} },
  veryHidden: false,
});

export interface SavedModel {
  readonly settings: readonly (readonly [key: string, value: unknown])[];
  readonly sheets: readonly (readonly [sheetId: string, data: SheetData])[];
}

/** What may change a chart: a typed value that no formula depends on, too. */
const SHOWN_BY_CHARTS: readonly EngineEvent["kind"][] = ["cells", "calculated", "shift", "sheetDeleted"];

export class Model {
  readonly settings = new Map<string, unknown>();
  /** Whether the sheets themselves are locked: none may come, go, move or change its name. */
  structure: { readonly password: string | undefined } | undefined;
  /** Whether the workbook is open for reading only; this host says so, and refuses nothing because of it. */
  readOnly = false;
  readonly conditions: Conditions = noConditions();
  /** In which notation cells are shown and typed. */
  separators: Separators = ENGLISH;
  /**
   * Blocks that the add-in holds on to between batches. guess(tracked-cell): they move with their cells, for the client's
   * documentation has a tracked object adjusted to changes around it.
   */
  readonly tracked = new Map<string, { sheetId: string; rect: Rect | undefined }>();
  private nextReference = 1;
  private readonly sheets = new Map<string, SheetData>();
  private readonly listeners = new Set<() => void>();
  /** Workbooks that the add-in made and has not opened yet. */
  readonly created = new Map<string, Uint8Array>();
  private readonly openers = new Set<(file: Uint8Array) => void>();

  constructor(readonly engine: Engine) {
    engine.listen((event) => {
      if (event.kind === "shift") this.followShift(event.sheetId, (rect) => shiftRect(rect, event.shift));
      if (event.kind === "sheetDeleted") this.sheets.delete(event.sheetId);
      if (SHOWN_BY_CHARTS.includes(event.kind)) this.changed();
    });
  }

  /** What is beside the cells, as plain data. */
  save(): SavedModel {
    const sheets = [...this.sheets];
    const filters = [
      ...sheets.map(([, { filter }]) => filter),
      ...this.engine.book.tables.map(({ filter }) => filter.size),
    ];
    if (filters.some(Boolean)) throw new Error("A workbook with a filter can't be saved.");
    return { settings: [...this.settings], sheets };
  }

  restore({ settings, sheets }: SavedModel) {
    for (const [key, value] of settings) this.settings.set(key, value);
    for (const [sheetId, data] of sheets) this.sheets.set(sheetId, data);
  }

  track(place: { sheetId: string; rect: Rect | undefined }): string {
    const referenceId = String(this.nextReference++);
    this.tracked.set(referenceId, place);
    return referenceId;
  }

  sheet(sheetId: string): SheetData {
    let data = this.sheets.get(sheetId);
    if (!data) {
      data = newSheetData();
      this.sheets.set(sheetId, data);
    }
    return data;
  }

  /** Calls back when charts, page setup or the like may look different now. */
  onChange(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Calls back with the file of a workbook that is opened beside this one. */
  onOpen(listener: (file: Uint8Array) => void): () => void {
    this.openers.add(listener);
    return () => this.openers.delete(listener);
  }

  open(id: string) {
    const file = this.created.get(id);
    this.created.delete(id);
    if (file) for (const listener of this.openers) listener(file);
  }

  changed() {
    for (const listener of this.listeners) listener();
  }

  /** A table's new block: charts of whole columns of its body grow with it. */
  resizeTable(table: TableModel, rect: Rect) {
    const before = bodyRect(table);
    table.rect = rect;
    const after = bodyRect(table);
    this.engine.book.tableChanged(table);
    const follow = (reference: SheetRect | undefined): SheetRect | undefined => {
      if (!reference || reference.sheetId !== table.sheetId) return reference;
      const column = { ...before, column: reference.rect.column, columns: reference.rect.columns };
      const isColumn = intersection(before, reference.rect) && sameRect(column, reference.rect);
      return isColumn ? { ...reference, rect: { ...column, row: after.row, rows: after.rows } } : reference;
    };
    for (const series of this.allSeries()) {
      series.values = follow(series.values);
      series.categories = follow(series.categories);
    }
    this.changed();
  }

  private allSeries(): SeriesData[] {
    return [...this.sheets.values()].flatMap(({ charts }) => charts.flatMap(({ series }) => series));
  }

  private followShift(sheetId: string, moved: (rect: Rect) => Rect | undefined) {
    for (const reference of this.tracked.values()) {
      if (reference.sheetId === sheetId && reference.rect) reference.rect = moved(reference.rect);
    }
    for (const series of this.allSeries()) {
      for (const key of ["values", "categories", "nameCell"] as const) {
        const reference = series[key];
        if (reference?.sheetId !== sheetId) continue;
        const rect = moved(reference.rect);
        series[key] = rect && { ...reference, rect };
      }
    }
    const data = this.sheet(sheetId);
    const moveAll = <T extends { rect: Rect }>(items: T[]) =>
      items.flatMap((item) => {
        const rect = moved(item.rect);
        return rect ? [{ ...item, rect }] : [];
      });
    data.validations = moveAll(data.validations);
    for (const format of data.conditionalFormats) format.rects = format.rects.flatMap((rect) => moved(rect) ?? []);
    data.conditionalFormats = data.conditionalFormats.filter(({ rects }) => rects.length > 0);
    const filter = data.filter && moved(data.filter.rect);
    data.filter = filter && { ...data.filter!, rect: filter };
    const { page } = data;
    for (const key of ["printArea", "titleRows", "titleColumns"] as const) page[key] = page[key] && moved(page[key]);
    for (const chart of data.charts) {
      chart.from = movedAnchor(chart.from, moved);
      chart.to = movedAnchor(chart.to, moved);
    }
  }
}

/** A chart moves with whole rows and columns. */
function movedAnchor(anchor: Anchor, moved: (rect: Rect) => Rect | undefined): Anchor {
  const row = moved({ row: anchor.row, rows: 1, column: 0, columns: 16_384 });
  const column = moved({ row: 0, rows: 1_048_576, column: anchor.column, columns: 1 });
  return { ...anchor, row: row?.row ?? anchor.row, column: column?.column ?? anchor.column };
}
