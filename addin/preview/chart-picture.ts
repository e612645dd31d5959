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

/** What a reader who cannot see the chart gets: every value, series by series. */
export function describe({ categories, series, format }: Picture): string {
  const inWords = (value: number | null | undefined) => (typeof value === "number" ? format(value) : "no value");
  const sentence = ({ name, values }: Series) =>
    `${name}: ${categories.map((category, i) => `${category} ${inWords(values[i])}`).join(", ")}.`;
  return series.map(sentence).join(" ");
}
