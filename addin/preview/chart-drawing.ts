/**
 * Draws a chart as SVG. It knows nothing of the workbook: a picture's numbers in, an element out.
 * Readable without colour: unless a series has a colour of its own it gets one step of lightness and a pattern,
 * lines differ in dash and marker, and the description says every value in words.
 */
export interface Series {
  name: string;
  values: (number | null)[];
  color?: string | undefined;
  outline?: string | undefined;
}

export type Legend = "none" | "top" | "bottom" | "left" | "right";

export interface Picture {
  kind: "column" | "bar" | "line";
  stacking: "none" | "stacked" | "percent";
  title: string;
  categories: string[];
  series: Series[];
  categoryTitle: string;
  valueTitle: string;
  legend: Legend;
  /** Category axis drawn from its far end. */
  reversed: boolean;
  markers: boolean;
  labels: boolean;
  format: (value: number) => string;
}

interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

interface Scale {
  low: number;
  high: number;
  ticks: number[];
}

type Attributes = Record<string, string | number>;

const SVG = "http://www.w3.org/2000/svg";
const FONT = "system-ui, 'Segoe UI', sans-serif";
const TEXT_SIZE = 11;
const LINE_HEIGHT = 16;
const PAPER = "#ffffff";
const PADDING = 12;
const GAP = 6;
/** From dark to light, so that neighbours in a stack differ in grey too. */
const SHADES = ["#1a453b", "#4a8c7c", "#8dc6b7", "#d9eee9", "#6b7280", "#c3c8d0"];
/** Lines are thin: none lighter than three to one against white. */
const LINE_SHADES = ["#1a453b", "#6b7280", "#2f7f6d", "#101418"];
const DASHES = ["", "6 3", "2 2", "8 3 2 3", "1 3", "10 4"];

let drawn = 0;

export function drawChart(picture: Picture, width: number, height: number): SVGSVGElement {
  const id = `chart-${++drawn}`;
  const root = svg("svg", { width, height, viewBox: `0 0 ${width} ${height}`, role: "img" }) as SVGSVGElement;
  root.setAttribute("aria-labelledby", `${id}-title`);
  root.setAttribute("aria-describedby", `${id}-values`);
  root.append(
    svg("title", { id: `${id}-title` }, picture.title || "Chart"),
    svg("desc", { id: `${id}-values` }, describe(picture)),
    patterns(picture.series, id),
    svg("rect", { class: "chart-paper", x: 0.5, y: 0.5, width: width - 1, height: height - 1 }),
  );
  const box: Box = { left: PADDING, top: PADDING, right: width - PADDING, bottom: height - PADDING };
  drawTitle(root, picture, box);
  drawLegend(root, picture, box, id);
  drawPlot(root, picture, box, id);
  return root;
}

/** What a reader who cannot see the chart gets: every value, series by series. */
export function describe({ categories, series, format }: Picture): string {
  const values = ({ values }: Series) =>
    categories.map((category, i) => `${category} ${shown(values[i], format)}`).join(", ");
  return series.map((one) => `${one.name}: ${values(one)}.`).join(" ");
}

const shown = (value: number | null | undefined, format: (value: number) => string) =>
  value === null || value === undefined ? "no value" : format(value);

function svg(name: string, attributes: Attributes = {}, ...children: (Node | string)[]): SVGElement {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
  element.append(...children);
  return element;
}

// Measuring needs a canvas: text that is not in the page yet has no size.
const pen = document.createElement("canvas").getContext("2d");

function textWidth(text: string, size = TEXT_SIZE): number {
  if (!pen) return text.length * size * 0.55;
  pen.font = `${size}px ${FONT}`;
  return pen.measureText(text).width;
}

/** The text, cut with an ellipsis where it would not fit. */
function fitted(text: string, room: number): string {
  if (textWidth(text) <= room) return text;
  let cut = text;
  while (cut.length > 1 && textWidth(`${cut}…`) > room) cut = cut.slice(0, -1);
  return `${cut.trimEnd()}…`;
}

/** The text whole where it fits, else broken between two words, each line cut to the room. */
function inTwoLines(text: string, room: number): string[] {
  if (textWidth(text) <= room) return [text];
  const words = text.split(" ");
  let first = words.shift() ?? "";
  while (words.length > 1 && textWidth(`${first} ${words[0]}`) <= room) first += ` ${words.shift()}`;
  return [first, words.join(" ")].filter(Boolean).map((line) => fitted(line, room));
}

function label(text: string, x: number, y: number, anchor = "middle", more: Attributes = {}): SVGElement {
  return svg("text", { class: "chart-text", x, y, "text-anchor": anchor, ...more }, text);
}

/* The frame around the plot */

function drawTitle(root: SVGElement, { title }: Picture, box: Box): void {
  if (!title) return;
  root.append(label(title, (box.left + box.right) / 2, box.top + 12, "middle", { class: "chart-text chart-title" }));
  box.top += LINE_HEIGHT + GAP + 4;
}

function drawLegend(root: SVGElement, picture: Picture, box: Box, id: string): void {
  const { legend, series } = picture;
  if (legend === "none" || series.length === 0) return;
  const widths = series.map(({ name }) => textWidth(name) + 34);
  const sideways = legend === "top" || legend === "bottom";
  const group = svg("g", { class: "chart-legend" });
  if (sideways) {
    const rows = wrapped(widths, box.right - box.left);
    const top = legend === "top" ? box.top : box.bottom - rows.length * LINE_HEIGHT;
    rows.forEach((row, line) => {
      const total = row.reduce((sum, i) => sum + (widths[i] ?? 0), 0);
      let x = (box.left + box.right - total) / 2;
      for (const i of row) {
        group.append(...legendEntry(picture, i, x, top + line * LINE_HEIGHT, id));
        x += widths[i] ?? 0;
      }
    });
    if (legend === "top") box.top += rows.length * LINE_HEIGHT + GAP;
    else box.bottom -= rows.length * LINE_HEIGHT + GAP;
  } else {
    const width = Math.max(...widths);
    const x = legend === "left" ? box.left : box.right - width + GAP;
    const top = (box.top + box.bottom - series.length * LINE_HEIGHT) / 2;
    series.forEach((_, i) => {
      group.append(...legendEntry(picture, i, x, top + i * LINE_HEIGHT, id));
    });
    if (legend === "left") box.left += width;
    else box.right -= width;
  }
  root.append(group);
}

/** Indices of the entries in rows that fit the width. */
function wrapped(widths: number[], room: number): number[][] {
  const rows: number[][] = [[]];
  let used = 0;
  widths.forEach((width, i) => {
    if (used + width > room && used > 0) {
      rows.push([]);
      used = 0;
    }
    rows.at(-1)?.push(i);
    used += width;
  });
  return rows;
}

function legendEntry({ kind, series, markers }: Picture, i: number, x: number, y: number, id: string): SVGElement[] {
  const one = series[i];
  if (!one) return [];
  const name = label(one.name, x + 20, y + 11, "start");
  if (kind !== "line") {
    return [svg("rect", { x, y: y + 3, width: 14, height: 9, ...paint(one, i, id) }), name];
  }
  const line = svg("line", { x1: x, x2: x + 16, y1: y + 7.5, y2: y + 7.5, ...stroke(one, i) });
  return markers ? [line, marker(i, x + 8, y + 7.5, lineShade(one, i)), name] : [line, name];
}

/* Colour that also works in grey */

const shade = (series: Series, i: number) => series.color ?? SHADES[i % SHADES.length] ?? "#000000";

const lineShade = (series: Series, i: number) => series.color ?? LINE_SHADES[i % LINE_SHADES.length] ?? "#000000";

function stroke(series: Series, i: number): Attributes {
  const dash = DASHES[i % DASHES.length] ?? "";
  return { stroke: lineShade(series, i), "stroke-width": 2, fill: "none", "stroke-dasharray": dash };
}

/** Every second series without a colour of its own is hatched as well. */
const hatched = (series: Series, i: number) => series.color === undefined && i % 2 === 1;

const fill = (series: Series, i: number, id: string) =>
  hatched(series, i) ? `url(#${id}-hatch-${i})` : shade(series, i);

const paint = (series: Series, i: number, id: string): Attributes => ({
  fill: fill(series, i, id),
  stroke: series.outline ?? PAPER,
});

function patterns(series: Series[], id: string): SVGElement {
  const hatch = (one: Series, i: number) => {
    const turn = `rotate(${i % 4 === 1 ? 45 : -45})`;
    const size = { width: 6, height: 6 };
    return svg(
      "pattern",
      { id: `${id}-hatch-${i}`, patternUnits: "userSpaceOnUse", patternTransform: turn, ...size },
      svg("rect", { ...size, fill: shade(one, i) }),
      svg("rect", { width: 1.5, height: 6, fill: "#ffffff", "fill-opacity": 0.7 }),
    );
  };
  return svg("defs", {}, ...series.flatMap((one, i) => (hatched(one, i) ? [hatch(one, i)] : [])));
}

function marker(i: number, x: number, y: number, color: string): SVGElement {
  const look = { fill: color, stroke: PAPER };
  switch (i % 4) {
    case 0:
      return svg("circle", { cx: x, cy: y, r: 3.5, ...look });
    case 1:
      return svg("rect", { x: x - 3.2, y: y - 3.2, width: 6.4, height: 6.4, ...look });
    case 2:
      return svg("path", { d: `M${x} ${y - 4.2}l4.2 7.4h-8.4z`, ...look });
    default:
      return svg("path", { d: `M${x} ${y - 4.4}l4.4 4.4l-4.4 4.4l-4.4 -4.4z`, ...look });
  }
}

/* The plot */

/** Where a category and a value are in the plot: a column's value runs upward, a bar's to the right. */
interface Frame {
  upright: boolean;
  box: Box;
  band: number;
  /** The start of a category's band along the category axis. */
  bandStart(category: number): number;
  /** The place of a value along the value axis. */
  place(value: number): number;
}

function drawPlot(root: SVGElement, picture: Picture, box: Box, id: string): void {
  if (picture.categories.length === 0 || picture.series.length === 0) return;
  const scale = valueScale(picture, picture.kind === "bar" ? box.right - box.left : box.bottom - box.top);
  const format = picture.stacking === "percent" ? (value: number) => `${Math.round(value * 100)}%` : picture.format;
  drawAxisTitles(root, picture, box);
  const frame = makeRoom(picture, scale, format, box);
  drawGrid(root, scale, format, frame);
  drawCategories(root, picture, frame);
  if (picture.kind === "line") drawLines(root, picture, frame);
  else drawBars(root, picture, frame, id);
  drawBaseline(root, frame);
}

function valueScale({ series, categories, stacking }: Picture, length: number): Scale {
  if (stacking === "percent") return { low: 0, high: 1, ticks: [0, 0.25, 0.5, 0.75, 1] };
  const sums = (keep: (value: number) => boolean) =>
    categories.map((_, i) =>
      series.reduce((sum, { values }) => sum + (keep(values[i] ?? 0) ? (values[i] ?? 0) : 0), 0),
    );
  const extremes =
    stacking === "stacked"
      ? [...sums((value) => value > 0), ...sums((value) => value < 0)]
      : series.flatMap(({ values }) => values.map((value) => value ?? 0));
  return niceScale(Math.min(0, ...extremes), Math.max(0, ...extremes), Math.max(2, Math.floor(length / 44)));
}

/** Ticks at 1, 2 or 5 times a power of ten that take in both ends. */
export function niceScale(low: number, high: number, count: number): Scale {
  const span = high - low || 1;
  const rough = span / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * ([1, 2, 5, 10].find((times) => times * power >= rough * 0.999999) ?? 10);
  const first = Math.floor(low / step + 1e-9);
  const last = Math.ceil(high / step - 1e-9) || 1;
  const ticks = Array.from({ length: last - first + 1 }, (_, i) => (first + i) * step);
  return { low: first * step, high: last * step, ticks };
}

function drawAxisTitles(root: SVGElement, picture: Picture, box: Box): void {
  const upright = picture.kind !== "bar";
  const below = upright ? picture.categoryTitle : picture.valueTitle;
  const beside = upright ? picture.valueTitle : picture.categoryTitle;
  if (below) {
    root.append(label(below, (box.left + box.right) / 2, box.bottom - 2));
    box.bottom -= LINE_HEIGHT;
  }
  if (beside) {
    const x = box.left + 9;
    const y = (box.top + box.bottom) / 2;
    root.append(label(fitted(beside, box.bottom - box.top), x, y, "middle", { transform: `rotate(-90 ${x} ${y})` }));
    box.left += LINE_HEIGHT;
  }
}

function makeRoom(picture: Picture, scale: Scale, format: (value: number) => string, box: Box): Frame {
  const upright = picture.kind !== "bar";
  const widestTick = Math.max(...scale.ticks.map((tick) => textWidth(format(tick))));
  const widestCategory = Math.max(...picture.categories.map((category) => textWidth(category)));
  const plot = { ...box, bottom: box.bottom - LINE_HEIGHT };
  const narrow = (plot.right - plot.left - widestTick - GAP) / picture.categories.length;
  if (upright && widestCategory > narrow - 4) plot.bottom -= LINE_HEIGHT - 3;
  plot.left += (upright ? widestTick : Math.min(widestCategory, (box.right - box.left) * 0.35)) + GAP;
  plot.right -= upright ? endLabelRoom(picture) : widestTick / 2;
  const { reversed, categories } = picture;
  const length = upright ? plot.right - plot.left : plot.bottom - plot.top;
  const band = length / categories.length;
  // As in a spreadsheet: the first category of a bar chart is the lowest, unless its axis is reversed.
  const fromStart = upright ? !reversed : reversed;
  const start = upright ? plot.left : plot.top;
  return {
    upright,
    box: plot,
    band,
    bandStart: (category) => start + band * (fromStart ? category : categories.length - 1 - category),
    place: (value) => {
      const share = (value - scale.low) / (scale.high - scale.low);
      return upright ? plot.bottom - share * (plot.bottom - plot.top) : plot.left + share * (plot.right - plot.left);
    },
  };
}

/** Lines carry their names at their ends when they are few. */
function endLabelRoom({ kind, series, legend }: Picture): number {
  return kind === "line" && legend === "none" ? Math.max(...series.map(({ name }) => textWidth(name))) + GAP : 0;
}

function drawGrid(root: SVGElement, { ticks }: Scale, format: (value: number) => string, frame: Frame): void {
  const { box, upright, place } = frame;
  for (const tick of ticks) {
    const at = Math.round(place(tick)) + 0.5;
    if (upright) {
      root.append(svg("line", { class: "chart-grid", x1: box.left, x2: box.right, y1: at, y2: at }));
      root.append(label(format(tick), box.left - GAP, at + 4, "end"));
    } else {
      root.append(svg("line", { class: "chart-grid", y1: box.top, y2: box.bottom, x1: at, x2: at }));
      root.append(label(format(tick), at, box.bottom + LINE_HEIGHT - 3));
    }
  }
}

function drawCategories(root: SVGElement, { categories }: Picture, { upright, box, band, bandStart }: Frame): void {
  // Where the bands are narrower than a word, every second or third name is written.
  const every = upright ? Math.max(1, Math.ceil(28 / band)) : Math.max(1, Math.ceil(14 / band));
  categories.forEach((category, i) => {
    if (i % every !== 0) return;
    const middle = bandStart(i) + band / 2;
    if (upright) {
      inTwoLines(category, band * every - 4).forEach((line, below) => {
        root.append(label(line, middle, box.bottom + LINE_HEIGHT - 3 + below * (LINE_HEIGHT - 3)));
      });
    } else root.append(label(fitted(category, box.left - PADDING - GAP), box.left - GAP, middle + 4, "end"));
  });
}

function drawBaseline(root: SVGElement, { upright, box, place }: Frame): void {
  const at = Math.round(place(0)) + 0.5;
  const ends = upright
    ? { x1: box.left, x2: box.right, y1: at, y2: at }
    : { x1: at, x2: at, y1: box.top, y2: box.bottom };
  root.append(svg("line", { class: "chart-axis", ...ends }));
}

function drawBars(root: SVGElement, picture: Picture, frame: Frame, id: string): void {
  const { series, categories, stacking } = picture;
  const stacked = stacking !== "none";
  const thick = frame.band * 0.62;
  const width = stacked ? thick : thick / series.length;
  categories.forEach((_, category) => {
    const start = frame.bandStart(category) + (frame.band - thick) / 2;
    const whole = stacking === "percent" ? sizeOf(series, category) || 1 : 1;
    let above = 0;
    let below = 0;
    series.forEach((one, i) => {
      const value = (one.values[category] ?? 0) / whole;
      const from = stacked ? (value < 0 ? below : above) : 0;
      const to = from + value;
      if (value < 0) below = to;
      else above = to;
      if (value === 0) return;
      const along = stacked ? start : start + i * width;
      root.append(bar(frame, along, width, from, to, paint(one, i, id)));
      if (picture.labels) addValueLabel(root, picture, frame, along + width / 2, from, to, one.values[category] ?? 0);
    });
  });
}

const sizeOf = (series: Series[], category: number) =>
  series.reduce((sum, { values }) => sum + Math.abs(values[category] ?? 0), 0);

function bar(frame: Frame, along: number, width: number, from: number, to: number, look: Attributes): SVGElement {
  const [low, high] = [frame.place(from), frame.place(to)].sort((a, b) => a - b) as [number, number];
  const shape = frame.upright
    ? { x: along, y: low, width, height: high - low }
    : { x: low, y: along, width: high - low, height: width };
  return svg("rect", { class: "chart-bar", ...look, ...shape });
}

/** In the middle of a stacked part, just past the end of a bar that stands alone; left out where it would not fit. */
function addValueLabel(
  root: SVGElement,
  picture: Picture,
  frame: Frame,
  middle: number,
  from: number,
  to: number,
  value: number,
) {
  const text = picture.format(value);
  const [start, end] = [frame.place(from), frame.place(to)];
  const room = Math.abs(end - start);
  const inside = picture.stacking !== "none";
  if (inside && room < (frame.upright ? TEXT_SIZE + 4 : textWidth(text) + 6)) return;
  const at = inside ? (start + end) / 2 : end;
  const look: Attributes = inside ? { class: "chart-text chart-inside" } : {};
  if (frame.upright) root.append(label(text, middle, inside ? at + 4 : at - 4, "middle", look));
  else root.append(label(text, inside ? at : at + 4, middle + 4, inside ? "middle" : "start", look));
}

function drawLines(root: SVGElement, picture: Picture, frame: Frame): void {
  const running = picture.categories.map(() => 0);
  picture.series.forEach((one, i) => {
    const points = one.values.slice(0, picture.categories.length).map((value, category) => {
      if (value === null) return null;
      const stacked = picture.stacking !== "none" ? (running[category] ?? 0) + value : value;
      running[category] = stacked;
      return { x: frame.bandStart(category) + frame.band / 2, y: frame.place(stacked), value };
    });
    const path = points.map((point, j) => (point ? `${points[j - 1] ? "L" : "M"}${point.x} ${point.y}` : "")).join("");
    root.append(svg("path", { d: path, ...stroke(one, i) }));
    for (const point of points) {
      if (!point) continue;
      if (picture.markers) root.append(marker(i, point.x, point.y, lineShade(one, i)));
      if (picture.labels) root.append(label(picture.format(point.value), point.x, point.y - 8));
    }
    const last = points.filter((point) => point !== null).at(-1);
    if (last && picture.legend === "none") root.append(label(one.name, last.x + GAP, last.y + 4, "start"));
  });
}
