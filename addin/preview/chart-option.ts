/**
 * A picture as ECharts takes it. It can be read in gray: unless a series has a color of its own it gets a step of
 * lightness, and every second one a hatch; lines differ in dash and marker.
 */
import type { BarSeriesOption, EChartsOption, LineSeriesOption } from "echarts";
import type { Picture, Series } from "./chart-picture";

export interface Size {
  width: number;
  height: number;
}

const PADDING = 12;
/** A line of text, and what a character takes of it. */
const LINE_HEIGHT = 22;
const CHARACTER = 6;
const LEGEND_KEY = 34;
/** Below this, a column's category names are left out here and there. */
const NARROWEST_NAME = 28;
/** The most of the width that category names beside bars may take. */
const NAMES_SHARE = 0.35;

const INK = "#4b5563";
const PAPER = "#ffffff";
/** From dark to light, so that neighbors in a stack differ in gray too. */
const SHADES = ["#1a453b", "#4a8c7c", "#8dc6b7", "#d9eee9", "#6b7280", "#c3c8d0"];
/** Lines are thin: none lighter than three to one against white. */
const LINE_SHADES = ["#1a453b", "#6b7280", "#2f7f6d", "#101418"];
const DASHES = ["solid", [6, 3], [2, 2], [8, 3, 2, 3], [1, 3], [10, 4]] as const;
const MARKERS = ["circle", "rect", "triangle", "diamond"];

const pick = <T>(from: readonly T[], i: number): T => from[i % from.length]!;
const hatch = (rotation: number) => ({
  symbol: "rect",
  color: "rgba(255, 255, 255, 0.7)",
  dashArrayX: [1, 0],
  dashArrayY: [1.5, 4.5],
  rotation,
});

/** The picture, drawn at once and for good: it is drawn anew when its cells change. */
export function chartOption(picture: Picture, size: Size): EChartsOption {
  const { kind, title, series, categories } = picture;
  const [x, y] = axesOf(picture, size);
  const margins = marginsOf(picture);
  return {
    animation: false,
    backgroundColor: PAPER,
    textStyle: { fontFamily: "system-ui, sans-serif", fontSize: 11, color: INK },
    title: {
      text: title,
      left: "center",
      top: PADDING,
      padding: 0,
      textStyle: {
        fontSize: 13,
        fontWeight: 600,
        color: "#1f2328",
        width: size.width - 2 * PADDING,
        overflow: "truncate",
      },
    },
    legend: legendOf(picture),
    grid: { ...margins, outerBounds: margins, outerBoundsContain: "all" },
    xAxis: x,
    yAxis: y,
    series:
      categories.length === 0 ? [] : series.map((_, i) => (kind === "line" ? lineOf(picture, i) : barOf(picture, i))),
  };
}

const widest = (texts: readonly string[]) => Math.max(0, ...texts.map((text) => text.length)) * CHARACTER;

/** The names of lines without a legend stand at their ends. */
const namesLines = ({ kind, legend }: Picture) => kind === "line" && legend === "none";

function marginsOf(picture: Picture) {
  const { title, legend, series } = picture;
  const names = widest(series.map(({ name }) => name));
  const top = PADDING + (title ? LINE_HEIGHT + 4 : 0);
  return {
    top: top + (legend === "top" ? LINE_HEIGHT : 0),
    bottom: PADDING + (legend === "bottom" ? LINE_HEIGHT : 0),
    left: PADDING + (legend === "left" ? names + LEGEND_KEY : 0),
    right: PADDING + (legend === "right" ? names + LEGEND_KEY : namesLines(picture) ? names : 0),
  };
}

function legendOf({ legend, title }: Picture): EChartsOption["legend"] {
  const look = {
    itemWidth: 14,
    itemHeight: 9,
    padding: 0,
    selectedMode: false,
    textStyle: { fontSize: 11, color: INK },
  };
  switch (legend) {
    case "none":
      return { show: false };
    case "top":
      return { ...look, left: "center", top: PADDING + (title ? LINE_HEIGHT : 0) };
    case "bottom":
      return { ...look, left: "center", bottom: PADDING };
    default:
      return { ...look, orient: "vertical", top: "middle", [legend]: PADDING };
  }
}

/** Across and up: a bar's values run to the right, a column's and a line's upward. */
function axesOf(picture: Picture, { width, height }: Size) {
  const { kind, stacking, categories, categoryTitle, valueTitle, reversed, format } = picture;
  const isBar = kind === "bar";
  const percent = (value: number) => `${Math.round(value * 100)}%`;
  const across = (isBar ? width * NAMES_SHARE : (width - 6 * PADDING) / Math.max(1, categories.length)) - CHARACTER;
  const named = (name: string, length: number) =>
    ({
      name,
      nameLocation: "middle",
      nameTruncate: { maxWidth: length - 6 * PADDING },
      nameTextStyle: { color: INK },
    }) as const;
  const category = {
    ...named(categoryTitle, isBar ? height : width),
    type: "category",
    data: categories,
    inverse: reversed,
    axisTick: { show: false },
    axisLine: { lineStyle: { color: "#6b7280" } },
    axisLabel: {
      color: INK,
      ...(isBar || across >= NARROWEST_NAME
        ? ({ interval: 0, width: across, overflow: isBar ? "truncate" : "break" } as const)
        : ({ interval: "auto", hideOverlap: true } as const)),
    },
  } as const;
  const value = {
    ...named(valueTitle, isBar ? width : height),
    type: "value",
    axisLabel: { color: INK, hideOverlap: true, formatter: stacking === "percent" ? percent : format },
    splitLine: { lineStyle: { color: "#e4e7eb" } },
  } as const;
  return isBar ? ([value, category] as const) : ([category, value] as const);
}

/** A value's share of its category, where those are shown. */
function heightsOf({ series, stacking }: Picture, { values }: Series): (number | null)[] {
  if (stacking !== "percent") return values;
  const whole = (category: number) => series.reduce((sum, one) => sum + Math.abs(one.values[category] ?? 0), 0);
  return values.map((value, category) => value && value / (whole(category) || 1));
}

const labelOf = ({ labels, format }: Picture, { values }: Series, position: "inside" | "right" | "top") => ({
  show: labels,
  position,
  color: "#1f2328",
  formatter: ({ dataIndex }: { dataIndex: number }) => format(values[dataIndex] ?? 0),
});

function barOf(picture: Picture, i: number): BarSeriesOption {
  const one = picture.series[i]!;
  const isStacked = picture.stacking !== "none";
  const isHatched = one.color === undefined && i % 2 === 1;
  return {
    type: "bar",
    name: one.name,
    data: heightsOf(picture, one),
    ...(isStacked && { stack: "all" }),
    barCategoryGap: "38%",
    barGap: 0,
    silent: true,
    itemStyle: {
      color: one.color ?? pick(SHADES, i),
      borderColor: one.outline ?? PAPER,
      ...(isHatched && { decal: hatch(i % 4 === 1 ? Math.PI / 4 : -Math.PI / 4) }),
    },
    label: labelOf(picture, one, isStacked ? "inside" : picture.kind === "bar" ? "right" : "top"),
  };
}

function lineOf(picture: Picture, i: number): LineSeriesOption {
  const one = picture.series[i]!;
  const color = one.color ?? pick(LINE_SHADES, i);
  const dash = pick(DASHES, i);
  return {
    type: "line",
    name: one.name,
    data: heightsOf(picture, one),
    ...(picture.stacking !== "none" && { stack: "all" }),
    silent: true,
    symbol: picture.markers ? pick(MARKERS, i) : "none",
    symbolSize: 7,
    itemStyle: { color },
    lineStyle: { color, width: 2, type: typeof dash === "string" ? dash : [...dash] },
    label: labelOf(picture, one, "top"),
    endLabel: { show: namesLines(picture), formatter: "{a}", color: INK },
  };
}
