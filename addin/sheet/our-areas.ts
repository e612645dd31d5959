/** The parts of a workbook that have cells of ours: read in requests that Excel can answer, and again after a calculation. */
import { ourId, tokensOf } from "../share/tokens";
import { type Means, stopIfAsked } from "./job-list";
import { blocksOf, type CellBlock, type OurCell, ourCellsIn } from "./our-cells";
import { REPAIRING } from "./repair-texts";
import { inNamespace } from "./write";

/** Cells read in one request; halved where Excel says that their formulas are too long for that. */
const READ_AT_ONCE = 20_000;
/** Of work on what was read. */
const WITHOUT_PAUSE_MS = 40;
/** Cells and blocks written in one request. */
const WRITTEN_AT_ONCE = 2000;
const BLOCKS_AT_ONCE = 200;

/** A part of a sheet that has cells of ours. */
export interface Area {
  readonly sheet: Excel.Worksheet;
  readonly row: number;
  readonly column: number;
  readonly rows: number;
  readonly columns: number;
  readonly cells: OurCell[];
  /** Whether its sheet hides any rows, by a filter or by hand. */
  readonly hidesRows: boolean;
}

interface ReadSheet {
  readonly sheet: Excel.Worksheet;
  readonly used: Excel.Range;
}

/** Every sheet, hidden ones too. */
export async function sheetsOf(context: Excel.RequestContext): Promise<ReadSheet[]> {
  const { worksheets } = context.workbook;
  worksheets.load("items/name");
  await context.sync();
  const sheets = worksheets.items.map((sheet) => {
    sheet.protection.load("protected");
    const used = sheet.getUsedRangeOrNullObject(true).load("rowHidden,rowIndex,columnIndex,rowCount,columnCount");
    return { sheet, used };
  });
  await context.sync();
  return sheets;
}

export const cellsOf = (areas: readonly Area[]): OurCell[] => areas.flatMap((area) => area.cells);

export async function readAreas(sheets: readonly ReadSheet[], means: Means): Promise<Area[]> {
  const own = inNamespace("GRIT.");
  const idsIn = (formula: string) => {
    const ids = tokensOf(formula.replaceAll(own, "GRIT.")).flatMap((token) => ourId(token) ?? []);
    return [...new Set(ids)];
  };
  /** Reading many formulas takes long, so the page gets a turn every so often. */
  const foundIn = async (formulas: readonly (readonly unknown[])[], pause: () => void | Promise<void>) => {
    const found: ReturnType<typeof ourCellsIn> = [];
    let since = performance.now();
    for (const [row, line] of formulas.entries()) {
      for (const cell of ourCellsIn([line], idsIn)) found.push({ ...cell, row });
      if (performance.now() - since < WITHOUT_PAUSE_MS) continue;
      await pause();
      since = performance.now();
    }
    return found;
  };
  const areas: Area[] = [];
  const filled = sheets.filter(({ used }) => !used.isNullObject);
  const total = filled.reduce((sum, { used }) => sum + used.rowCount * used.columnCount, 0);
  let done = 0;
  for (const { sheet, used } of filled) {
    const { columnIndex: left, columnCount: columns } = used;
    let most = Math.max(1, Math.floor(READ_AT_ONCE / columns));
    for (let at = 0; at < used.rowCount; ) {
      await means.progress(done, total, REPAIRING.cells);
      stopIfAsked(means);
      const rows = Math.min(most, used.rowCount - at);
      const range = sheet.getRangeByIndexes(used.rowIndex + at, left, rows, columns).load("formulas,values");
      if (!(await fitsInOneAnswer(range)) && rows > 1) {
        most = Math.ceil(rows / 2);
        continue;
      }
      const found = await foundIn(range.formulas, () => means.progress(done, total, REPAIRING.cells));
      stopIfAsked(means);
      if (found.length > 0) {
        const cells = found.map(({ row, column, formula, ids }) => ({
          sheet: sheet.name,
          row: used.rowIndex + at + row,
          column: left + column,
          formula,
          value: range.values[row]![column],
          ids,
          hindrance: sheet.protection.protected ? ("protected" as const) : ("" as const),
        }));
        areas.push(areaAround(sheet, cells, used.rowHidden !== false));
      }
      at += rows;
      done += rows * columns;
    }
  }
  return areas;
}

/** Asks for a range; false where Excel says that its answer would be too long. */
async function fitsInOneAnswer(range: Excel.Range): Promise<boolean> {
  try {
    await range.context.sync();
    return true;
  } catch (error) {
    if ((error as { code?: string }).code === "ResponsePayloadSizeLimitExceeded") return false;
    throw error;
  }
}

function areaAround(sheet: Excel.Worksheet, cells: OurCell[], hidesRows: boolean): Area {
  const row = cells[0]!.row;
  const column = cells.reduce((least, cell) => Math.min(least, cell.column), Number.POSITIVE_INFINITY);
  const columns = cells.reduce((most, cell) => Math.max(most, cell.column), 0) - column + 1;
  return { sheet, row, column, rows: cells.at(-1)!.row - row + 1, columns, cells, hidesRows };
}

/** The same cells with the values they have now. */
export async function readAgain(areas: readonly Area[], means: Means): Promise<Area[]> {
  const again: Area[] = [];
  for (const [i, area] of areas.entries()) {
    await means.progress(i, areas.length, REPAIRING.values);
    stopIfAsked(means);
    const range = area.sheet.getRangeByIndexes(area.row, area.column, area.rows, area.columns).load("values");
    await range.context.sync();
    const valueAt = ({ row, column }: OurCell) => range.values[row - area.row]![column - area.column];
    again.push({ ...area, cells: area.cells.map((cell) => ({ ...cell, value: valueAt(cell) })) });
  }
  return again;
}

/** Blocks of cells, as many as one request takes; on the sheets in `singly`, each cell is a block. */
export function batchesOf(cells: readonly OurCell[], singly: ReadonlySet<string> = new Set()): CellBlock[][] {
  const bySheet = new Map<string, OurCell[]>();
  for (const cell of cells) {
    const others = bySheet.get(cell.sheet);
    if (others) others.push(cell);
    else bySheet.set(cell.sheet, [cell]);
  }
  const batches: CellBlock[][] = [];
  for (const [name, ofSheet] of bySheet) {
    let left = 0;
    for (const block of blocksOf(ofSheet, singly.has(name) ? 1 : WRITTEN_AT_ONCE)) {
      const batch = batches.at(-1);
      if (batch && batch.length < BLOCKS_AT_ONCE && block.cells.length <= left) batch.push(block);
      else {
        batches.push([block]);
        left = WRITTEN_AT_ONCE;
      }
      left -= block.cells.length;
    }
  }
  return batches;
}

export const sheetOf = (areas: readonly Area[], { cells }: CellBlock) =>
  areas.find(({ sheet }) => sheet.name === cells[0]!.sheet)!.sheet;

export const rangeOf = (areas: readonly Area[], block: CellBlock) =>
  sheetOf(areas, block).getRangeByIndexes(block.row, block.column, block.cells.length / block.columns, block.columns);
