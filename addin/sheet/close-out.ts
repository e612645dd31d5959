/** Takes a finished job into the user's own list of past jobs, under their headings; where there is none, into a new jobs table. */
import { jobCheck } from "../../functions/audit/check";
import { JOB_KEYS, type JobKey } from "../../functions/audit/fields";
import { guessMapping, type Mapping, problemsOfMapping } from "../../functions/audit/headings";
import { type ClosedJob, closedJob } from "../../functions/log/close-out";
import { cellAddress } from "../common/a1";
import { type Consent, needYes } from "../common/refusal";
import { inWorkbook, refuseReadOnly } from "./in-workbook";
import { insertSheet } from "./insert";
import { columnsOf, type ListPlace, type LocatedList, locateOne } from "./job-list";
import { readMappingIn } from "./job-mapping";
import { FIRST_JOB_ROW, jobsSheet } from "./jobs-table";
import { allOrNothing, type Inserted, type Ledger } from "./ledger";
import { jobOf, lookForLog } from "./log";
import { askLog, jobClosed, refuseLog } from "./log-texts";
import { freeSheetName, freeTogether } from "./names";
import { refuse } from "./refusals";
import { lookAround } from "./surroundings";
import { asText } from "./write";

export function closeOut(actualPrice: number, agreed: Consent = false): Promise<Inserted> {
  return inWorkbook(async (context) => {
    const found = await lookForLog(context);
    refuseReadOnly(context);
    if (!found?.log) throw refuseLog("noLog");
    const { units, log } = found;
    const row = closedJob(jobOf(found), log.lines, actualPrice, units);
    if (row.date === undefined) throw refuseLog("emptyLog", { table: log.table });
    const list = await jobList(context);
    if (list) return await intoList(context, list, row, agreed);

    needYes(agreed, askLog("noJobs"));
    const { names, sheets } = await lookAround(context);
    const { jobs: table } = freeTogether({ jobs: "Jobs" }, names);
    const sheet = freeSheetName("Jobs", sheets);
    const made = jobsSheet(units, table);
    for (const cell of made.block.cells) {
      const key = JOB_KEYS[cell.column];
      if (cell.row === FIRST_JOB_ROW && key) cell.content = row[key] ?? "";
    }
    return allOrNothing(context, async (ledger) => {
      await insertSheet(ledger, sheet, made, true);
      return { ...(await ledger.close()), what: jobClosed(String(row.job), `the new table ${table}`) };
    });
  });
}

interface JobList {
  readonly list: LocatedList;
  readonly mapping: Mapping;
}

/** The list that was audited last, else a table whose headings say that it is one. */
async function jobList(context: Excel.RequestContext): Promise<JobList | undefined> {
  const tables = context.workbook.tables.load("items/name,items/columns/items/name");
  const remembered = await readMappingIn(context);
  if (remembered) {
    const { place, mapping } = remembered;
    return { list: await locateOne(context, place), mapping };
  }
  for (const table of tables.items) {
    const headings = table.columns.items.map(({ name }) => name);
    const mapping = guessMapping(headings);
    if (Object.keys(problemsOfMapping(mapping, headings)).length > 0) continue;
    const place: ListPlace = { table: table.name };
    return { list: await locateOne(context, place), mapping };
  }
  return undefined;
}

async function intoList(
  context: Excel.RequestContext,
  { list, mapping }: JobList,
  job: ClosedJob,
  agreed: Consent,
): Promise<Inserted> {
  const { sheet, top, left, headings, rows, name, place } = list;
  const columns = columnsOf(headings, mapping);
  const cells = sheet
    .getRangeByIndexes(top, left, rows, headings.length)
    .load("values,formulas,numberFormat,rowHidden");
  sheet.protection.load("protected");
  await context.sync();
  if (sheet.protection.protected) throw refuse("sheetProtected");
  if (cells.rowHidden !== false) throw refuseLog("listHidden", { list: name });

  const check = jobCheck(columns);
  check.add(cells.values);
  const totals = new Set(check.done().problems.flatMap(({ row, wrong }) => (wrong.kind === "total" ? [row] : [])));
  const isBlank = (row: number) => cells.formulas[row]!.every((cell) => cell === "");
  const last = cells.values.findLastIndex((_, row) => !totals.has(row) && !isBlank(row));
  const same = cells.values.findIndex(
    (row) =>
      String(row[columns.job!] ?? "")
        .trim()
        .toLowerCase() === String(job.job).trim().toLowerCase(),
  );
  if (same >= 0) needYes(agreed, askLog("jobThere", { job: String(job.job), at: `row ${top + same + 1}`, list: name }));

  const next = last + 1;
  const isFree = next >= rows ? "cell" in place : isBlank(next);
  const values = valuesFor(job, columns, headings.length);
  return allOrNothing(context, async (ledger) => {
    const at = sheet.getRangeByIndexes(top + next, left, 1, headings.length);
    if (isFree) {
      await ledger.noteFilled(sheet, [at]);
      // Below plain cells nothing looks like them yet.
      if (last >= 0 && "cell" in place) at.numberFormat = [cells.numberFormat[last]!];
      at.values = [values];
    } else await insertRow(ledger, list, at, next, values);
    const where = `${list.sheetName}!${cellAddress(top + next, left)}`;
    const covered = totals.size > 0 && !isFree;
    return { ...(await ledger.close()), what: jobClosed(String(job.job), where, covered) };
  });
}

/** A row of its own above whatever stands there, which moves down. */
async function insertRow(
  ledger: Ledger,
  { sheet, place, rows, top, left }: LocatedList,
  at: Excel.Range,
  next: number,
  values: any[],
): Promise<void> {
  await ledger.noteRows(sheet, at);
  if ("table" in place) {
    ledger.context.workbook.tables.getItem(place.table).rows.add(next < rows ? next : undefined, [values]);
    return;
  }
  at.insert("Down");
  sheet.getRangeByIndexes(top + next, left, 1, values.length).values = [values];
}

/** Null leaves a column of the user's own as it is. */
function valuesFor(job: ClosedJob, columns: Readonly<Partial<Record<JobKey, number>>>, width: number): any[] {
  const values: any[] = new Array(width).fill(null);
  for (const [key, column] of Object.entries(columns) as [JobKey, number][]) {
    const value = job[key];
    if (value !== undefined) values[column] = typeof value === "string" ? asText(value) : value;
  }
  return values;
}
