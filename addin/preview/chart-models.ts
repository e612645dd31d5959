/** The workbook's charts as pictures to draw. */
import { numfmt } from "@univerjs/core";
import type { PlacedChart } from "./chart-layer";
import type { Picture } from "./chart-picture";
import type { ChartModel, Host } from "./host/host";

const KINDS = { Column: "column", Bar: "bar", Line: "line" } as const;

const LEGENDS: Record<NonNullable<ChartModel["legend"]>, Picture["legend"]> = {
  Top: "top",
  Bottom: "bottom",
  Left: "left",
  Right: "right",
  Corner: "right",
};

export function placedCharts(host: Host, sheetId: string): PlacedChart[] {
  return host.charts(sheetId).map((model) => {
    const { left, top, width, height } = model;
    return { place: { left, top, width, height }, picture: pictureOf(model) };
  });
}

function pictureOf(model: ChartModel): Picture {
  const { type, series, categoryAxis, valueAxis } = model;
  const [, shape = "", arrangement = ""] = /^(Column|Bar|Line)(.*)$/.exec(type) ?? [];
  const kind = KINDS[shape as keyof typeof KINDS];
  const title = model.title ?? "";
  return {
    kind: kind ?? "column",
    stacking: stackingOf(arrangement),
    title: kind ? title : `${title} (the preview draws no chart of type ${type})`.trim(),
    categories: [...(series[0]?.categories ?? [])],
    series: kind
      ? series.map(({ name, values, fill, line }) => ({
          name,
          values: [...values],
          color: shape === "Line" ? line.color : fill,
          outline: line.style === "None" ? undefined : line.color,
        }))
      : [],
    categoryTitle: categoryAxis.title ?? "",
    valueTitle: valueAxis.title ?? "",
    legend: model.legend ? LEGENDS[model.legend] : "none",
    reversed: categoryAxis.reversed,
    markers: arrangement.startsWith("Markers"),
    labels: series.some(({ hasDataLabels }) => hasDataLabels),
    format: (value) => numfmt.format(valueAxis.numberFormat, value, { throws: false }),
  };
}

function stackingOf(arrangement: string): Picture["stacking"] {
  if (arrangement.endsWith("Stacked100")) return "percent";
  return arrangement.endsWith("Stacked") ? "stacked" : "none";
}
