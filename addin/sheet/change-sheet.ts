/** Makes a change of a layout on its sheet, and takes it back: rows that came and went, then cells, names and rules. */
import { cellAddress, rangeAddress } from "../common/a1";
import { type Before, beforeOf, enterAll, holdsAs } from "./before";
import type { PlacedRule } from "./block";
import type { LayoutChange, RowStep } from "./layout-change";
import { askLooks, type Looks, settable } from "./looks";
import { formatCode, LOOKS } from "./styles";
import { applyRule, entryOf } from "./write";

type Scope = "sheet" | "workbook";

/** What it takes to put a changed sheet back as it was. */
export interface ChangedSheet {
  readonly sheetId: string;
  readonly name: string;
  /** Its cells from A1 on, before. */
  readonly before: Before;
  readonly steps: readonly RowStep[];
  /** The row below the last used one, before the steps and after each. */
  readonly ends: readonly number[];
  /** How many of them are known to be taken. */
  taken: number;
  /** Cells that are written, as "C5" of the sheet as it was. */
  readonly written: readonly string[];
  /** Rows that go, with how they look and what may be typed there. */
  readonly gone: readonly { readonly row: number; readonly looks: Looks }[];
  readonly rules: readonly PlacedRule[];
  readonly added: readonly { readonly name: string; readonly scope: Scope }[];
  readonly removed: readonly { readonly name: string; readonly scope: Scope; readonly address: string }[];
  /** The table in it, and its cells before. */
  readonly table: { readonly name: string; readonly address: string };
}

/** A change with what is around it. */
export interface AskedChange {
  readonly change: LayoutChange;
  readonly sign: string | undefined;
  /** Cells from A1 on, loaded with formulas, values and number formats. */
  readonly cells: Excel.Range;
  readonly table: { readonly name: string; readonly before: string; readonly after: string };
  /** Names that go, and where they are. */
  readonly removed: ChangedSheet["removed"];
}

const wholeRows = (sheet: Excel.Worksheet, { row, count }: RowStep) => sheet.getRange(`${row + 1}:${row + count}`);

function takeStep(sheet: Excel.Worksheet, step: RowStep): void {
  if (step.kind === "insert") wholeRows(sheet, step).insert("Down");
  else wholeRows(sheet, step).delete("Up");
}

const backwards = ({ kind, ...where }: RowStep): RowStep => ({
  kind: kind === "insert" ? "delete" : "insert",
  ...where,
});

function endsAfter(end: number, steps: readonly RowStep[]): number[] {
  const ends = [end];
  for (const { kind, count } of steps) ends.push(ends.at(-1)! + (kind === "insert" ? count : -count));
  return ends;
}

/** How many steps were taken by now, which a request that failed doesn't say: by where the sheet ends. */
function stepsTaken({ steps, ends, taken }: ChangedSheet, end: number): number {
  for (let some = taken; some <= steps.length; some++) if (ends[some] === end) return some;
  return taken;
}

const endOf = (used: Excel.Range): number => used.rowIndex + used.rowCount;

/** Asks what has to be known to take the change back; the next sync answers. */
export function askBefore(sheet: Excel.Worksheet, { change, cells, table, removed }: AskedChange): () => ChangedSheet {
  sheet.load("id,name");
  const used = sheet.getUsedRange().load("rowIndex,rowCount");
  const width = cells.formulas[0]!.length;
  const gone = change.rowsGone.map((row) => ({ row, looks: askLooks(sheet.getRangeByIndexes(row, 0, 1, width)) }));
  const place = whereBefore(change);
  return () => ({
    sheetId: sheet.id,
    name: sheet.name,
    before: beforeOf(cells),
    steps: change.steps,
    ends: endsAfter(endOf(used), change.steps),
    taken: 0,
    written: change.cells.flatMap(({ row, column }) => {
      const was = place(row);
      return was === undefined ? [] : [cellAddress(was, column)];
    }),
    gone: gone.map(({ row, looks }) => ({ row, looks: settable(looks.value) })),
    rules: change.rulesGone,
    added: change.names.added,
    removed,
    table: { name: table.name, address: table.before },
  });
}

/** Where a row of the changed sheet was before; undefined where it has come with the change. */
function whereBefore({ steps }: LayoutChange): (row: number) => number | undefined {
  return (row) => {
    let at = row;
    for (const { kind, row: from, count } of [...steps].reverse()) {
      if (at < from) continue;
      if (kind === "delete") at += count;
      else if (at < from + count) return undefined;
      else at -= count;
    }
    return at;
  };
}

/** Makes the change; `changed` keeps account of how far it came. */
export async function makeChange(
  sheet: Excel.Worksheet,
  { change, sign, table }: AskedChange,
  changed: ChangedSheet,
): Promise<void> {
  const { steps, cells, names, rules } = change;
  // Rows that come and rows that go in requests of their own: after either, it can be seen how many there were.
  for (const kind of ["insert", "delete"] as const) {
    const some = steps.filter((step) => step.kind === kind);
    if (some.length === 0) continue;
    for (const step of some) takeStep(sheet, step);
    await sheet.context.sync();
    changed.taken += some.length;
  }
  const { workbook } = sheet.context;
  const home = (scope: Scope) => (scope === "sheet" ? sheet.names : workbook.names);
  if (table.after !== table.before) workbook.tables.getItem(table.name).resize(sheet.getRange(table.after));
  for (const { name, scope } of changed.removed) home(scope).getItem(name).delete();
  for (const { name, row, column, scope } of names.added) home(scope).add(name, sheet.getCell(row, column));
  for (const { row, column, content, style, format } of cells) {
    const cell = sheet.getCell(row, column).untrack();
    if (content !== undefined) cell.formulas = [[entryOf(content)]];
    if (format) cell.numberFormat = [[formatCode(format, sign)]];
    if (style) cell.setCellProperties([[LOOKS[style]]]);
  }
  for (const rule of rules) applyRule(sheet.getRange(rangeAddress(rule.row, rule.column, rule.rows, 1)), rule);
}

/** Asks for all of it at once: the rows back, then what stood in the cells, names and rules. */
export function changeBack(sheet: Excel.Worksheet, changed: ChangedSheet, now: FoundChange): void {
  const { before, written, gone, rules, removed, table } = changed;
  const { workbook } = sheet.context;
  for (const name of now.names) name.delete();
  for (const step of changed.steps.slice(0, now.taken).reverse()) takeStep(sheet, backwards(step));
  const width = before.formulas[0]!.length;
  if (now.hasTable) workbook.tables.getItem(table.name).resize(sheet.getRange(table.address));
  for (const { row, looks } of gone) sheet.getRangeByIndexes(row, 0, 1, width).setCellProperties(looks);
  for (const rule of rules) applyRule(sheet.getRange(rangeAddress(rule.row, rule.column, rule.rows, 1)), rule);
  for (const { name, scope, address } of removed) {
    if (now.kept.has(name)) continue;
    (scope === "sheet" ? sheet.names : workbook.names).add(name, sheet.getRange(address));
  }
  const goneRows = new Set(gone.map(({ row }) => row));
  const wasWritten = new Set(written);
  const isOurs = (r: number, c: number) => goneRows.has(r) || wasWritten.has(cellAddress(r, c));
  // Formulas that had lost a cell get it back, too; what the user has typed elsewhere stays as it is.
  const masked = (lines: any[][], alsoFormulas: boolean) =>
    lines.map((line, r) =>
      line.map((entry, c) => {
        const isFormula = alsoFormulas && typeof entry === "string" && entry.startsWith("=");
        return isOurs(r, c) || isFormula ? entry : null;
      }),
    );
  enterAll(sheet.getRangeByIndexes(0, 0, before.formulas.length, width), {
    formulas: masked(before.formulas, true),
    numberFormat: masked(before.numberFormat, false),
    ...(before.early && { early: masked(before.early, false) }),
  });
}

/** What there is of a change in the workbook as it is now. */
export interface FoundChange {
  readonly taken: number;
  readonly names: readonly Excel.NamedItem[];
  /** Names that were to go and are still there. */
  readonly kept: ReadonlySet<string>;
  readonly hasTable: boolean;
  /** Whether anything is other than before. */
  readonly isWritten: boolean;
}

/** Only reads; the next sync answers. */
export function askChange(sheet: Excel.Worksheet, changed: ChangedSheet): () => FoundChange {
  const { workbook } = sheet.context;
  const used = sheet.getUsedRange().load("rowIndex,rowCount");
  const named = (names: readonly { name: string; scope: Scope }[]) =>
    names.map(({ name, scope }) =>
      (scope === "sheet" ? sheet.names : workbook.names).getItemOrNullObject(name).load("name,formula"),
    );
  const [added, removed] = [named(changed.added), named(changed.removed)];
  const table = workbook.tables.getItemOrNullObject(changed.table.name).load("name");
  const { before } = changed;
  const cells = sheet
    .getRangeByIndexes(0, 0, before.formulas.length, before.formulas[0]!.length)
    .load("formulas,values,numberFormat");
  return () => {
    const taken = stepsTaken(changed, endOf(used));
    const names = added.filter((item) => !item.isNullObject);
    const kept = new Set(removed.filter((item) => !item.isNullObject).map(({ name }) => name));
    const isAsBefore = taken === 0 && names.length === 0 && kept.size === removed.length && holdsAs(cells, before);
    return { taken, names, kept, hasTable: !table.isNullObject, isWritten: !isAsBefore };
  };
}
