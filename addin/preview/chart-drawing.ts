/** Draws a chart as SVG. It knows nothing of the workbook: a picture's numbers in, an element out. */
import { fill, fitted, GAP, hatches, LINE_HEIGHT, label, marker, stroke, svg, textWidth } from "./chart-ink";
import { describe, type Picture } from "./chart-picture";
import { type Box, drawPlot } from "./chart-plot";

const PADDING = 12;
const KEY_WIDTH = 14;
/** From the start of a legend's key to its text, and around both. */
const KEY_ROOM = 20;
const ENTRY_ROOM = 34;

let drawn = 0;

export function drawChart(picture: Picture, width: number, height: number): SVGElement {
  const id = `chart-${++drawn}`;
  const [title, values] = [`${id}-title`, `${id}-values`];
  const root = svg(
    "svg",
    {
      role: "img",
      "aria-labelledby": title,
      "aria-describedby": values,
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
    },
    svg("title", { id: title }, picture.title || "Chart"),
    svg("desc", { id: values }, describe(picture)),
    hatches(picture.series, id),
    svg("rect", { class: "chart-paper", x: 0.5, y: 0.5, width: width - 1, height: height - 1 }),
  );
  const box: Box = { left: PADDING, top: PADDING, right: width - PADDING, bottom: height - PADDING };
  drawTitle(root, picture, box);
  drawLegend(root, picture, box, id);
  drawPlot(root, picture, box, id);
  return root;
}

function drawTitle(root: SVGElement, { title }: Picture, box: Box): void {
  if (!title) return;
  const text = fitted(title, box.right - box.left);
  root.append(label(text, (box.left + box.right) / 2, box.top + 12, { class: "chart-text chart-title" }));
  box.top += LINE_HEIGHT + GAP + 4;
}

function drawLegend(root: SVGElement, picture: Picture, box: Box, id: string): void {
  const { legend, series } = picture;
  if (legend === "none" || series.length === 0) return;
  if (legend === "top" || legend === "bottom") drawLegendAcross(root, picture, box, id);
  else drawLegendBeside(root, picture, box, id);
}

const entryWidths = ({ series }: Picture) => series.map(({ name }) => textWidth(name) + ENTRY_ROOM);

function drawLegendAcross(root: SVGElement, picture: Picture, box: Box, id: string): void {
  const widths = entryWidths(picture);
  const rows = inRows(widths, box.right - box.left);
  const height = rows.length * LINE_HEIGHT;
  let y = picture.legend === "top" ? box.top : box.bottom - height;
  for (const row of rows) {
    const total = row.reduce((sum, i) => sum + (widths[i] ?? 0), 0);
    let x = (box.left + box.right - total) / 2;
    for (const i of row) {
      root.append(...legendEntry(picture, i, x, y, id));
      x += widths[i] ?? 0;
    }
    y += LINE_HEIGHT;
  }
  if (picture.legend === "top") box.top += height + GAP;
  else box.bottom -= height + GAP;
}

function drawLegendBeside(root: SVGElement, picture: Picture, box: Box, id: string): void {
  const width = Math.max(...entryWidths(picture));
  const x = picture.legend === "left" ? box.left : box.right - width + GAP;
  const top = (box.top + box.bottom - picture.series.length * LINE_HEIGHT) / 2;
  picture.series.forEach((_, i) => {
    root.append(...legendEntry(picture, i, x, top + i * LINE_HEIGHT, id));
  });
  if (picture.legend === "left") box.left += width;
  else box.right -= width;
}

/** Indices of the entries, in rows that fit the room. */
function inRows(widths: number[], room: number): number[][] {
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
  const name = label(one.name, x + KEY_ROOM, y + 11, { "text-anchor": "start" });
  if (kind !== "line") return [svg("rect", { x, y: y + 3, width: KEY_WIDTH, height: 9, ...fill(one, i, id) }), name];
  const middle = y + 7.5;
  const line = svg("line", { x1: x, x2: x + KEY_WIDTH, y1: middle, y2: middle, ...stroke(one, i) });
  return markers ? [line, marker(one, i, x + KEY_WIDTH / 2, middle), name] : [line, name];
}
