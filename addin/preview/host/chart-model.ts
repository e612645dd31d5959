/** A chart as a renderer needs it: texts and numbers as the cells hold them now, and where it stands. */
import type { ChartData, Model, SeriesData } from "./model";
import { AXIS, AXIS_TITLE, LEGEND, SERIES, TITLE } from "./objects/chart-parts";
import { numbersOf, seriesName, textsOf } from "./objects/chart-series";
import { pointOf } from "./objects/geometry";
import { part, readSetting, type Schema, type Settings } from "./objects/record";

export interface ChartSeriesModel {
  readonly name: string;
  readonly values: readonly (number | null)[];
  readonly categories: readonly string[];
  /** "#RRGGBB"; undefined leaves the choice to the renderer. */
  readonly fill: string | undefined;
  readonly line: { readonly color: string | undefined; readonly weight: number; readonly style: string };
  readonly hasDataLabels: boolean;
}

export interface ChartAxisModel {
  readonly title: string | undefined;
  readonly visible: boolean;
  readonly numberFormat: string;
  readonly reversed: boolean;
  readonly majorGridlines: boolean;
}

export interface ChartModel {
  readonly id: string;
  readonly name: string;
  /** Office.js's own word: ColumnStacked, BarClustered, LineMarkers, … */
  readonly type: string;
  readonly title: string | undefined;
  readonly legend: "Top" | "Bottom" | "Left" | "Right" | "Corner" | undefined;
  readonly series: readonly ChartSeriesModel[];
  readonly categoryAxis: ChartAxisModel;
  readonly valueAxis: ChartAxisModel;
  /** Pixels from the corner of cell A1. */
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  /** The cells at its corners. */
  readonly fromCell: { readonly row: number; readonly column: number };
  readonly toCell: { readonly row: number; readonly column: number };
}

export function chartModel(model: Model, sheetId: string, chart: ChartData): ChartModel {
  const from = pointOf(model.engine, sheetId, chart.from);
  const to = pointOf(model.engine, sheetId, chart.to);
  const axes = part(chart.settings, "axes");
  const legend = part(chart.settings, "legend");
  return {
    id: chart.id,
    name: chart.name,
    type: chart.type,
    title: titleOf(model, chart),
    legend: setting(LEGEND, legend, "visible")
      ? (setting(LEGEND, legend, "position") as ChartModel["legend"])
      : undefined,
    series: chart.series.map((series) => seriesModel(model, chart, series)),
    categoryAxis: axisModel(part(axes, "category"), false),
    valueAxis: axisModel(part(axes, "value"), true),
    left: from.x,
    top: from.y,
    width: Math.max(0, to.x - from.x),
    height: Math.max(0, to.y - from.y),
    fromCell: { row: chart.from.row, column: chart.from.column },
    toCell: { row: chart.to.row, column: chart.to.column },
  };
}

const setting = (schema: Schema, settings: Settings, name: string) => readSetting(schema, settings, name, "Chart");

/** A chart of one series takes that series' name for a title until it is given one. */
function titleOf(model: Model, chart: ChartData): string | undefined {
  const title = part(chart.settings, "title");
  if (!setting(TITLE, title, "visible")) return undefined;
  const given = setting(TITLE, title, "text") as string | null;
  const [only, ...others] = chart.series;
  return given ?? (only && others.length === 0 ? seriesName(model, chart, only) : undefined);
}

function axisModel(settings: Settings, isValueAxis: boolean): ChartAxisModel {
  const title = part(settings, "title");
  return {
    title: setting(AXIS_TITLE, title, "visible")
      ? ((setting(AXIS_TITLE, title, "text") as string | null) ?? undefined)
      : undefined,
    visible: setting(AXIS, settings, "visible") as boolean,
    numberFormat: setting(AXIS, settings, "numberFormat") as string,
    reversed: setting(AXIS, settings, "reversePlotOrder") as boolean,
    majorGridlines: isValueAxis,
  };
}

function seriesModel(model: Model, chart: ChartData, series: SeriesData): ChartSeriesModel {
  const { settings } = series;
  const format = part(settings, "format");
  const line = part(format, "line");
  const values = series.values ? numbersOf(model, series.values) : [];
  const categories = series.categories ? textsOf(model, series.categories) : values.map((_, i) => String(i + 1));
  return {
    name: seriesName(model, chart, series),
    values,
    categories,
    fill: part(format, "fill").color as string | undefined,
    line: {
      color: line.color as string | undefined,
      weight: (line.weight as number | undefined) ?? 0.75,
      style: (line.lineStyle as string | undefined) ?? "Continuous",
    },
    hasDataLabels: setting(SERIES, settings, "hasDataLabels") as boolean,
  };
}
