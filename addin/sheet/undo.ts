/** Takes out what a command put into the workbook, by the account that its ledger kept. */
import { type Consent, needYes } from "../common/refusal";
import { inWorkbook } from "./in-workbook";
import { contentOf, type Inserted, watchedCells } from "./ledger";
import { ask, gone, refuse } from "./refusals";
import { isInPlace } from "./resized";
import { type Found, stillThere, type Traces, takeOut } from "./take-out";

/** Removes exactly what was inserted and puts back what stood there; asks first when the user has changed it since. */
export function undo(inserted: Inserted, agreed: Consent = false): Promise<void> {
  return inWorkbook(async (context) => {
    const { filled = [], columns = [], rows = [] } = inserted;
    const traces: Traces = { ...inserted, filled, columns, rows };
    const found = await stillThere(context, traces);
    if ([...found.filledHomes, ...found.rowHomes, ...found.grown].some((item) => !item)) throw gone("cells");
    if (found.changes.some(({ sheet }) => !sheet)) throw gone("sheet");
    if (found.resized.some((now) => !now)) throw gone("cells");
    found.resized.forEach((now, i) => {
      const resized = inserted.resized![i]!;
      if (!isInPlace(now!.now, resized)) throw refuse("undoResized", { table: resized.name });
      if (now!.range.rowHidden !== false) throw refuse("undoHidden", { at: now!.range.address });
    });
    // Where a filter hides rows, Excel loses what is written to several at once.
    const hidden = found.filled.find((range) => range && range.rowCount > 1 && range.rowHidden !== false);
    if (hidden) throw refuse("undoHidden", { at: hidden.address });
    const refuseIfLocked = askLocks(context, found);
    const changed = askContents(inserted, found);
    await context.sync();
    refuseIfLocked();
    const places = changed();
    if (places.length > 0) needYes(agreed, ask("undoChanged", { places }));
    takeOut(found, traces);
    await context.sync();
  }, "Part of it may still be there");
}

/** What Excel would refuse halfway is found out before anything is taken out. */
function askLocks(
  context: Excel.RequestContext,
  { sheets, filledHomes, rowHomes, grown, resizedHomes, changes }: Found,
): () => void {
  const { worksheets, protection, readOnly } = context.workbook;
  if (readOnly) throw refuse("undoReadOnly");
  const leaving = new Set(sheets.flatMap((sheet) => sheet?.id ?? []));
  worksheets.load("items/id,items/visibility");
  protection.load("protected");
  const homes = [
    ...filledHomes,
    ...rowHomes,
    ...resizedHomes,
    ...grown.map((table) => table?.worksheet),
    ...changes.map(({ sheet }) => sheet),
  ].flatMap((sheet) => sheet ?? []);
  for (const sheet of homes) {
    sheet.load("name");
    sheet.protection.load("protected");
  }
  return () => {
    const locked = homes.find((sheet) => sheet.protection.protected);
    if (locked) throw refuse("undoProtected", { sheet: locked.name });
    if (leaving.size === 0) return;
    if (protection.protected) throw refuse("undoStructure");
    const stay = worksheets.items.some(({ id, visibility }) => visibility === "Visible" && !leaving.has(id));
    if (!stay) throw refuse("undoLastSheet");
  };
}

/** Where something else stands now than what was inserted. */
function askContents(inserted: Inserted, found: Found): () => string[] {
  const used = found.sheets.map((sheet, i) => sheet && watchedCells(sheet, inserted.sheets[i]!.watched));
  const changed = found.changes.map(({ sheet }) => sheet && watchedCells(sheet.load("name")));
  const bodies = found.columns.map((column) => column?.getDataBodyRange().load("formulas"));
  const isChanged = (range: Excel.Range | undefined, { content }: { content: string }) =>
    range !== undefined && contentOf(range.formulas) !== content;
  return () => [
    ...inserted.sheets.flatMap((sheet, i) => (isChanged(used[i], sheet) ? `“${found.sheets[i]!.name}”` : [])),
    ...(inserted.changes ?? []).flatMap((change, i) =>
      isChanged(changed[i], change) ? `“${found.changes[i]!.sheet!.name}”` : [],
    ),
    ...(inserted.filled ?? []).flatMap((cell, i) => {
      return isChanged(found.filled[i], cell) ? found.filled[i]!.address : [];
    }),
    ...(inserted.rows ?? []).flatMap((placed, i) => {
      const range = found.rows[i];
      return range && contentOf(range.formulas) !== placed.content ? [range.address] : [];
    }),
    ...(inserted.resized ?? []).flatMap((table, i) => {
      const range = found.resized[i]!.range;
      return contentOf(range.formulas) !== table.content ? [range.address] : [];
    }),
    ...(inserted.columns ?? []).flatMap((column, i) => (isChanged(bodies[i], column) ? `“${column.name}”` : [])),
  ];
}
