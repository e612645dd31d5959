/** The series of a chart, and the cells they show. */
import { isOneCell, type Rect } from "../a1";
import { invalidArgument } from "../errors";
import type { ChartData, Model, SeriesData, SheetRect } from "../model";
import { fill, line, record, SERIES } from "./chart-parts";
import { HostCollection, HostObject, ordinal } from "./object";
import { Range, rangeAt } from "./range";
import { part, readSetting } from "./record";

/** Cuts a block into series the way the host does: text beside the numbers names them and their categories. */
export function seriesFrom(range: Range, seriesBy: string): SeriesData[] {
  const { engine } = range.model;
  const sheetId = range._sheetId();
  const block = range.getUsedRangeOrNullObject();
  const rect = block instanceof Range ? block._rect() : range._rect();
  const byColumns = seriesBy === "Columns" || (seriesBy === "Auto" && rect.rows >= rect.columns);
  const holdsNumber = (row: number, column: number) => typeof engine.value(sheetId, row, column) === "number";
  const firstIsText = (cells: Rect) => !holdsNumber(cells.row, cells.column);
  const hasNames = byColumns
    ? rect.rows > 1 && firstIsText({ ...rect, column: rect.column + rect.columns - 1 })
    : rect.columns > 1 && firstIsText({ ...rect, row: rect.row + rect.rows - 1 });
  const hasCategories = byColumns
    ? rect.columns > 1 && firstIsText({ ...rect, row: rect.row + rect.rows - 1 })
    : rect.rows > 1 && firstIsText({ ...rect, column: rect.column + rect.columns - 1 });
  const top = rect.row + Number(byColumns ? hasNames : hasCategories);
  const left = rect.column + Number(byColumns ? hasCategories : hasNames);
  const rows = rect.row + rect.rows - top;
  const columns = rect.column + rect.columns - left;
  const at = (cells: Rect): SheetRect => ({ sheetId, rect: cells });
  const count = byColumns ? columns : rows;
  return Array.from({ length: count }, (_, i) => ({
    name: undefined,
    nameCell: hasNames
      ? at(
          byColumns
            ? { row: rect.row, column: left + i, rows: 1, columns: 1 }
            : { row: top + i, column: rect.column, rows: 1, columns: 1 },
        )
      : undefined,
    values: at(
      byColumns ? { row: top, column: left + i, rows, columns: 1 } : { row: top + i, column: left, rows: 1, columns },
    ),
    categories: hasCategories
      ? at(
          byColumns
            ? { row: top, column: rect.column, rows, columns: 1 }
            : { row: rect.row, column: left, rows: 1, columns },
        )
      : undefined,
    settings: {},
  }));
}

export class ChartSeriesCollection extends HostCollection<ChartSeries> {
  readonly typeName = "ChartSeriesCollection";

  constructor(
    model: Model,
    private readonly chart: ChartData,
  ) {
    super(model);
  }

  _items(): ChartSeries[] {
    return this.chart.series.map((series) => new ChartSeries(this.model, this.chart, series));
  }

  add(name?: unknown, index?: unknown): ChartSeries {
    const at =
      index === undefined || index === null ? this.chart.series.length : ordinal(index, this.chart.series.length);
    const series: SeriesData = {
      name: typeof name === "string" ? name : undefined,
      nameCell: undefined,
      values: undefined,
      categories: undefined,
      settings: {},
    };
    this.chart.series.splice(at, 0, series);
    this.model.changed();
    return new ChartSeries(this.model, this.chart, series);
  }
}

export class ChartSeries extends HostObject {
  readonly typeName = "ChartSeries";

  constructor(
    model: Model,
    private readonly chart: ChartData,
    private readonly series: SeriesData,
  ) {
    super(model);
  }

  get name(): string {
    return seriesName(this.model, this.chart, this.series);
  }

  set name(name: unknown) {
    if (typeof name !== "string") throw invalidArgument();
    // "=Sheet1!$A$1" takes the name from a cell.
    const cell = name.startsWith("=") ? rangeAt(this.model, name.slice(1), this.model.engine.active) : undefined;
    if (cell && !isOneCell(cell._rect())) throw invalidArgument();
    this.series.nameCell = cell && { sheetId: cell._sheetId(), rect: cell._rect() };
    this.series.name = cell ? undefined : name;
    this.model.changed();
  }

  get format(): HostObject {
    const settings = part(this.series.settings, "format");
    const children = {
      fill: () => fill(this.model, part(settings, "fill")),
      line: () => line(this.model, part(settings, "line")),
    };
    return record(this.model, "ChartSeriesFormat", {}, settings, children);
  }

  setValues(source: unknown) {
    this.series.values = referenceOf(source);
    this.model.changed();
  }

  setXAxisValues(source: unknown) {
    this.series.categories = referenceOf(source);
    this.model.changed();
  }

  delete() {
    this.chart.series.splice(this.chart.series.indexOf(this.series), 1);
    this.model.changed();
  }

  override _read(name: string): unknown {
    return name in SERIES ? readSetting(SERIES, this.series.settings, name, this.typeName) : super._read(name);
  }

  override _assign(name: string, value: unknown) {
    if (!(name in SERIES)) {
      super._assign(name, value);
      return;
    }
    this.series.settings[name] = SERIES[name]!.take(value);
    this.model.changed();
  }

  override _scalarNames(): string[] {
    return [...super._scalarNames(), ...Object.keys(SERIES)];
  }
}

function referenceOf(source: unknown): SheetRect {
  if (!(source instanceof Range)) throw invalidArgument();
  return { sheetId: source._sheetId(), rect: source._rect() };
}

export function seriesName(model: Model, chart: ChartData, series: SeriesData): string {
  const { nameCell } = series;
  if (nameCell) return model.engine.text(nameCell.sheetId, nameCell.rect.row, nameCell.rect.column);
  return series.name ?? `Series${chart.series.indexOf(series) + 1}`;
}

export function textsOf(model: Model, { sheetId, rect }: SheetRect): string[] {
  return cellsOf(rect).map(([row, column]) => model.engine.text(sheetId, row, column));
}

/** The numbers of a block in reading order; whatever is no number is left open. */
export function numbersOf(model: Model, { sheetId, rect }: SheetRect): (number | null)[] {
  return cellsOf(rect).map(([row, column]) => {
    const value = model.engine.value(sheetId, row, column);
    return typeof value === "number" ? value : null;
  });
}

function cellsOf(rect: Rect): [number, number][] {
  const cells: [number, number][] = [];
  for (let i = 0; i < rect.rows; i++)
    for (let j = 0; j < rect.columns; j++) cells.push([rect.row + i, rect.column + j]);
  return cells;
}
