/**
 * Shapes, text and color for charts that can be read without color: unless a series has a color of its own it gets a
 * step of lightness, and every second one a hatch; lines differ in dash and marker.
 */
import type { Series } from "./chart-picture";

export type Attributes = Record<string, string | number>;

export const TEXT_SIZE = 11;
export const LINE_HEIGHT = 16;
export const GAP = 6;

const SVG = "http://www.w3.org/2000/svg";
const FONT = `${TEXT_SIZE}px system-ui, "Segoe UI", sans-serif`;
const PAPER = "#ffffff";
/** From dark to light, so that neighbours in a stack differ in gray too. */
const SHADES = ["#1a453b", "#4a8c7c", "#8dc6b7", "#d9eee9", "#6b7280", "#c3c8d0"];
/** Lines are thin: none lighter than three to one against white. */
const LINE_SHADES = ["#1a453b", "#6b7280", "#2f7f6d", "#101418"];
const DASHES = ["", "6 3", "2 2", "8 3 2 3", "1 3", "10 4"];
const HATCH = { width: 6, height: 6 };

export function svg(name: string, attributes: Attributes = {}, ...children: (Node | string)[]): SVGElement {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
  element.append(...children);
  return element;
}

export function label(text: string, x: number, y: number, more: Attributes = {}): SVGElement {
  return svg("text", { class: "chart-text", x, y, "text-anchor": "middle", ...more }, text);
}

// Measuring needs a canvas: text that is not in the page yet has no size.
const pen = document.createElement("canvas").getContext("2d");

export function textWidth(text: string): number {
  if (!pen) throw new Error("this browser draws on no canvas");
  pen.font = FONT;
  return pen.measureText(text).width;
}

export const widest = (texts: string[]): number => Math.max(0, ...texts.map(textWidth));

/** The text, cut with an ellipsis where it would not fit. */
export function fitted(text: string, room: number): string {
  if (textWidth(text) <= room) return text;
  let cut = text;
  while (cut.length > 1 && textWidth(`${cut}…`) > room) cut = cut.slice(0, -1);
  return `${cut.trimEnd()}…`;
}

/** The text whole where it fits, else broken between two words, each line cut to the room. */
export function inTwoLines(text: string, room: number): string[] {
  if (textWidth(text) <= room) return [text];
  const words = text.split(" ");
  let first = words.shift() ?? "";
  while (words.length > 1 && textWidth(`${first} ${words[0]}`) <= room) first += ` ${words.shift()}`;
  return [first, words.join(" ")].filter(Boolean).map((line) => fitted(line, room));
}

const pick = (from: string[], i: number) => from[i % from.length] ?? "";

const shade = (series: Series, i: number) => series.color ?? pick(SHADES, i);

const lineShade = (series: Series, i: number) => series.color ?? pick(LINE_SHADES, i);

const isHatched = (series: Series, i: number) => series.color === undefined && i % 2 === 1;

/** The hatches that `fill` refers to, for a chart with this id. */
export function hatches(series: Series[], id: string): SVGElement {
  const hatch = (one: Series, i: number) =>
    svg(
      "pattern",
      {
        id: `${id}-hatch-${i}`,
        patternUnits: "userSpaceOnUse",
        patternTransform: `rotate(${i % 4 === 1 ? 45 : -45})`,
        ...HATCH,
      },
      svg("rect", { ...HATCH, fill: shade(one, i) }),
      svg("rect", { ...HATCH, width: 1.5, fill: PAPER, "fill-opacity": 0.7 }),
    );
  return svg("defs", {}, ...series.flatMap((one, i) => (isHatched(one, i) ? [hatch(one, i)] : [])));
}

export function fill(series: Series, i: number, id: string): Attributes {
  const paint = isHatched(series, i) ? `url(#${id}-hatch-${i})` : shade(series, i);
  return { fill: paint, stroke: series.outline ?? PAPER };
}

export function stroke(series: Series, i: number): Attributes {
  return { stroke: lineShade(series, i), "stroke-width": 2, "stroke-dasharray": pick(DASHES, i), fill: "none" };
}

export function marker(series: Series, i: number, x: number, y: number): SVGElement {
  const look = { fill: lineShade(series, i), stroke: PAPER };
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
