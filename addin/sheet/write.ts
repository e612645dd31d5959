/** Puts a block on a worksheet, in the order Excel needs: text, then tables and names, then the formulas that use them. */
import { cellAddress, rangeAddress } from "../common/a1";
import type { Block, PlacedCell, PlacedChart, PlacedRule, SheetSetup } from "./block";
import { RULES } from "./plan-texts";
import { FORMATS, STYLES, type Style, type StyleName } from "./styles";

/** The functions' namespace in this copy of the add-in; a development copy is told its own by its address. */
const NAMESPACE = new URLSearchParams(globalThis.location?.search ?? "").get("namespace") ?? "GRIT";

/** A formula of ours as this copy of the add-in must write it. */
export const inNamespace = (formula: string) => formula.replace(/\bGRIT\./g, `${NAMESPACE}.`);

const MONTHS = "jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec";
// Blanks before it hide nothing from Excel; the wide forms of = + - @ are what a Japanese keyboard types.
const MISREAD = new RegExp(
  `^\\s*([=+\\-@＝＋－＠'\\d.$€£(]|(${MONTHS})[a-z]*[ .,-]*\\d|(true|false)$)|^[\\t\\r\\n]`,
  "i",
);

/** Text that stays text: an apostrophe keeps Excel from reading a formula, a number or a date into it. */
export const asText = (text: string) => (MISREAD.test(text) ? `'${text}` : text);

const isFormula = (content: PlacedCell["content"]): content is { formula: string } => typeof content === "object";

interface Bounds {
  row: number;
  column: number;
  rows: number;
  columns: number;
}

function boundsOf(cells: readonly PlacedCell[]): Bounds {
  const rows = cells.map((cell) => cell.row);
  const columns = cells.map((cell) => cell.column);
  const row = Math.min(...rows);
  const column = Math.min(...columns);
  return { row, column, rows: Math.max(...rows) - row + 1, columns: Math.max(...columns) - column + 1 };
}

/** Rows written in one request: Excel takes only so much at once. */
const BAND = 2000;

/** Puts cells on the sheet, a band of rows after the other; usually there is but one. */
async function putCells(
  sheet: Excel.Worksheet,
  cells: readonly PlacedCell[],
  entry: (cell: PlacedCell) => any,
): Promise<void> {
  const bands = new Map<number, PlacedCell[]>();
  for (const cell of cells) {
    const key = Math.floor(cell.row / BAND);
    const band = bands.get(key);
    if (band) band.push(cell);
    else bands.set(key, [cell]);
  }
  for (const [i, band] of [...bands.values()].entries()) {
    if (i > 0) await sheet.context.sync();
    const bounds = boundsOf(band);
    const area = sheet.getRangeByIndexes(bounds.row, bounds.column, bounds.rows, bounds.columns);
    area.formulas = grid(band, bounds, entry);
  }
}

/** A grid of what goes into each cell; null leaves a cell as it is. */
function grid(cells: readonly PlacedCell[], bounds: Bounds, entry: (cell: PlacedCell) => any): any[][] {
  const lines = Array.from({ length: bounds.rows }, () => new Array(bounds.columns).fill(null));
  for (const cell of cells) lines[cell.row - bounds.row]![cell.column - bounds.column] = entry(cell);
  return lines;
}

const constant = ({ content }: PlacedCell) => {
  if (isFormula(content) || content === "") return null;
  return typeof content === "string" ? asText(content) : content;
};

export async function writeBlock(sheet: Excel.Worksheet, block: Block): Promise<void> {
  await putCells(sheet, block.cells, constant);
  for (const { name, row, column, rows, columns } of block.tables) {
    const table = sheet.tables.add(rangeAddress(row, column, rows, columns), true);
    table.name = name;
    table.style = "TableStyleLight1";
    table.showBandedRows = false;
    table.showFilterButton = false;
  }
  for (const { name, row, column, scope } of block.names) {
    const names = scope === "sheet" ? sheet.names : sheet.context.workbook.names;
    names.add(name, sheet.getRange(cellAddress(row, column)));
  }
  await sheet.context.sync();

  const formulas = block.cells.filter((cell) => isFormula(cell.content));
  await putCells(sheet, formulas, ({ content }) => inNamespace((content as { formula: string }).formula));
  applyLooks(sheet, block.cells);
  for (const { row, column, rows, columns, format } of block.looks) {
    if (!format) continue;
    const range = sheet.getRangeByIndexes(row, column, rows, columns);
    range.numberFormat = FORMATS[format] as any;
    // Words in place of a figure, too, so that they don't touch the one before.
    range.format.horizontalAlignment = "Right";
  }
  for (const rule of block.rules) applyRule(sheet, rule);
  for (const chart of block.charts) addChart(sheet, chart);
  await sheet.context.sync();
}

/** Cells that look alike, gathered into rectangles so that a sheet takes dozens of calls and not thousands. */
export function rectangles(
  cells: readonly PlacedCell[],
  look: (cell: PlacedCell) => string | undefined,
): [string, Bounds][] {
  const sorted = cells.filter((cell) => look(cell) !== undefined).sort((a, b) => a.row - b.row || a.column - b.column);
  const runs: [string, Bounds][] = [];
  for (const cell of sorted) {
    const key = look(cell)!;
    const last = runs.at(-1);
    const goesOn = last?.[0] === key && last[1].row === cell.row && last[1].column + last[1].columns === cell.column;
    if (goesOn) last[1].columns++;
    else runs.push([key, { row: cell.row, column: cell.column, rows: 1, columns: 1 }]);
  }
  const merged: [string, Bounds][] = [];
  for (const [key, run] of runs) {
    const above = merged.find(
      ([k, b]) => k === key && b.column === run.column && b.columns === run.columns && b.row + b.rows === run.row,
    );
    if (above) above[1].rows++;
    else merged.push([key, run]);
  }
  return merged;
}

function applyLooks(sheet: Excel.Worksheet, cells: readonly PlacedCell[]): void {
  const rangeOf = ({ row, column, rows, columns }: Bounds) => sheet.getRangeByIndexes(row, column, rows, columns);
  for (const [format, bounds] of rectangles(cells, (cell) => cell.format)) {
    rangeOf(bounds).numberFormat = FORMATS[format as keyof typeof FORMATS] as any;
  }
  for (const [name, bounds] of rectangles(cells, (cell) => cell.style)) {
    applyStyle(rangeOf(bounds).format, STYLES[name as StyleName]);
  }
}

function applyStyle(format: Excel.RangeFormat, style: Style): void {
  if (style.bold) format.font.bold = true;
  if (style.italic) format.font.italic = true;
  if (style.size) format.font.size = style.size;
  if (style.color) format.font.color = style.color;
  if (style.fill) format.fill.color = style.fill;
  if (style.indent) format.indentLevel = style.indent;
  if (style.align) format.horizontalAlignment = style.align;
  if (style.wrap) {
    format.wrapText = true;
    format.verticalAlignment = "Top";
  }
  if (style.border) {
    const edge = format.borders.getItem(style.border.edge);
    edge.style = "Continuous";
    edge.color = style.border.color;
  }
}

function applyRule(sheet: Excel.Worksheet, { row, column, rows, rule, message }: PlacedRule): void {
  const validation = sheet.getRangeByIndexes(row, column, rows, 1).dataValidation;
  validation.rule = "list" in rule ? { list: { inCellDropDown: true, source: rule.list } } : numberRule(rule);
  // A warning, not a wall: the user's workbook is the user's.
  validation.errorAlert = { showAlert: true, style: "Warning", title: RULES.title, message };
}

function numberRule({ least, most, whole }: { least: number; most: number; whole: boolean }): Excel.DataValidationRule {
  const bounds =
    most >= 1e9
      ? {
          formula1: least < 1e-6 ? 0 : least,
          operator: least > 0 && least < 1e-6 ? "GreaterThan" : "GreaterThanOrEqualTo",
        }
      : { formula1: least < 1e-6 ? 0 : least, formula2: most, operator: "Between" };
  const rule = bounds as Excel.BasicDataValidation;
  return whole ? { wholeNumber: rule } : { decimal: rule };
}

function addChart(sheet: Excel.Worksheet, spec: PlacedChart): void {
  const source = spec.sheet === undefined ? sheet : sheet.context.workbook.worksheets.getItem(spec.sheet);
  const column = (of: { row: number; column: number }) => source.getRangeByIndexes(of.row, of.column, spec.rows, 1);
  const chart = sheet.charts.add(spec.kind, column(spec.series[0]!), "Columns");
  chart.name = spec.title;
  chart.title.text = spec.title;
  chart.legend.position = "Bottom";
  chart.axes.valueAxis.title.text = spec.valueTitle;
  chart.axes.valueAxis.numberFormat = FORMATS[spec.format];
  spec.series.forEach((placed, i) => {
    const series = i === 0 ? chart.series.getItemAt(0) : chart.series.add(placed.name);
    series.name = placed.name;
    series.setValues(column(placed));
    series.setXAxisValues(column(spec.categories));
    series.format.fill.setSolidColor(placed.fill);
    series.format.line.color = "#17463C";
  });
  chart.setPosition(cellAddress(spec.top, spec.left), cellAddress(spec.bottom, spec.right));
}

/** Widths, frozen panes and the printed page of a sheet that is all ours. */
export function setUpSheet(sheet: Excel.Worksheet, setup: SheetSetup, rows: number, columns: number): void {
  setup.widths.forEach((width, i) => {
    sheet.getRangeByIndexes(0, i, 1, 1).getEntireColumn().format.columnWidth = width;
  });
  for (const [row, height] of setup.rowHeights) {
    sheet.getRangeByIndexes(row, 0, 1, 1).getEntireRow().format.rowHeight = height;
  }
  sheet.showGridlines = false;
  if (setup.frozenColumns === 0) sheet.freezePanes.freezeRows(setup.frozenRows);
  else sheet.freezePanes.freezeAt(sheet.getRangeByIndexes(0, 0, setup.frozenRows, setup.frozenColumns));
  const layout = sheet.pageLayout;
  const { page, pagesWide = 1 } = setup;
  layout.orientation = "Landscape";
  // Excel passes over page breaks where pages are made to fit.
  layout.zoom = page ? { scale: page.scale } : { horizontalFitToPages: pagesWide, verticalFitToPages: 0 };
  if (pagesWide > 1) layout.setPrintTitleColumns("$A:$A");
  if (page) {
    Object.assign(layout, { leftMargin: MARGIN, rightMargin: MARGIN, topMargin: MARGIN, bottomMargin: 2 * MARGIN });
    for (const row of page.breaksAbove) sheet.horizontalPageBreaks.add(cellAddress(row, 0));
  }
  layout.setPrintArea(sheet.getRangeByIndexes(0, 0, rows, page?.columns ?? columns));
  layout.setPrintTitleRows(`$${setup.printTitleRow + 1}:$${setup.printTitleRow + 1}`);
  layout.headersFooters.defaultForAllPages.centerFooter = "&A, page &P of &N";
}

/** Points that every printer can keep free. */
const MARGIN = 18;
