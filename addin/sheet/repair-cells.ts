/**
 * Check and repair: finds the cells that call our functions and show #NAME?, wait or are out of date, and re-enters
 * those that were entered before the add-in loaded, which Excel doesn't recognize. It reads formulas token by token, so
 * the pane loads it only when somebody checks.
 */
import { asEntered } from "./entered-formula";
import { withHindrances } from "./hindrances";
import { inWorkbook, refuseReadOnly } from "./in-workbook";
import { type Means, stopIfAsked } from "./job-list";
import { allOrNothing, type Ledger } from "./ledger";
import { type Area, batchesOf, cellsOf, rangeOf, readAgain, readAreas, sheetOf, sheetsOf } from "./our-areas";
import { type CheckedWorkbook, isWaiting, type OurCell, placeKey, rowsOf, type Stale, sortOut } from "./our-cells";
import { REPAIRING } from "./repair-texts";

export interface Repaired {
  readonly entered: number;
  readonly fixed: number;
  /** The workbook as it is now. */
  readonly checked: CheckedWorkbook;
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
  const restless = new Set(now.flatMap((cell, i) => (cell.value === later[i]!.value ? [] : [placeKey(cell)])));
  return { stale: changed.filter(({ cell }) => !restless.has(placeKey(cell))), restless: restless.size };
}

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
    await ledger.noteFilled(sheetOf(areas, batch[0]!), ranges);
    for (const [k, block] of batch.entries()) {
      const range = ranges[k]!;
      const formats = range.numberFormat;
      range.formulas = rowsOf(block, ({ formula }) => asEntered(formula));
      range.numberFormat = formats;
    }
    await ledger.context.sync();
  }
}
