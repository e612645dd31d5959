import { accessDenied, invalidArgument, itemAlreadyExists, itemNotFound, notImplemented } from "../errors";
import type { Anchor, ChartData, Model } from "../model";
import { AXIS, AXIS_TITLE, CHART_TYPES, LEGEND, record, TITLE } from "./chart-parts";
import { ChartSeriesCollection, seriesFrom } from "./chart-series";
import { anchorAt, anchorsOf, POINTS, pointOf } from "./geometry";
import { HostCollection, HostObject } from "./object";
import { Range, rangeAt } from "./range";
import { part, type Schema, type Settings } from "./record";
import { Worksheet } from "./worksheet";

const DEFAULT_SIZE = { width: 480, height: 288 };

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
