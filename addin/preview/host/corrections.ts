/**
 * What the engine does too slowly, or otherwise than Excel, put right where it happens. Its members used here are not
 * meant for others; its version is pinned.
 */
import type { Workbook, Worksheet } from "@univerjs/core";
import type {
  BaseValueObject,
  FormulaDataModel,
  IFormulaDataItem,
  IFormulaRuntimeService,
} from "@univerjs/engine-formula";
import { COLUMNS, ROWS } from "./a1";
import type { UniverModules } from "./modules";

const READ_ANEW = { rowsInCache: [], rowsNotInCache: [] };
/** Text and separators of an array constant, and what is neither. */
const ARRAY_PARTS = /"[^"]*"|[,;]|[^",;]+/g;

const corrected = new WeakSet<UniverModules["ArrayValueObject"]>();

/** What all workbooks share of the engine. */
export function correctValues(modules: UniverModules) {
  if (corrected.has(modules.ArrayValueObject)) return;
  corrected.add(modules.ArrayValueObject);
  compareCells(modules);
  keepTextOfArrays(modules);
}

/**
 * The engine notes which rows of a column hold which value, and then compares its notes instead of the cells. There text
 * of digits is a number, an error is text and 0 is blank; so it compares the cells.
 */
function compareCells({ CELL_INVERTED_INDEX_CACHE: notes }: UniverModules) {
  notes.set = () => undefined;
  notes.setContinueBuildingCache = () => undefined;
  notes.canUseCache = () => READ_ANEW;
}

/** The engine splits an array constant at every comma and semicolon, even inside a text. (It drops quotes inside one before.) */
function keepTextOfArrays({ ArrayValueObject, StringValueObject, ValueObjectFactory }: UniverModules) {
  const prototype = ArrayValueObject.prototype as unknown as { _formatValue(given: unknown): unknown };
  const { _formatValue: take } = prototype;
  prototype._formatValue = function (given) {
    if (typeof given !== "string" || !given.includes('"')) return take.call(this, given);
    const rows: BaseValueObject[][] = [[]];
    for (const [part] of given.slice(1, -1).matchAll(ARRAY_PARTS)) {
      if (part === ";") rows.push([]);
      else if (part.startsWith('"')) rows.at(-1)!.push(StringValueObject.create(part.slice(1, -1)));
      else if (part.trim() !== "" && part !== ",") rows.at(-1)!.push(ValueObjectFactory.create(part.trim()));
    }
    const columnCount = Math.max(...rows.map((row) => row.length));
    const place = { unitId: "", sheetId: "", row: -1, column: -1 };
    return take.call(this, { calculateValueList: rows, rowCount: rows.length, columnCount, ...place });
  };
}

/** A formula may fill cells past those the engine holds of a sheet, as far as Excel's sheets go. */
export function allowTallSpills(runtime: IFormulaRuntimeService) {
  const setCurrent = runtime.setCurrent.bind(runtime);
  runtime.setCurrent = (row, column, _rows, _columns, sheetId, unitId) =>
    setCurrent(row, column, ROWS, COLUMNS, sheetId, unitId);
}

/** The values that formulas spill change in place; the engine would copy all of a sheet, as text, at each calculation. */
export function keepSpillsInPlace(formulas: FormulaDataModel) {
  const forget = (unitId: string, sheetId: string, row: number, column: number) => {
    const range = formulas.getArrayFormulaRange()[unitId]?.[sheetId]?.[row]?.[column];
    const cells = formulas.getArrayFormulaCellData()[unitId]?.[sheetId];
    if (!range) return false;
    for (let r = range.startRow; r <= range.endRow; r++) {
      for (let c = range.startColumn; c <= range.endColumn; c++) delete cells?.[r]?.[c];
    }
    return true;
  };
  formulas.clearPreviousArrayFormulaCellData = (cleared) => {
    for (const [unitId, sheets] of Object.entries(cleared)) {
      for (const [sheetId, heads] of Object.entries(sheets ?? {})) {
        heads.forValue((row, column) => {
          if (forget(unitId, sheetId, row, column))
            delete formulas.getArrayFormulaRange()[unitId]![sheetId]![row]![column];
        });
      }
    }
  };
  formulas.mergeArrayFormulaCellData = (calculated) => {
    const spilled = formulas.getArrayFormulaCellData();
    for (const [unitId, sheets] of Object.entries(calculated)) {
      spilled[unitId] ??= {};
      formulas.getArrayFormulaRange()[unitId] ??= {};
      for (const [sheetId, values] of Object.entries(sheets ?? {})) {
        for (const [row, heads] of Object.entries(formulas.getArrayFormulaRange()[unitId]![sheetId] ?? {})) {
          for (const column of Object.keys(heads ?? {})) {
            if (values.getValue(Number(row), Number(column)) !== undefined)
              forget(unitId, sheetId, Number(row), Number(column));
          }
        }
        spilled[unitId][sheetId] ??= {};
        const cells = spilled[unitId][sheetId];
        for (const row in values.getMatrix()) {
          const calculatedRow = values.getMatrix()[row]!;
          const line = cells[row] ?? {};
          cells[row] = line;
          for (const column in calculatedRow) {
            const cell = calculatedRow[column];
            if (cell) line[column] = cell;
            else delete line[column];
          }
        }
      }
    }
  };
}

/** The engine goes over every cell of the workbook to find its formulas, several times for one edit. */
export function findFormulasQuickly(formulas: FormulaDataModel, workbook: Workbook) {
  formulas.getFormulaData = () => {
    const sheets = workbook.getSheets().map((sheet) => {
      const sheetId = sheet.getSheetId();
      return [sheetId, formulasOf(sheet) ?? formulas.getSheetFormulaData(workbook.getUnitId(), sheetId)] as const;
    });
    return { [workbook.getUnitId()]: Object.fromEntries(sheets) };
  };
}

/** The formulas of a sheet by row and column; undefined where cells share one, which the engine puts together. */
function formulasOf(sheet: Worksheet): Record<number, Record<number, IFormulaDataItem>> | undefined {
  const found: Record<number, Record<number, IFormulaDataItem>> = {};
  let isShared = false;
  sheet.getCellMatrix().forValue((row, column, cell) => {
    isShared ||= Boolean(cell?.si);
    if (!cell?.f?.startsWith("=") || cell.f.length < 2) return !isShared;
    const formulas = found[row] ?? {};
    formulas[column] = { f: cell.f };
    found[row] = formulas;
    return !isShared;
  });
  return isShared ? undefined : found;
}

/** The engine asks every row of every sheet at each calculation. Here filters hide rows as users do. */
export function findHiddenRowsQuickly(formulas: FormulaDataModel, workbook: Workbook) {
  formulas.getHiddenRowsFiltered = () => {
    const sheets = workbook.getSheets().map((sheet) => {
      const rows = Object.entries(sheet.getConfig().rowData).filter(([, row]) => row?.hd === HIDDEN);
      return [sheet.getSheetId(), Object.fromEntries(rows.map(([row]) => [row, { hd: HIDDEN }]))] as const;
    });
    return { [workbook.getUnitId()]: Object.fromEntries(sheets) };
  };
}

/** BooleanNumber.TRUE of the engine, which is a value only at run time. */
const HIDDEN = 1;
