import type { Model } from "../model";
import { choice, color, colorOf, flag, number, RecordObject, type Schema, type Settings, text } from "./record";

export const CHART_TYPES = [
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

export const record = (
  model: Model,
  typeName: string,
  schema: Schema,
  settings: Settings,
  children = {},
  methods = {},
) => new RecordObject(model, { typeName, schema, children, methods }, settings);

/** A solid fill; the color it was given is write-only in Office.js, so only a renderer reads it. */
export function fill(model: Model, settings: Settings) {
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

export function line(model: Model, settings: Settings) {
  const methods = {
    clear: () => {
      settings.lineStyle = "None";
    },
  };
  return record(model, "ChartLineFormat", LINE, settings, {}, methods);
}
