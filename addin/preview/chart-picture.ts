/** What a chart shows, in numbers and words: everything about it but its shapes. */
export interface Series {
  name: string;
  values: (number | null)[];
  color?: string | undefined;
  outline?: string | undefined;
}

export interface Picture {
  kind: "column" | "bar" | "line";
  stacking: "none" | "stacked" | "percent";
  title: string;
  categories: string[];
  series: Series[];
  categoryTitle: string;
  valueTitle: string;
  legend: "none" | "top" | "bottom" | "left" | "right";
  /** Category axis drawn from its far end. */
  reversed: boolean;
  markers: boolean;
  labels: boolean;
  format: (value: number) => string;
}

/** What one value takes of the value axis. */
export interface Span {
  from: number;
  to: number;
  value: number;
}

export interface Scale {
  low: number;
  high: number;
  ticks: number[];
}

/** What a reader who cannot see the chart gets: every value, series by series. */
export function describe({ categories, series, format }: Picture): string {
  const inWords = (value: number | null | undefined) => (typeof value === "number" ? format(value) : "no value");
  const sentence = ({ name, values }: Series) =>
    `${name}: ${categories.map((category, i) => `${category} ${inWords(values[i])}`).join(", ")}.`;
  return series.map(sentence).join(" ");
}

/** By series, then by category. Stacked, each value starts where the one before it of its sign ended. */
export function spansOf({ series, categories, stacking }: Picture): (Span | undefined)[][] {
  const above = categories.map(() => 0);
  const below = categories.map(() => 0);
  const wholes = categories.map((_, i) => series.reduce((sum, { values }) => sum + Math.abs(values[i] ?? 0), 0));
  return series.map(({ values }) =>
    categories.map((_, i) => {
      const value = values[i];
      if (typeof value !== "number") return undefined;
      if (stacking === "none") return { from: 0, to: value, value };
      const height = stacking === "percent" ? value / (wholes[i] || 1) : value;
      const ends = value < 0 ? below : above;
      const from = ends[i] ?? 0;
      ends[i] = from + height;
      return { from, to: from + height, value };
    }),
  );
}

/** A scale with about as many ticks that takes in every span, and zero. */
export function scaleFor(spans: (Span | undefined)[][], ticks: number): Scale {
  const ends = spans.flat().map((span) => span?.to ?? 0);
  return niceScale(Math.min(0, ...ends), Math.max(0, ...ends), ticks);
}

/** Ticks at 1, 2 or 5 times a power of ten. */
function niceScale(low: number, high: number, count: number): Scale {
  const rough = (high - low || 1) / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * ([1, 2, 5].find((times) => times * power >= rough) ?? 10);
  const first = Math.floor(low / step);
  const last = Math.max(first + 1, Math.ceil(high / step - ROUNDING));
  const ticks = Array.from({ length: last - first + 1 }, (_, i) => (first + i) * step);
  return { low: first * step, high: last * step, ticks };
}

/** A sum of shares may end a hair above its top tick. */
const ROUNDING = 1e-9;
