/** Draws a chart. It knows nothing of the workbook: a picture's numbers in, an element out. */
import { BarChart, LineChart } from "echarts/charts";
import { GridComponent, LegendComponent, TitleComponent } from "echarts/components";
import { init, use } from "echarts/core";
import { SVGRenderer } from "echarts/renderers";
import { chartOption, type Size } from "./chart-option";
import { describe, type Picture } from "./chart-picture";

use([BarChart, LineChart, GridComponent, LegendComponent, TitleComponent, SVGRenderer]);

let drawn = 0;

export interface Chart {
  readonly element: HTMLElement;
  remove(): void;
}

export function drawChart(picture: Picture, size: Size): Chart {
  const element = document.createElement("div");
  const chart = init(element, null, { renderer: "svg", ...size });
  chart.setOption(chartOption(picture, size));
  const values = document.createElement("p");
  values.id = `chart-${++drawn}-values`;
  values.className = "chart-values";
  values.hidden = true;
  values.textContent = describe(picture);
  element.append(values);
  element.className = "chart";
  element.setAttribute("role", "img");
  element.setAttribute("aria-label", picture.title || "Chart");
  element.setAttribute("aria-describedby", values.id);
  const remove = () => {
    chart.dispose();
    element.remove();
  };
  return { element, remove };
}
