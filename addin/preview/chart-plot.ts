/** The plot of a chart: axes, and the bars or lines between them. */
import {
  type Attributes,
  fill,
  fitted,
  GAP,
  inTwoLines,
  LINE_HEIGHT,
  label,
  marker,
  stroke,
  svg,
  TEXT_SIZE,
  textWidth,
  widest,
} from "./chart-ink";
import { type Picture, type Scale, type Span, scaleFor, spansOf } from "./chart-picture";

export interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/** Where categories and values are: a column's value runs upward, a bar's to the right. */
interface Frame {
  upright: boolean;
  box: Box;
  band: number;
  /** The start of a category's band along the category axis. */
  bandStart(category: number): number;
  /** The place of a value along the value axis. */
  place(value: number): number;
}

const PIXELS_A_TICK = 44;
/** How much of its band a bar fills, or a cluster of bars. */
const BAR_SHARE = 0.62;
/** The most of the width that category names beside bars may take. */
const NAMES_SHARE = 0.35;
const SECOND_LINE = LINE_HEIGHT - 3;

const widthOf = ({ left, right }: Box) => right - left;
const heightOf = ({ top, bottom }: Box) => bottom - top;

export function drawPlot(root: SVGElement, picture: Picture, box: Box, id: string): void {
  if (picture.categories.length === 0 || picture.series.length === 0) return;
  const spans = spansOf(picture);
  const scale = scaleFor(spans, Math.max(2, (picture.kind === "bar" ? widthOf(box) : heightOf(box)) / PIXELS_A_TICK));
  const percent = (value: number) => `${Math.round(value * 100)}%`;
  const ticks = scale.ticks.map(picture.stacking === "percent" ? percent : picture.format);
  drawAxisTitles(root, picture, box);
  const frame = makeRoom(picture, scale, ticks, box);
  drawGrid(root, scale, ticks, frame);
  drawCategories(root, picture, frame, frame.box.left - box.left);
  if (picture.kind === "line") drawLines(root, picture, spans, frame);
  else drawBars(root, picture, spans, frame, id);
  drawBaseline(root, frame);
}

function drawAxisTitles(root: SVGElement, picture: Picture, box: Box): void {
  const { kind, categoryTitle, valueTitle } = picture;
  const [below, beside] = kind === "bar" ? [valueTitle, categoryTitle] : [categoryTitle, valueTitle];
  if (below) {
    root.append(label(fitted(below, widthOf(box)), (box.left + box.right) / 2, box.bottom - 2));
    box.bottom -= LINE_HEIGHT;
  }
  if (beside) {
    const x = box.left + TEXT_SIZE - 2;
    const y = (box.top + box.bottom) / 2;
    root.append(label(fitted(beside, heightOf(box)), x, y, { transform: `rotate(-90 ${x} ${y})` }));
    box.left += LINE_HEIGHT;
  }
}

/** Leaves room for what stands at the axes; the rest is the plot. */
function makeRoom({ kind, categories, reversed, ...picture }: Picture, scale: Scale, ticks: string[], box: Box): Frame {
  const upright = kind !== "bar";
  const names = widest(categories);
  const plot = { ...box, bottom: box.bottom - LINE_HEIGHT };
  if (upright) {
    plot.left += widest(ticks) + GAP;
    // Lines without a legend carry their names at their ends.
    if (kind === "line" && picture.legend === "none")
      plot.right -= widest(picture.series.map(({ name }) => name)) + GAP;
    if (names > widthOf(plot) / categories.length - GAP) plot.bottom -= SECOND_LINE;
  } else {
    plot.left += Math.min(names, widthOf(box) * NAMES_SHARE) + GAP;
    plot.right -= widest(ticks) / 2;
  }
  const band = (upright ? widthOf(plot) : heightOf(plot)) / categories.length;
  // As in a spreadsheet: the first category of a bar chart is the lowest, unless its axis is reversed.
  const isFirstFirst = upright !== reversed;
  const start = upright ? plot.left : plot.top;
  return {
    upright,
    box: plot,
    band,
    bandStart: (category) => start + band * (isFirstFirst ? category : categories.length - 1 - category),
    place: (value) => {
      const share = (value - scale.low) / (scale.high - scale.low);
      return upright ? plot.bottom - share * heightOf(plot) : plot.left + share * widthOf(plot);
    },
  };
}

function drawGrid(root: SVGElement, scale: Scale, ticks: string[], frame: Frame): void {
  scale.ticks.forEach((tick, i) => {
    const text = ticks[i] ?? "";
    const at = frame.place(tick);
    root.append(acrossPlot(frame, at, "chart-grid"));
    if (frame.upright) root.append(label(text, frame.box.left - GAP, at + 4, { "text-anchor": "end" }));
    else root.append(label(text, at, frame.box.bottom + LINE_HEIGHT - 3));
  });
}

const drawBaseline = (root: SVGElement, frame: Frame) => root.append(acrossPlot(frame, frame.place(0), "chart-axis"));

/** A line at a value, sharp because it lies on whole pixels. */
function acrossPlot({ upright, box }: Frame, value: number, kind: string): SVGElement {
  const at = Math.round(value) + 0.5;
  const ends = upright
    ? { x1: box.left, x2: box.right, y1: at, y2: at }
    : { x1: at, x2: at, y1: box.top, y2: box.bottom };
  return svg("line", { class: kind, ...ends });
}

function drawCategories(root: SVGElement, { categories }: Picture, frame: Frame, besideRoom: number): void {
  const { upright, box, band, bandStart } = frame;
  // Where the bands are narrower than a word, every second or third name is written.
  const every = Math.max(1, Math.ceil((upright ? 28 : 14) / band));
  categories.forEach((category, i) => {
    if (i % every !== 0) return;
    const middle = bandStart(i) + band / 2;
    if (!upright) {
      root.append(label(fitted(category, besideRoom - GAP), box.left - GAP, middle + 4, { "text-anchor": "end" }));
      return;
    }
    inTwoLines(category, band * every - GAP).forEach((line, below) => {
      root.append(label(line, middle, box.bottom + LINE_HEIGHT - 3 + below * SECOND_LINE));
    });
  });
}

function drawBars(root: SVGElement, picture: Picture, spans: (Span | undefined)[][], frame: Frame, id: string): void {
  const { series, stacking, labels, format } = picture;
  const isStacked = stacking !== "none";
  const cluster = frame.band * BAR_SHARE;
  const width = isStacked ? cluster : cluster / series.length;
  series.forEach((one, i) => {
    spans[i]?.forEach((span, category) => {
      if (!span || span.value === 0) return;
      const start = frame.bandStart(category) + (frame.band - cluster) / 2 + (isStacked ? 0 : i * width);
      root.append(bar(frame, start, width, span, fill(one, i, id)));
      if (!labels) return;
      const text = valueLabel(frame, start + width / 2, span, format(span.value), isStacked);
      if (text) root.append(text);
    });
  });
}

function bar(frame: Frame, start: number, width: number, { from, to }: Span, look: Attributes): SVGElement {
  const ends = [frame.place(from), frame.place(to)];
  const low = Math.min(...ends);
  const length = Math.max(...ends) - low;
  const shape = frame.upright
    ? { x: start, y: low, width, height: length }
    : { x: low, y: start, width: length, height: width };
  return svg("rect", { class: "chart-bar", ...look, ...shape });
}

/** In the middle of a stacked part if it fits there, just past the end of a bar that stands alone. */
function valueLabel(frame: Frame, middle: number, { from, to }: Span, text: string, isStacked: boolean) {
  const end = frame.place(to);
  if (!isStacked) {
    return frame.upright ? label(text, middle, end - 4) : label(text, end + 4, middle + 4, { "text-anchor": "start" });
  }
  const room = Math.abs(end - frame.place(from));
  if (room < (frame.upright ? TEXT_SIZE : textWidth(text)) + 4) return undefined;
  const at = (frame.place(from) + end) / 2;
  const [x, y] = frame.upright ? [middle, at + 4] : [at, middle + 4];
  return label(text, x, y, { class: "chart-text chart-inside" });
}

function drawLines(root: SVGElement, picture: Picture, spans: (Span | undefined)[][], frame: Frame): void {
  picture.series.forEach((one, i) => {
    const points = (spans[i] ?? []).map(
      (span, category) =>
        span && { x: frame.bandStart(category) + frame.band / 2, y: frame.place(span.to), value: span.value },
    );
    const path = points.map((point, j) => (point ? `${points[j - 1] ? "L" : "M"}${point.x} ${point.y}` : "")).join("");
    root.append(svg("path", { class: "chart-line", d: path, ...stroke(one, i) }));
    const known = points.filter((point) => point !== undefined);
    for (const { x, y, value } of known) {
      if (picture.markers) root.append(marker(one, i, x, y));
      if (picture.labels) root.append(label(picture.format(value), x, y - 8));
    }
    const last = known.at(-1);
    if (!last || picture.legend !== "none") return;
    root.append(label(one.name, last.x + GAP, last.y + 4, { "text-anchor": "start" }));
  });
}
