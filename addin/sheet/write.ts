/**
 * Puts a block on a worksheet, in the order Excel needs: text, then tables and names, then the formulas that use them.
 * Each goes to all of the block's cells at once.
 */
import { cellAddress, rangeAddress } from "../common/a1";
import type { Block, PlacedCell, PlacedChart, PlacedRule, SheetSetup } from "./block";
import { RULES } from "./plan-texts";
import { formatCode, LOOKS } from "./styles";

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

/** Cells that are only written to: Excel need not keep them in mind, which takes three actions for each range. */
const untracked = (sheet: Excel.Worksheet, ...bounds: Parameters<Excel.Worksheet["getRangeByIndexes"]>): Excel.Range =>
  sheet.getRangeByIndexes(...bounds).untrack();

/** Rows written in one request: Excel takes only so much at once. */
const BAND = 2000;

/** Something for each cell of an area; null where a cell is to stay as it is. */
type Grid = <T>(of: (cell: PlacedCell) => T, otherwise: T) => T[][];

/** Writes to the sheet, a band of rows after the other; usually there is but one, which leaves with whatever comes next. */
async function inBands(
  sheet: Excel.Worksheet,
  cells: readonly PlacedCell[],
  put: (area: Excel.Range, grid: Grid) => void,
): Promise<void> {
  const bands = new Map<number, PlacedCell[]>();
  for (const cell of cells) {
    const key = Math.floor(cell.row / BAND);
    const band = bands.get(key);
    if (band) band.push(cell);
    else bands.set(key, [cell]);
  }
  for (const area of [...bands.values()].flatMap(wideAndNarrow)) {
    const bounds = boundsOf(area);
    put(untracked(sheet, bounds.row, bounds.column, bounds.rows, bounds.columns), (of, otherwise) => {
      const lines = Array.from({ length: bounds.rows }, () =>
        new Array<typeof otherwise>(bounds.columns).fill(otherwise),
      );
      for (const cell of area) lines[cell.row - bounds.row]![cell.column - bounds.column] = of(cell);
      return lines;
    });
    if (bands.size > 1) await sheet.context.sync();
  }
}

/** Cells of an area that is larger are sent by office.js in several requests. */
const SENT_AT_ONCE = 1500;

/** A wide table above narrow rows is an area of its own: together they would be mostly empty cells. */
function wideAndNarrow(cells: readonly PlacedCell[]): (readonly PlacedCell[])[] {
  const { row, column, rows, columns } = boundsOf(cells);
  if (rows * columns <= SENT_AT_ONCE) return [cells];
  const lastWide = Math.max(...cells.filter((cell) => cell.column >= column + columns / 2).map((cell) => cell.row));
  const areas = [cells.filter((cell) => cell.row <= lastWide), cells.filter((cell) => cell.row > lastWide)];
  return lastWide < row + rows / 2 ? areas : [cells];
}

const constant = ({ content }: PlacedCell) => (isFormula(content) || content === "" ? null : entryOf(content));

/** A cell's content as it is entered. */
export function entryOf(content: PlacedCell["content"]): string | number | boolean {
  if (isFormula(content)) return inNamespace(content.formula);
  return typeof content === "string" ? asText(content) : content;
}

const formula = ({ content }: PlacedCell) => (isFormula(content) ? entryOf(content) : null);

/** Asks for all of it; unless it is very long, nothing is sent before the caller syncs. */
export async function writeBlock(sheet: Excel.Worksheet, block: Block): Promise<void> {
  await inBands(sheet, block.cells, (area, grid) => {
    area.formulas = grid<any>(constant, null);
  });
  for (const { name, row, column, rows, columns } of block.tables) {
    const table = sheet.tables.add(rangeAddress(row, column, rows, columns), true);
    table.name = name;
    table.style = "TableStyleLight1";
    table.showBandedRows = false;
    table.showFilterButton = false;
  }
  const cellsAt = rangesOf(sheet);
  for (const { name, row, column, scope } of block.names) {
    const names = scope === "sheet" ? sheet.names : sheet.context.workbook.names;
    names.add(name, cellsAt(row, column, 1));
  }
  await inBands(sheet, block.cells, (area, grid) => {
    area.formulas = grid<any>(formula, null);
    area.numberFormat = grid<any>(({ format }) => (format ? formatCode(format, block.sign) : null), null);
    area.setCellProperties(grid(({ style }) => (style ? LOOKS[style] : {}), {}));
  });
  for (const { row, column, rows, columns, format } of sideBySide(block.looks)) {
    if (!format) continue;
    const range = untracked(sheet, row, column, rows, columns);
    range.numberFormat = formatCode(format, block.sign) as any;
    // Words in place of a figure, too, so that they don't touch the one before.
    range.format.horizontalAlignment = "Right";
  }
  for (const rule of block.rules) applyRule(cellsAt(rule.row, rule.column, rule.rows), rule);
  for (const chart of block.charts) addChart(sheet, chart, block.sign);
}

/** Cells of a column, asked for once: many have a name and a rule, and every range costs. */
function rangesOf(sheet: Excel.Worksheet) {
  const known = new Map<string, Excel.Range>();
  return (row: number, column: number, rows: number): Excel.Range => {
    const key = `${row},${column},${rows}`;
    const range = known.get(key) ?? untracked(sheet, row, column, rows, 1);
    known.set(key, range);
    return range;
  };
}

/** Looks of neighboring columns that are the same become one. */
function sideBySide(looks: Block["looks"]): Block["looks"] {
  const joined: Block["looks"] = [];
  for (const look of looks) {
    const last = joined.at(-1);
    const goesOn =
      last?.format === look.format &&
      last?.row === look.row &&
      last.rows === look.rows &&
      last.column + last.columns === look.column;
    if (last && goesOn) last.columns += look.columns;
    else joined.push({ ...look });
  }
  return joined;
}

export function applyRule({ dataValidation: validation }: Excel.Range, { rule, message }: PlacedRule): void {
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

function addChart(sheet: Excel.Worksheet, spec: PlacedChart, sign: string | undefined): void {
  const source = spec.sheet === undefined ? sheet : sheet.context.workbook.worksheets.getItem(spec.sheet);
  const cellsAt = rangesOf(source);
  const column = (of: { row: number; column: number }) => cellsAt(of.row, of.column, spec.rows);
  const chart = sheet.charts.add(spec.kind, column(spec.series[0]!), "Columns");
  chart.name = spec.title;
  chart.title.text = spec.title;
  chart.legend.position = "Bottom";
  chart.axes.valueAxis.title.text = spec.valueTitle;
  chart.axes.valueAxis.numberFormat = formatCode(spec.format, sign);
  spec.series.forEach((placed, i) => {
    const series = i === 0 ? chart.series.getItemAt(0) : chart.series.add(placed.name);
    series.name = placed.name;
    series.setValues(column(placed));
    series.setXAxisValues(column(spec.categories));
    series.format.fill.setSolidColor(placed.fill);
    // A line is known by its color, an area by what is around it.
    series.format.line.color = spec.kind === "Line" ? placed.fill : "#17463C";
  });
  chart.setPosition(cellAddress(spec.top, spec.left), cellAddress(spec.bottom, spec.right));
}

/** Widths, frozen panes and the printed page of a sheet that is all ours. */
export function setUpSheet(sheet: Excel.Worksheet, setup: SheetSetup, rows: number, columns: number): void {
  const widths = setup.widths.map((columnWidth) => ({ format: { columnWidth } }));
  untracked(sheet, 0, 0, 1, widths.length).setColumnProperties(widths);
  for (const [row, rowHeight] of setup.rowHeights) {
    untracked(sheet, row, 0, 1, 1).format.rowHeight = rowHeight;
  }
  sheet.showGridlines = false;
  if (setup.frozenColumns === 0) sheet.freezePanes.freezeRows(setup.frozenRows);
  else sheet.freezePanes.freezeAt(untracked(sheet, 0, 0, setup.frozenRows, setup.frozenColumns));
  const layout = sheet.pageLayout;
  const { page, portrait, pagesWide = 1 } = setup;
  layout.orientation = portrait ? "Portrait" : "Landscape";
  // Excel passes over page breaks where pages are made to fit.
  layout.zoom = page
    ? { scale: page.scale }
    : { horizontalFitToPages: pagesWide, verticalFitToPages: portrait?.pagesTall ?? 0 };
  if (pagesWide > 1) layout.setPrintTitleColumns("$A:$A");
  if (page) {
    Object.assign(layout, { leftMargin: MARGIN, rightMargin: MARGIN, topMargin: MARGIN, bottomMargin: 2 * MARGIN });
    for (const row of page.breaksAbove) sheet.horizontalPageBreaks.add(cellAddress(row, 0));
  }
  layout.setPrintArea(untracked(sheet, 0, 0, rows, page?.columns ?? portrait?.columns ?? columns));
  layout.setPrintTitleRows(`$${setup.printTitleRow + 1}:$${setup.printTitleRow + 1}`);
  layout.headersFooters.defaultForAllPages.centerFooter = "&A, page &P of &N";
  const { fittedRows } = setup;
  // Once the columns have their widths.
  if (fittedRows) untracked(sheet, fittedRows.from, 0, fittedRows.to - fittedRows.from, 1).format.autofitRows();
}

/** Points that every printer can keep free. */
const MARGIN = 18;
