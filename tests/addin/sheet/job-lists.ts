/** Job lists in the headless workbook, and the figures of an Audit sheet found by their labels, as an owner finds them. */
import { findJobList, insertAudit, type JobSource, readJobs, type WrittenAudit } from "../../../addin/sheet";
import { type Audit, auditOf } from "../../../functions/audit/audit";
import type { CheckedJobs } from "../../../functions/audit/check";
import { guessMapping, type Mapping } from "../../../functions/audit/headings";
import { valuesOf } from "./workbook";

export type Cells = readonly (readonly unknown[])[];

export const quietly = () => ({ signal: new AbortController().signal, progress: () => undefined });

/** Types a list into a sheet, which is added where there is none; text stays text, and `{ f }` is a formula. */
export async function typeList(sheetName: string, from: string, cells: Cells, table?: string): Promise<void> {
  const typed = (cell: any) => (typeof cell === "string" && cell !== "" ? `'${cell}` : (cell?.f ?? cell));
  await Excel.run(async (context) => {
    const found = context.workbook.worksheets.getItemOrNullObject(sheetName);
    await context.sync();
    const sheet = found.isNullObject ? context.workbook.worksheets.add(sheetName) : found;
    const range = sheet.getRange(from).getResizedRange(cells.length - 1, cells[0]!.length - 1);
    range.formulas = cells.map((row) => row.map(typed));
    if (table) sheet.tables.add(range, true).name = table;
    sheet.activate();
    sheet.getRange(from).select();
    await context.sync();
  });
}

export interface Audited extends CheckedJobs {
  readonly source: JobSource;
  readonly mapping: Mapping;
  readonly audit: Audit;
  readonly written: WrittenAudit;
}

/** Finds the list at the selected cell, checks it and writes its audit, as the Jobs view does. */
export async function auditList(mapping?: Mapping): Promise<Audited> {
  const source = await findJobList();
  const mapped = mapping ?? guessMapping(source.headings);
  const checked = await readJobs(source, mapped, quietly());
  const audit = auditOf(checked.jobs, mapped);
  const written = await insertAudit(source, mapped, audit, checked.problems, quietly());
  return { ...checked, source, mapping: mapped, audit, written };
}

/** The cells of an audit, and below them those of its sheet with the job rows. */
export const auditCells = async (sheet = "Audit"): Promise<any[][]> => [
  ...(await cellsOf(sheet)),
  [],
  ...(await cellsOf(`${sheet} jobs`)),
];

function cellsOf(sheet: string): Promise<any[][]> {
  return Excel.run(async (context) => {
    const used = context.workbook.worksheets.getItem(sheet).getUsedRange().load("address");
    await context.sync();
    const cells = used.address.slice(used.address.lastIndexOf("!") + 1);
    return valuesOf(`'${sheet}'!A1:${cells.split(":")[1]}`);
  });
}

function rowOf(cells: any[][], label: string, from = 0): number {
  const row = cells.findIndex((line, i) => i >= from && line.includes(label));
  if (row < 0) throw new Error(`the audit has no cell "${label}" from row ${from + 1} on`);
  return row;
}

/** Rows below a line of labels, as records, for as long as the first of the labels has something below it. */
export function rowsUnder(cells: any[][], labels: readonly string[], title?: string): Record<string, any>[] {
  const head = rowOf(cells, labels[0]!, title ? rowOf(cells, title) : 0);
  const columns = labels.map((label) => cells[head]!.indexOf(label));
  const rows: Record<string, any>[] = [];
  for (let row = head + 1; (cells[row]?.[columns[0]!] ?? "") !== ""; row++) {
    rows.push(Object.fromEntries(labels.map((label, i) => [label, cells[row]![columns[i]!]])));
  }
  return rows;
}

/** The figure below a label. */
export function figureUnder(cells: any[][], label: string): any {
  const row = rowOf(cells, label);
  return cells[row + 1]![cells[row]!.indexOf(label)];
}

/** The job rows, each a record by title; blank ones too. */
export function jobRows(cells: any[][], rows: number): Record<string, any>[] {
  const head = rowOf(cells, "Counted");
  const line: string[] = cells[head]!;
  // A gap parts the jobs from the list of duplicates.
  const titles = line.includes("") ? line.slice(0, line.indexOf("")) : line;
  return Array.from({ length: rows }, (_, r) =>
    Object.fromEntries(titles.map((title, i) => [title, cells[head + 1 + r]?.[i] ?? ""])),
  );
}
