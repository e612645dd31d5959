/** Charts of the preview, drawn by the same library without a browser. */
import { BarChart, LineChart } from "echarts/charts";
import { GridComponent, LegendComponent, TitleComponent } from "echarts/components";
import { init, use } from "echarts/core";
import { SVGRenderer } from "echarts/renderers";
import { describe, expect, it } from "vitest";
import { chartOption } from "../../../addin/preview/chart-option";
import { describe as inWords, type Picture } from "../../../addin/preview/chart-picture";

use([BarChart, LineChart, GridComponent, LegendComponent, TitleComponent, SVGRenderer]);

const picture = (stacking: Picture["stacking"], rows: (number | null)[][], more: Partial<Picture> = {}): Picture => ({
  kind: "column",
  stacking,
  title: "Cost by stage",
  categories: ["Grind", "Polish"],
  series: rows.map((values, i) => ({ name: `Series ${i + 1}`, values })),
  categoryTitle: "",
  valueTitle: "",
  legend: "bottom",
  reversed: false,
  markers: false,
  labels: false,
  format: String,
  ...more,
});

const SIZE = { width: 480, height: 320 };

function drawn(shown: Picture): string {
  const chart = init(null, null, { renderer: "svg", ssr: true, ...SIZE });
  chart.setOption(chartOption(shown, SIZE));
  const svg = chart.renderToSVGString();
  chart.dispose();
  return svg;
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

const BAR =
  /<path d="M([\d.]+) ([\d.]+)l(-?[\d.]+) 0l0 (-?[\d.]+)l-?[\d.]+ 0Z"[^>]*ecmeta_series_index="(\d)" ecmeta_data_index="(\d)" ecmeta_ssr_type="chart"/g;

/** The bars by series and category. */
function barsOf(shown: Picture): Box[][] {
  const found: Box[][] = shown.series.map(() => []);
  for (const [, x, y, across, down, series, category] of drawn(shown).matchAll(BAR)) {
    const [xs, ys] = [
      [Number(x), Number(x) + Number(across)],
      [Number(y), Number(y) + Number(down)],
    ];
    found[Number(series)]![Number(category)] = {
      left: Math.min(...xs),
      right: Math.max(...xs),
      top: Math.min(...ys),
      bottom: Math.max(...ys),
    };
  }
  return found;
}

const height = ({ top, bottom }: Box) => bottom - top;
const texts = (svg: string) => [...svg.matchAll(/<text[^>]*>([^<]*)</g)].map(([, text]) => text);
/** Whole pixels: the library draws sharp edges. */
const PIXEL = 1;

// Every expected value is worked by hand: sums of the whole numbers beside it.
describe("a column", () => {
  it("starts at zero where nothing is stacked, beside the others of its category", () => {
    const [[three, minusOne], [four, two]] = barsOf(
      picture("none", [
        [3, -1],
        [4, 2],
      ]),
    ) as [[Box, Box], [Box, Box]];
    expect(three.bottom).toBeCloseTo(four.bottom, 6);
    expect(minusOne.top).toBeCloseTo(two.bottom, 6);
    expect(three.bottom).toBeCloseTo(minusOne.top, 6);
    const unit = height(four) / 4;
    expect(Math.abs(height(three) - 3 * unit)).toBeLessThan(PIXEL);
    expect(Math.abs(height(minusOne) - unit)).toBeLessThan(PIXEL);
    expect(Math.abs(height(two) - 2 * unit)).toBeLessThan(PIXEL);
    expect(Math.abs(three.right - four.left)).toBeLessThan(PIXEL);
  });

  it("starts where the value before ended, values below zero apart from those above", () => {
    const bars = barsOf(
      picture("stacked", [
        [3, -1],
        [4, 2],
        [1, -5],
      ]),
    ) as [Box, Box][];
    const [[a, below], [b, above], [c, further]] = bars as [[Box, Box], [Box, Box], [Box, Box]];
    expect(a.top).toBeCloseTo(b.bottom, 6);
    expect(b.top).toBeCloseTo(c.bottom, 6);
    expect(below.bottom).toBeCloseTo(further.top, 6);
    expect(above.bottom).toBeCloseTo(below.top, 6);
    expect(above.bottom).toBeCloseTo(a.bottom, 6);
    expect(Math.abs(height(b) / height(c) - 4)).toBeLessThan(0.2);
  });

  it("is the share of its category's sum in percent", () => {
    // 1/4 and 3/4; 2/10 and 8/10.
    const shown = picture("percent", [
      [1, 2],
      [3, 8],
    ]);
    const [[quarter, fifth], [most]] = barsOf(shown) as [[Box, Box], [Box, Box]];
    expect(Math.abs(height(most) / height(quarter) - 3)).toBeLessThan(0.1);
    expect(Math.abs(height(quarter) / height(fifth) - 1.25)).toBeLessThan(0.05);
    expect(texts(drawn(shown))).toEqual(expect.arrayContaining(["0%", "100%"]));
  });

  it("is not there where there is no value, and has no height where all are zero", () => {
    const [[none, one], [two]] = barsOf(
      picture("stacked", [
        [null, 1],
        [2, 1],
      ]),
    ) as [Box[], Box[]];
    expect(none).toBeUndefined();
    expect(Math.abs(height(two!) / height(one!) - 2)).toBeLessThan(0.1);
    const [[zero, whole]] = barsOf(picture("percent", [[0, 1]])) as [[Box | undefined, Box]];
    expect(zero ? height(zero) : 0).toBe(0);
    expect(height(whole)).toBeGreaterThan(100);
  });

  it("lies as a bar with the first category lowest, unless the axis is reversed", () => {
    const shown = { kind: "bar" } as const;
    const [[grind, polish]] = barsOf(picture("none", [[200, 100]], shown)) as [[Box, Box]];
    expect(grind.top).toBeGreaterThan(polish.bottom);
    expect(Math.abs((grind.right - grind.left) / (polish.right - polish.left) - 2)).toBeLessThan(0.05);
    const [[first, second]] = barsOf(picture("none", [[200, 100]], { ...shown, reversed: true })) as [[Box, Box]];
    expect(first.bottom).toBeLessThan(second.top);
  });
});

describe("the scale", () => {
  const ticksFor = (...values: number[]) =>
    texts(drawn(picture("none", [values], { title: "", legend: "none", categories: values.map(() => "x") })))
      .filter((text) => text !== "x")
      .map(Number)
      .sort((a, b) => a - b);

  it.each([[[960, 300]], [[12, 10]], [[-30, 70]]])("has round ticks that take in %j and zero", (values) => {
    const ticks = ticksFor(...values);
    expect(ticks).toContain(0);
    expect(ticks.at(0)).toBeLessThanOrEqual(Math.min(0, ...values));
    expect(ticks.at(-1)).toBeGreaterThanOrEqual(Math.max(...values));
    const step = ticks[1]! - ticks[0]!;
    // 1, 2 or 5 times a power of ten.
    expect([1, 2, 5]).toContain(step / 10 ** Math.floor(Math.log10(step)));
    for (const [i, tick] of ticks.entries()) expect(tick).toBeCloseTo(ticks[0]! + i * step, 9);
  });

  it("has two ticks at least, also where all values are zero", () => {
    expect(ticksFor(0, 0).length).toBeGreaterThanOrEqual(2);
  });
});

describe("a chart", () => {
  it.each(["column", "bar", "line"] as const)("of the kind %s shows its title, axes and series by name", (kind) => {
    const shown = picture(
      "none",
      [
        [3, 1],
        [4, 2],
      ],
      { kind, categoryTitle: "Stage", valueTitle: "Cost [$]" },
    );
    expect(texts(drawn(shown))).toEqual(
      expect.arrayContaining(["Cost by stage", "Stage", "Cost [$]", "Grind", "Polish", "Series 1", "Series 2"]),
    );
  });

  it("shows numbers as its axis formats them", () => {
    const format = (value: number) => `$${value.toFixed(2)}`;
    expect(texts(drawn(picture("none", [[3, 1]], { format })))).toContain("$0.00");
    expect(texts(drawn(picture("none", [[3, 1]], { format, labels: true })))).toContain("$3.00");
  });

  it.each(["top", "bottom", "left", "right"] as const)("keeps its columns clear of a legend (%s)", (legend) => {
    const shown = picture(
      "stacked",
      [
        [3, 1],
        [4, 2],
      ],
      { legend },
    );
    const keys = [...drawn(shown).matchAll(/transform="translate\(([\d.]+) ([\d.]+)\)"[^>]*ecmeta_ssr_type="legend"/g)];
    expect(keys.length).toBeGreaterThan(0);
    const bars = barsOf(shown).flat();
    for (const [, x, y] of keys) {
      const [across, down] = [Number(x), Number(y)];
      const isClear = bars.every(({ left, right, top, bottom }) =>
        legend === "left" || legend === "right"
          ? across > right || across + 14 < left
          : down > bottom || down + 9 < top,
      );
      expect(isClear).toBe(true);
    }
  });

  it("names its lines at their ends where it has no legend", () => {
    const shown = picture(
      "none",
      [
        [3, 1],
        [4, 2],
      ],
      { kind: "line", legend: "none" },
    );
    expect(texts(drawn(shown))).toEqual(expect.arrayContaining(["Series 1", "Series 2"]));
  });

  it("can be read in gray: neighbors differ in lightness, and in hatch or dash", () => {
    const rows = [
      [3, 1],
      [4, 2],
      [5, 3],
    ];
    const bars = drawn(picture("stacked", rows));
    const fills = [...bars.matchAll(/fill="(#[0-9a-f]{6})"[^>]*ecmeta_data_index="0" ecmeta_ssr_type="chart"/g)];
    const lightness = fills.map(([, color]) => {
      const [r, g, b] = [1, 3, 5].map((at) => Number.parseInt(color!.slice(at, at + 2), 16));
      return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
    });
    expect(lightness).toHaveLength(3);
    for (const [i, light] of lightness.slice(1).entries()) expect(Math.abs(light - lightness[i]!)).toBeGreaterThan(40);
    expect(bars).toContain("<pattern");
    const lines = drawn(picture("none", rows, { kind: "line" }));
    expect(new Set(lines.match(/stroke-dasharray="[^"]*"/g)).size).toBeGreaterThanOrEqual(2);
  });

  it("takes a title of any text as text", () => {
    expect(drawn(picture("none", [[1, 2]], { title: "<b>&" }))).toContain("&lt;b&gt;&amp;");
  });
});

describe("the description", () => {
  it("says every value, and where there is none", () => {
    expect(
      inWords(
        picture("none", [
          [3, null],
          [4, 2],
        ]),
      ),
    ).toBe("Series 1: Grind 3, Polish no value. Series 2: Grind 4, Polish 2.");
  });
});
