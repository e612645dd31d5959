/** The cells of one sheet in the file: what they hold, how they look, how wide and high they are. */
import type { CellErrorValue, CellValue as FileValue, Worksheet } from "exceljs";
import { cellRect, formatAddress, isOneCell, parseAddress, SHEET_RECT, splitSheet } from "./a1";
import type { Engine } from "./engine";
import { type CellValue, isCellError } from "./entry";
import { DEFAULT_ROW_HEIGHT } from "./measure";
import { POINTS } from "./objects/geometry";
import { mayBeArray, storedFormula } from "./xlsx-formula";
import { Styles } from "./xlsx-style";

/** A width in the file counts digits of the default font, which are 7 pixels wide. */
const DIGIT_PIXELS = 7;
const DEFAULT_WIDTH = 64;
/** Errors younger than the format: Excel keeps elsewhere which they are, and this in the cell. */
const YOUNG_ERRORS = ["#SPILL!", "#CALC!"];

export function writeCells(engine: Engine, sheetId: string, sheet: Worksheet, namespace: string) {
  const styles = new Styles();
  writeBands(engine, sheetId, sheet, styles);
  const valueAt = engine.valueReader(sheetId);
  const isWideName = (name: string) => nameIsWide(engine, sheetId, name);
  const styledCell = (row: number, column: number) => {
    const cell = sheet.getCell(row + 1, column + 1);
    cell.style = styles.of(engine.style(sheetId, row, column), engine.custom(sheetId, row, column).locked !== false);
    return cell;
  };
  engine.forEachKnown(sheetId, SHEET_RECT, (row, column) => {
    const cell = styledCell(row, column);
    const value = fileValue(valueAt(row, column));
    const formula = engine.formula(sheetId, row, column);
    if (!formula) {
      cell.value = value;
      return;
    }
    const table = engine.book.tableAt({ sheetId, row, column })?.name;
    const stored = { formula: storedFormula(formula, { namespace, table }), result: value ?? undefined };
    const filled = engine.spillOf(sheetId, row, column) ?? cellRect(row, column);
    const isArray = !isOneCell(filled) || mayBeArray(formula, namespace, isWideName);
    cell.value = (isArray ? { ...stored, shareType: "array", ref: formatAddress(filled) } : stored) as FileValue;
    for (let r = row; r < row + filled.rows; r++) {
      for (let c = column; c < column + filled.columns; c++) {
        if (r !== row || c !== column) styledCell(r, c).value = fileValue(valueAt(r, c));
      }
    }
  });
}

function fileValue(value: CellValue | null): number | string | boolean | CellErrorValue | null {
  if (!isCellError(value)) return value;
  return { error: YOUNG_ERRORS.includes(String(value)) ? "#VALUE!" : value } as CellErrorValue;
}

/** Whether a name stands for more than one cell; of what is no reference, nobody knows. */
function nameIsWide({ book }: Engine, sheetId: string, name: string): boolean {
  const { sheet, address } = splitSheet(name);
  const found = book.findName(address, sheet === undefined ? sheetId : book.sheetIdOf(sheet));
  if (!found) return book.findTable(name) !== undefined;
  const rect = parseAddress(splitSheet(found.formula.replace(/^=/, "")).address);
  return rect ? !isOneCell(rect) : !/^=(?:-?[\d.]+|"[^"]*"|TRUE|FALSE)$/i.test(found.formula);
}

/** What columns and rows are as a whole. Beyond the last row and column no cell has a style of its own. */
function writeBands(engine: Engine, sheetId: string, sheet: Worksheet, styles: Styles) {
  const { rows, columns } = engine.sheetSize(sheetId);
  sheet.properties.defaultColWidth = DEFAULT_WIDTH / DIGIT_PIXELS;
  sheet.properties.defaultRowHeight = DEFAULT_ROW_HEIGHT * POINTS;
  for (let column = 0; column < columns; column++) {
    const width = engine.sizes.columnWidth(sheetId, column);
    const style = engine.style(sheetId, rows, column);
    const hidden = engine.sizes.columnHidden(sheetId, column);
    if (width === DEFAULT_WIDTH && !hidden && Object.keys(style).length === 0) continue;
    const own = sheet.getColumn(column + 1);
    own.width = width / DIGIT_PIXELS;
    own.hidden = hidden;
    if (Object.keys(style).length > 0) own.style = styles.of(style);
  }
  for (let row = 0; row < rows; row++) {
    const height = engine.sizes.rowHeight(sheetId, row);
    const style = engine.style(sheetId, row, columns);
    const hidden = engine.sizes.rowHidden(sheetId, row);
    if (height === DEFAULT_ROW_HEIGHT && !hidden && Object.keys(style).length === 0) continue;
    const own = sheet.getRow(row + 1);
    // Given always: a row without cells is written for its height alone.
    own.height = height * POINTS;
    own.hidden = hidden;
    if (Object.keys(style).length > 0) (own as unknown as { style: unknown }).style = styles.of(style);
  }
}
