/**
 * Check and repair: finds the cells that call our functions and show #NAME?, wait or are out of date, and re-enters
 * those that were entered before the add-in loaded, which Excel doesn't recognize. It reads formulas token by token, so
 * the pane loads it only when somebody checks.
 */
import { partsOf, referencesIn, whereabouts } from "../share/math/references";
import { ourId, tokensOf } from "../share/tokens";
import { asEntered } from "./entered-formula";
import { inWorkbook, refuseReadOnly } from "./in-workbook";
import { type Means, stopIfAsked } from "./job-list";
import { allOrNothing, type Ledger } from "./ledger";
import {
  blocksOf,
  type CellBlock,
  type CheckedWorkbook,
  isWaiting,
  type OurCell,
  ourCellsIn,
  rowsOf,
  type Stale,
  sortOut,
} from "./our-cells";
import { REPAIRING } from "./repair-texts";
import { inNamespace } from "./write";

export interface Repaired {
  readonly entered: number;
  readonly fixed: number;
  /** The workbook as it is now. */
  readonly checked: CheckedWorkbook;
}

/** Cells read in one request; halved where Excel says that their formulas are too long for that. */
const READ_AT_ONCE = 20_000;
/** Of work on what was read. */
const WITHOUT_PAUSE_MS = 40;
/** Cells and blocks written in one request. */
const WRITTEN_AT_ONCE = 2000;
const BLOCKS_AT_ONCE = 200;

/** A part of a sheet that has cells of ours. */
interface Area {
  readonly sheet: Excel.Worksheet;
  readonly row: number;
  readonly column: number;
  readonly rows: number;
  readonly columns: number;
  readonly cells: OurCell[];
  /** Whether its sheet hides any rows, by a filter or by hand. */
  readonly hidesRows: boolean;
}

/** Calculates everything and lists what changed; no formula is touched. */
export function checkWorkbook(known: readonly string[], means: Means): Promise<CheckedWorkbook> {
  return inWorkbook(async (context) => {
    const sheets = await sheetsOf(context);
    const areas = await readAreas(sheets, means);
    const found = cellsOf(areas);
    await calculateAll(context, means);
    const now = cellsOf(await readAgain(areas, means));
    const changed = found.flatMap((cell, i) =>
      cell.value === now[i]!.value || isWaiting(cell.value) ? [] : [{ cell, before: cell.value, after: now[i]!.value }],
    );
    const { stale, restless } = await withoutRestless(context, areas, now, changed, means);
    return sortOut(sheets.length, await withHindrances(context, areas, now), known, stale, restless);
  });
}

/** Re-enters what Excel doesn't recognize: all of it or nothing. */
export function repairWorkbook(known: readonly string[], means: Means): Promise<Repaired> {
  return inWorkbook(async (context) => {
    const sheets = await sheetsOf(context);
    refuseReadOnly(context);
    const areas = await readAreas(sheets, means);
    const before = sortOut(sheets.length, await withHindrances(context, areas, cellsOf(areas)), known);
    const toEnter = before.unrecognized.filter(({ hindrance }) => hindrance === "");
    return allOrNothing(context, async (ledger) => {
      await enterAgain(ledger, areas, toEnter, means);
      await calculateAll(context, means);
      const cells = await withHindrances(context, areas, cellsOf(await readAgain(areas, means)));
      const checked = sortOut(sheets.length, cells, known);
      const left = checked.unrecognized.filter(({ hindrance }) => hindrance === "");
      return { entered: toEnter.length, fixed: toEnter.length - left.length, checked };
    });
  });
}

interface ReadSheet {
  readonly sheet: Excel.Worksheet;
  readonly used: Excel.Range;
}

/** Every sheet, hidden ones too. */
async function sheetsOf(context: Excel.RequestContext): Promise<ReadSheet[]> {
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

const cellsOf = (areas: readonly Area[]): OurCell[] => areas.flatMap((area) => area.cells);

async function readAreas(sheets: readonly ReadSheet[], means: Means): Promise<Area[]> {
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
async function readAgain(areas: readonly Area[], means: Means): Promise<Area[]> {
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

const PAUSE_MS = 250;
const MOST_PAUSES = 240;
const pause = () => new Promise<void>((resume) => setTimeout(resume, PAUSE_MS));

/** Calculates every cell, and waits until Excel says that it is done. */
async function calculateAll(context: Excel.RequestContext, means: Means): Promise<void> {
  const { application } = context.workbook;
  await means.progress(0, 1, REPAIRING.calculating);
  stopIfAsked(means);
  application.calculate("Full");
  for (let pauses = 0; pauses < MOST_PAUSES; pauses++) {
    application.load("calculationState");
    await context.sync();
    if (application.calculationState === "Done") return;
    await means.progress(0, 1, REPAIRING.calculating);
    stopIfAsked(means);
    await pause();
  }
}

/** What changes again at a second calculation was not out of date: it changes every time, as with RAND or NOW. */
async function withoutRestless(
  context: Excel.RequestContext,
  areas: readonly Area[],
  now: readonly OurCell[],
  changed: readonly Stale[],
  means: Means,
): Promise<{ stale: readonly Stale[]; restless: number }> {
  if (changed.length === 0) return { stale: [], restless: 0 };
  await calculateAll(context, means);
  const later = cellsOf(await readAgain(areas, means));
  const restless = new Set(now.flatMap((cell, i) => (cell.value === later[i]!.value ? [] : [nameless(cell)])));
  return { stale: changed.filter(({ cell }) => !restless.has(nameless(cell))), restless: restless.size };
}

const nameless = ({ sheet, row, column }: OurCell) => `${row},${column},${sheet}`;

/** The cells, each with what keeps it from being re-entered; looked up only where needed. */
async function withHindrances(
  context: Excel.RequestContext,
  areas: readonly Area[],
  cells: readonly OurCell[],
): Promise<OurCell[]> {
  const isText = new Set<string>();
  const needed = cells.filter(({ value, hindrance }) => value === "#NAME?" && hindrance === "");
  for (const batch of batchesOf(needed)) {
    const ranges = batch.map((block) => rangeOf(areas, block).load("numberFormat"));
    await context.sync();
    for (const [i, block] of batch.entries()) {
      const formats = ranges[i]!.numberFormat.flat();
      for (const [k, cell] of block.cells.entries()) if (formats[k] === TEXT_FORMAT) isText.add(nameless(cell));
    }
  }
  const hindered = cells.map((cell) =>
    isText.has(nameless(cell)) ? { ...cell, hindrance: "text format" as const } : cell,
  );
  return withUnknownNames(context, hindered);
}

/** Names in a formula, with their sheet if given; LET and LAMBDA have names of their own, not the workbook's. */
function namesIn(formula: string): { sheet: string | undefined; name: string }[] {
  if (/(?:LET|LAMBDA)\s*\(/i.test(formula)) return [];
  try {
    const places = referencesIn(partsOf(formula)).map((reference) => whereabouts(reference));
    return places.flatMap((place) => (place.kind === "name" ? [place] : []));
  } catch {
    return []; // unreadable formulas get no blame
  }
}

/** What an unknown name in a formula makes of its cell: our functions pass #NAME? on as #VALUE!. */
const MAY_BE_UNNAMED = ["#NAME?", "#VALUE!"];

/** The cells that may show an error for it, each with those names of its formula that the workbook does not have. */
async function withUnknownNames(context: Excel.RequestContext, cells: readonly OurCell[]): Promise<OurCell[]> {
  const asked = new Map(
    cells.flatMap((cell) => {
      const names = MAY_BE_UNNAMED.includes(String(cell.value)) ? namesIn(cell.formula) : [];
      return names.length > 0 ? [[cell, names] as const] : [];
    }),
  );
  if (asked.size === 0) return [...cells];
  const { names, tables, worksheets } = context.workbook;
  names.load("items/name");
  tables.load("items/name");
  worksheets.load("items/name,items/names/items/name");
  await context.sync();
  const plain = (text: string) => text.toLowerCase();
  const shared = new Set([...names.items, ...tables.items].map(({ name }) => plain(name)));
  const own = new Map(
    worksheets.items.map((sheet) => [plain(sheet.name), new Set(sheet.names.items.map(({ name }) => plain(name)))]),
  );
  const isUnknown = (cell: OurCell, name: string, sheet = cell.sheet) => {
    const ofSheet = own.get(plain(sheet));
    return ofSheet !== undefined && !ofSheet.has(plain(name)) && !shared.has(plain(name));
  };
  return cells.map((cell) => {
    const missing = (asked.get(cell) ?? []).filter(({ name, sheet }) => isUnknown(cell, name, sheet));
    return missing.length === 0 ? cell : { ...cell, unknownNames: missing.map(({ name }) => name) };
  });
}

/** In a cell with this number format, Excel takes a formula for text. */
const TEXT_FORMAT = "@";

/** Blocks of cells, as many as one request takes; on the sheets in `singly`, each cell is a block. */
function batchesOf(cells: readonly OurCell[], singly: ReadonlySet<string> = new Set()): CellBlock[][] {
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

const sheetOf = (areas: readonly Area[], { cells }: CellBlock) =>
  areas.find(({ sheet }) => sheet.name === cells[0]!.sheet)!.sheet;

const rangeOf = (areas: readonly Area[], block: CellBlock) =>
  sheetOf(areas, block).getRangeByIndexes(block.row, block.column, block.cells.length / block.columns, block.columns);

/** Writes the formulas as they are, and keeps the number formats that Excel would choose anew. */
async function enterAgain(
  ledger: Ledger,
  areas: readonly Area[],
  cells: readonly OurCell[],
  means: Means,
): Promise<void> {
  // Where a filter hides rows, Excel loses what is written to several at once.
  const singly = new Set(areas.filter(({ hidesRows }) => hidesRows).map(({ sheet }) => sheet.name));
  const batches = batchesOf(cells, singly);
  for (const [i, batch] of batches.entries()) {
    await means.progress(i, batches.length, REPAIRING.entering);
    stopIfAsked(means);
    const ranges = batch.map((block) => rangeOf(areas, block).load("numberFormat"));
    await ledger.fill(sheetOf(areas, batch[0]!), ranges);
    for (const [k, block] of batch.entries()) {
      const range = ranges[k]!;
      const formats = range.numberFormat;
      range.formulas = rowsOf(block, ({ formula }) => asEntered(formula));
      range.numberFormat = formats;
    }
    await ledger.context.sync();
  }
}
