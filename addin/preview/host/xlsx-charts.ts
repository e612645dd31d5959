/** Charts in the file, with what they show: ECMA-376 part 1, clause 21.2. The package that writes the file knows none. */
import type { Package } from "../../share/parts/package";
import { escaped } from "../../share/parts/xml";
import { formatAddress, quoteSheet } from "./a1";
import { type ChartAxisModel, type ChartModel, type ChartSeriesModel, chartModel } from "./chart-model";
import type { Anchor, ChartData, Model, SeriesData, SheetRect } from "./model";
import { numbersOf } from "./objects/chart-series";
import { appendToSheet, relate, sheetPart } from "./xlsx-parts";

const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const DRAWING = "http://schemas.openxmlformats.org/drawingml/2006";
const LEADS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const KIND = "application/vnd.openxmlformats-officedocument";
/** The format's unit of length; a point has more of them. */
const UNITS_IN_A_PIXEL = 9525;
const UNITS_IN_A_POINT = 12_700;
const CATEGORY_AXIS = 1;
const VALUE_AXIS = 2;
const DASHES: Readonly<Record<string, string>> = {
  Dash: "dash",
  DashDot: "dashDot",
  DashDotDot: "lgDashDotDot",
  Dot: "sysDot",
  RoundDot: "sysDot",
};
const LEGENDS = { Top: "t", Bottom: "b", Left: "l", Right: "r", Corner: "tr" } as const;

export function addCharts(file: Package, model: Model) {
  let charts = 0;
  let drawings = 0;
  model.engine.sheetIds().forEach((sheetId, index) => {
    const own = model.sheet(sheetId).charts;
    if (own.length === 0) return;
    const drawing = `xl/drawings/drawing${++drawings}.xml`;
    const frames = own.map((chart, i) => {
      const part = `xl/charts/chart${++charts}.xml`;
      file.add(part, `${KIND}.drawingml.chart+xml`, chartXml(model, sheetId, chart));
      return frameXml(chart, i + 2, relate(file, drawing, "chart", part));
    });
    const namespaces = `xmlns:xdr="${DRAWING}/spreadsheetDrawing" xmlns:a="${DRAWING}/main"`;
    file.add(drawing, `${KIND}.drawing+xml`, `${HEAD}<xdr:wsDr ${namespaces}>${frames.join("")}</xdr:wsDr>`);
    const id = relate(file, sheetPart(index), "drawing", drawing);
    appendToSheet(file, sheetPart(index), `<drawing r:id="${id}"/>`);
  });
}

/** Where a chart stands. */
function frameXml({ name, from, to }: ChartData, id: number, relationship: string): string {
  const corner = (tag: string, { row, column, x, y }: Anchor) =>
    `<xdr:${tag}><xdr:col>${column}</xdr:col><xdr:colOff>${Math.round(x * UNITS_IN_A_PIXEL)}</xdr:colOff>` +
    `<xdr:row>${row}</xdr:row><xdr:rowOff>${Math.round(y * UNITS_IN_A_PIXEL)}</xdr:rowOff></xdr:${tag}>`;
  return (
    `<xdr:twoCellAnchor>${corner("from", from)}${corner("to", to)}<xdr:graphicFrame macro="">` +
    `<xdr:nvGraphicFramePr><xdr:cNvPr id="${id}" name="${escaped(name)}"/><xdr:cNvGraphicFramePr/></xdr:nvGraphicFramePr>` +
    '<xdr:xfrm><a:off x="0" y="0"/><a:ext cx="0" cy="0"/></xdr:xfrm>' +
    `<a:graphic><a:graphicData uri="${DRAWING}/chart"><c:chart xmlns:c="${DRAWING}/chart" xmlns:r="${LEADS}" r:id="${relationship}"/>` +
    "</a:graphicData></a:graphic></xdr:graphicFrame><xdr:clientData/></xdr:twoCellAnchor>"
  );
}

function chartXml(model: Model, sheetId: string, chart: ChartData): string {
  const shown = chartModel(model, sheetId, chart);
  const legend = shown.legend
    ? `<c:legend><c:legendPos val="${LEGENDS[shown.legend]}"/><c:overlay val="0"/></c:legend>`
    : "";
  const title = shown.title === undefined ? '<c:autoTitleDeleted val="1"/>' : titleXml(shown.title);
  const axes = hasAxes(shown.type) ? axesXml(shown) : "";
  return (
    `${HEAD}<c:chartSpace xmlns:c="${DRAWING}/chart" xmlns:a="${DRAWING}/main" xmlns:r="${LEADS}"><c:roundedCorners val="0"/>` +
    `<c:chart>${title}<c:plotArea><c:layout/>${plotXml(model, chart, shown)}${axes}</c:plotArea>${legend}` +
    '<c:plotVisOnly val="1"/><c:dispBlanksAs val="gap"/></c:chart></c:chartSpace>'
  );
}

const hasAxes = (type: string) => type !== "Pie" && type !== "Doughnut";

const titleXml = (text: string) =>
  `<c:title><c:tx><c:rich><a:bodyPr/><a:p><a:r><a:t>${escaped(text)}</a:t></a:r></a:p></c:rich></c:tx><c:overlay val="0"/></c:title>`;

const AXES = `<c:axId val="${CATEGORY_AXIS}"/><c:axId val="${VALUE_AXIS}"/>`;

function plotXml(model: Model, chart: ChartData, shown: ChartModel): string {
  const { type } = shown;
  const series = shown.series.map((one, i) => seriesXml(model, chart.series[i]!, one, i, type)).join("");
  const stacking = stackingOf(type);
  const grouping = `<c:grouping val="${stacking ?? (/^(Column|Bar)/.test(type) ? "clustered" : "standard")}"/>`;
  const vary = (on: boolean) => `<c:varyColors val="${Number(on)}"/>`;
  if (/^(Column|Bar)/.test(type)) {
    const overlap = stacking ? 100 : 0;
    const direction = `<c:barDir val="${type.startsWith("Bar") ? "bar" : "col"}"/>`;
    const gaps = `<c:gapWidth val="150"/><c:overlap val="${overlap}"/>`;
    return `<c:barChart>${direction}${grouping}${vary(false)}${series}${gaps}${AXES}</c:barChart>`;
  }
  if (type.startsWith("Line"))
    return `<c:lineChart>${grouping}${vary(false)}${series}<c:marker val="1"/>${AXES}</c:lineChart>`;
  if (type.startsWith("Area")) return `<c:areaChart>${grouping}${vary(false)}${series}${AXES}</c:areaChart>`;
  if (type === "Pie") return `<c:pieChart>${vary(true)}${series}<c:firstSliceAng val="0"/></c:pieChart>`;
  if (type === "Doughnut")
    return `<c:doughnutChart>${vary(true)}${series}<c:firstSliceAng val="0"/><c:holeSize val="75"/></c:doughnutChart>`;
  return `<c:scatterChart><c:scatterStyle val="lineMarker"/>${vary(false)}${series}${AXES}</c:scatterChart>`;
}

function stackingOf(type: string): string | undefined {
  if (type.endsWith("Stacked100")) return "percentStacked";
  return type.endsWith("Stacked") ? "stacked" : undefined;
}

function seriesXml(model: Model, series: SeriesData, shown: ChartSeriesModel, index: number, type: string): string {
  const isLine = type.startsWith("Line");
  const isScatter = type === "XYScatter";
  const [categories, values] = isScatter ? ["xVal", "yVal"] : ["cat", "val"];
  const x = series.categories;
  const xXml = isScatter ? x && numbersXml(model, x, numbersOf(model, x)) : x && textsXml(model, x, shown.categories);
  return [
    `<c:ser><c:idx val="${index}"/><c:order val="${index}"/>`,
    series.nameCell
      ? `<c:tx>${textsXml(model, series.nameCell, [shown.name])}</c:tx>`
      : `<c:tx><c:v>${escaped(shown.name)}</c:v></c:tx>`,
    looksXml(shown, isLine || isScatter),
    /^(Column|Bar)/.test(type) ? '<c:invertIfNegative val="0"/>' : "",
    type === "Line" || type === "LineStacked" ? NO_MARKERS : "",
    shown.hasDataLabels ? LABELS : "",
    xXml ? `<c:${categories}>${xXml}</c:${categories}>` : "",
    series.values ? `<c:${values}>${numbersXml(model, series.values, shown.values)}</c:${values}>` : "",
    isLine || isScatter ? '<c:smooth val="0"/>' : "",
    "</c:ser>",
  ].join("");
}

const NO_MARKERS = '<c:marker><c:symbol val="none"/></c:marker>';
const LABELS =
  '<c:dLbls><c:showLegendKey val="0"/><c:showVal val="1"/><c:showCatName val="0"/><c:showSerName val="0"/><c:showPercent val="0"/><c:showBubbleSize val="0"/></c:dLbls>';

const solid = (color: string) => `<a:solidFill><a:srgbClr val="${color.replace("#", "")}"/></a:solidFill>`;

/** What was not set is left to the program that shows the chart. */
function looksXml({ fill, line }: ChartSeriesModel, isLine: boolean): string {
  const dash = DASHES[line.style] ? `<a:prstDash val="${DASHES[line.style]}"/>` : "";
  const drawn = line.color ? `${solid(line.color)}${dash}` : dash;
  const width = Math.round(line.weight * UNITS_IN_A_POINT);
  const own = line.style === "None" ? "<a:ln><a:noFill/></a:ln>" : drawn && `<a:ln w="${width}">${drawn}</a:ln>`;
  const inside = (fill && !isLine ? solid(fill) : "") + own;
  return inside === "" ? "" : `<c:spPr>${inside}</c:spPr>`;
}

const referenceText = (model: Model, { sheetId, rect }: SheetRect) =>
  escaped(`${quoteSheet(model.engine.sheetName(sheetId))}!${formatAddress(rect, true)}`);

function textsXml(model: Model, cells: SheetRect, texts: readonly string[]): string {
  const points = texts.map((text, i) => `<c:pt idx="${i}"><c:v>${escaped(text)}</c:v></c:pt>`);
  const cache = `<c:strCache><c:ptCount val="${texts.length}"/>${points.join("")}</c:strCache>`;
  return `<c:strRef><c:f>${referenceText(model, cells)}</c:f>${cache}</c:strRef>`;
}

function numbersXml(model: Model, cells: SheetRect, numbers: readonly (number | null)[]): string {
  const points = numbers.map((value, i) => (value === null ? "" : `<c:pt idx="${i}"><c:v>${value}</c:v></c:pt>`));
  const cache = `<c:formatCode>General</c:formatCode><c:ptCount val="${numbers.length}"/>${points.join("")}`;
  return `<c:numRef><c:f>${referenceText(model, cells)}</c:f><c:numCache>${cache}</c:numCache></c:numRef>`;
}

function axesXml({ type, categoryAxis, valueAxis }: ChartModel): string {
  const lying = type.startsWith("Bar");
  const [across, along] = lying ? (["l", "b"] as const) : (["b", "l"] as const);
  const isScatter = type === "XYScatter";
  const category = axisXml(categoryAxis, CATEGORY_AXIS, VALUE_AXIS, across);
  const value = axisXml(valueAxis, VALUE_AXIS, CATEGORY_AXIS, along);
  const between = `<c:crossBetween val="${isScatter || type.startsWith("Area") ? "midCat" : "between"}"/>`;
  const first = isScatter
    ? `<c:valAx>${category}<c:crossBetween val="midCat"/></c:valAx>`
    : `<c:catAx>${category}<c:auto val="1"/><c:lblAlgn val="ctr"/><c:lblOffset val="100"/><c:noMultiLvlLbl val="0"/></c:catAx>`;
  return `${first}<c:valAx>${value}${between}</c:valAx>`;
}

function axisXml(axis: ChartAxisModel, id: number, other: number, position: string): string {
  const orientation = `<c:orientation val="${axis.reversed ? "maxMin" : "minMax"}"/>`;
  const format =
    axis.numberFormat === "General" ? 'General" sourceLinked="1' : `${escaped(axis.numberFormat)}" sourceLinked="0`;
  return (
    `<c:axId val="${id}"/><c:scaling>${orientation}</c:scaling>` +
    `<c:delete val="${Number(!axis.visible)}"/><c:axPos val="${position}"/>${axis.majorGridlines ? "<c:majorGridlines/>" : ""}` +
    `${axis.title === undefined ? "" : titleXml(axis.title)}<c:numFmt formatCode="${format}"/>` +
    `<c:majorTickMark val="out"/><c:minorTickMark val="none"/><c:tickLblPos val="nextTo"/><c:crossAx val="${other}"/><c:crosses val="autoZero"/>`
  );
}
