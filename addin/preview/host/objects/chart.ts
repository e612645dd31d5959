/** Charts: where they stand, what they show, how they look. Nothing is drawn here; `host.charts()` gives a renderer all. */
import { isOneCell, type Rect } from "../a1";
import { accessDenied, invalidArgument, itemAlreadyExists, itemNotFound, notImplemented } from "../errors";
import type { Anchor, ChartData, Model, SeriesData, SheetRect } from "../model";
import { anchorAt, anchorsOf, POINTS, pointOf } from "./geometry";
import { HostCollection, HostObject, ordinal } from "./object";
import { Range, rangeAt } from "./range";
import {
  choice,
  color,
  colorOf,
  flag,
  number,
  part,
  RecordObject,
  readSetting,
  type Schema,
  type Settings,
  text,
} from "./record";
import { Worksheet } from "./worksheet";

const CHART_TYPES = [
  "ColumnClustered",
  "ColumnStacked",
  "ColumnStacked100",
  "BarClustered",
  "BarStacked",
  "BarStacked100",
  "Line",
  "LineMarkers",
  "LineStacked",
  "Pie",
  "Doughnut",
  "Area",
  "AreaStacked",
  "XYScatter",
];

const DEFAULT_SIZE = { width: 480, height: 288 };
const LINE_STYLES = [
  "None",
  "Continuous",
  "Dash",
  "DashDot",
  "DashDotDot",
  "Dot",
  "Grey25",
  "Grey50",
  "Grey75",
  "Automatic",
  "RoundDot",
];

const LINE: Schema = {
  color: color("#000000"),
  lineStyle: choice("Continuous", ...LINE_STYLES),
  weight: number(0.75, 0),
};
export const TITLE: Schema = { text: text(null), visible: flag(true) };
export const LEGEND: Schema = {
  visible: flag(true),
  position: choice("Right", "Top", "Bottom", "Left", "Right", "Corner"),
};
export const AXIS: Schema = {
  visible: flag(true),
  numberFormat: text("General"),
  reversePlotOrder: flag(false),
};
export const AXIS_TITLE: Schema = { text: text(null), visible: flag(false) };
export const SERIES: Schema = {
  hasDataLabels: flag(false),
};

const record = (model: Model, typeName: string, schema: Schema, settings: Settings, children = {}, methods = {}) =>
  new RecordObject(model, { typeName, schema, children, methods }, settings);

/** A solid fill; the color it was given is write-only in Office.js, so only a renderer reads it. */
function fill(model: Model, settings: Settings) {
  const methods = {
    setSolidColor: (value: unknown) => {
      settings.color = colorOf(value);
    },
    clear: () => {
      settings.color = "";
    },
    getSolidColor: () => settings.color ?? "",
  };
  return record(model, "ChartFill", {}, settings, {}, methods);
}

function line(model: Model, settings: Settings) {
  const methods = {
    clear: () => {
      settings.lineStyle = "None";
    },
  };
  return record(model, "ChartLineFormat", LINE, settings, {}, methods);
}

export class ChartCollection extends HostCollection<Chart> {
  readonly typeName = "ChartCollection";

  constructor(
    model: Model,
    private readonly sheetId: string,
  ) {
    super(model);
  }

  _items(): Chart[] {
    return this._charts().map((chart) => new Chart(this.model, this.sheetId, chart));
  }

  override _find(key: unknown): Chart | undefined {
    const wanted = String(key).toLowerCase();
    return this._items().find(({ id, name }) => id.toLowerCase() === wanted || name.toLowerCase() === wanted);
  }

  add(type: unknown, source: unknown, seriesBy: unknown = "Auto"): Chart {
    if (this.model.sheet(this.sheetId).protection) throw accessDenied();
    if (!CHART_TYPES.includes(String(type))) throw notImplemented(`charts of type "${type}"`);
    if (!["Auto", "Columns", "Rows"].includes(String(seriesBy))) throw invalidArgument();
    const range = source instanceof Range ? source : rangeAt(this.model, String(source), this.sheetId);
    const charts = this._charts();
    const corner = anchorAt(this.model.engine, this.sheetId, { x: 64, y: 40 });
    let number = charts.length + 1;
    while (charts.some(({ name }) => name === `Chart ${number}`)) number++;
    const chart: ChartData = {
      id: `{${crypto.randomUUID().toUpperCase()}}`,
      name: `Chart ${number}`,
      type: String(type),
      from: corner,
      to: anchorAt(this.model.engine, this.sheetId, { x: 64 + DEFAULT_SIZE.width, y: 40 + DEFAULT_SIZE.height }),
      series: seriesFrom(range, String(seriesBy)),
      settings: {},
    };
    charts.push(chart);
    this.model.changed();
    return new Chart(this.model, this.sheetId, chart);
  }

  private _charts(): ChartData[] {
    return this.model.sheet(this.sheetId).charts;
  }
}

/** Cuts a block into series the way the host does: text beside the numbers names them and their categories. */
function seriesFrom(range: Range, seriesBy: string): SeriesData[] {
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

export class Chart extends HostObject {
  readonly typeName = "Chart";

  constructor(
    model: Model,
    private readonly sheetId: string,
    private readonly chart: ChartData,
  ) {
    super(model);
    this.key = chart.id;
  }

  get id(): string {
    if (!this.model.sheet(this.sheetId).charts.includes(this.chart)) throw itemNotFound();
    return this.chart.id;
  }

  get name(): string {
    return this.chart.name;
  }

  set name(name: unknown) {
    if (typeof name !== "string" || name === "") throw invalidArgument();
    const others = this.model.sheet(this.sheetId).charts.filter((chart) => chart !== this.chart);
    if (others.some((chart) => chart.name.toLowerCase() === name.toLowerCase())) throw itemAlreadyExists();
    this.chart.name = name;
    this.model.changed();
  }

  get left(): number {
    return this._point(this.chart.from).x * POINTS;
  }

  set left(left: unknown) {
    this._place(points(left), this.top, this.width, this.height);
  }

  get top(): number {
    return this._point(this.chart.from).y * POINTS;
  }

  set top(top: unknown) {
    this._place(this.left, points(top), this.width, this.height);
  }

  get width(): number {
    return (this._point(this.chart.to).x - this._point(this.chart.from).x) * POINTS;
  }

  set width(width: unknown) {
    this._place(this.left, this.top, points(width), this.height);
  }

  get height(): number {
    return (this._point(this.chart.to).y - this._point(this.chart.from).y) * POINTS;
  }

  set height(height: unknown) {
    this._place(this.left, this.top, this.width, points(height));
  }

  get title(): HostObject {
    return this._titled("ChartTitle", TITLE, part(this.chart.settings, "title"));
  }

  get legend(): HostObject {
    return record(this.model, "ChartLegend", LEGEND, part(this.chart.settings, "legend"));
  }

  get axes(): HostObject {
    const settings = part(this.chart.settings, "axes");
    const children = {
      categoryAxis: () => this._axis(part(settings, "category")),
      valueAxis: () => this._axis(part(settings, "value")),
    };
    return record(this.model, "ChartAxes", {}, settings, children);
  }

  get series(): ChartSeriesCollection {
    return new ChartSeriesCollection(this.model, this.chart);
  }

  get worksheet(): Worksheet {
    return new Worksheet(this.model, this.sheetId);
  }

  setPosition(start: unknown, end?: unknown) {
    const cells = (address: unknown) =>
      address instanceof Range ? address : rangeAt(this.model, String(address), this.sheetId);
    const from = cells(start);
    if (end === undefined || end === null) {
      const { width, height } = this;
      const { from: corner } = anchorsOf(from._rect());
      const { x, y } = this._point(corner);
      this._place(x * POINTS, y * POINTS, width, height);
      return;
    }
    const { from: corner, to } = anchorsOf(from.getBoundingRect(cells(end))._rect());
    this._move(corner, to);
  }

  activate() {
    this.model.engine.activate(this.sheetId);
  }

  delete() {
    const { charts } = this.model.sheet(this.sheetId);
    if (this.model.sheet(this.sheetId).protection) throw accessDenied();
    if (!charts.includes(this.chart)) throw itemNotFound();
    charts.splice(charts.indexOf(this.chart), 1);
    this.model.changed();
  }

  private _titled(typeName: string, schema: Schema, settings: Settings): HostObject {
    // Giving a title its text shows it.
    const shown: Schema = {
      ...schema,
      text: {
        ...schema.text!,
        take: (value) => {
          settings.visible = true;
          return schema.text!.take(value);
        },
      },
    };
    return record(this.model, typeName, shown, settings);
  }

  private _axis(settings: Settings): HostObject {
    return record(this.model, "ChartAxis", AXIS, settings, {
      title: () => this._titled("ChartAxisTitle", AXIS_TITLE, part(settings, "title")),
    });
  }

  private _point(anchor: Anchor) {
    return pointOf(this.model.engine, this.sheetId, anchor);
  }

  private _place(left: number, top: number, width: number, height: number) {
    const { engine } = this.model;
    const from = { x: left / POINTS, y: top / POINTS };
    const to = { x: from.x + width / POINTS, y: from.y + height / POINTS };
    this._move(anchorAt(engine, this.sheetId, from), anchorAt(engine, this.sheetId, to));
  }

  private _move(from: Anchor, to: Anchor) {
    this.chart.from = from;
    this.chart.to = to;
    this.model.changed();
  }
}

function points(value: unknown): number {
  if (typeof value !== "number" || value < 0) throw invalidArgument();
  return value;
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
