/** What an audit is made of, and the cells that its formulas refer to: the user's list, and the sheet with its job rows. */
import type { Audit } from "../../functions/audit/audit";
import type { JobProblem } from "../../functions/audit/check";
import type { JobKey } from "../../functions/audit/fields";
import type { Mapping } from "../../functions/audit/headings";
import { absoluteAddress } from "../common/a1";
import { columnsFor, type JobColumnKey } from "./audit-job-columns";
import { columnsOf, type JobSource } from "./job-list";

/** A list that has been read, and what was found in it. */
export interface AuditTask {
  /** Names of the new sheets. */
  readonly name: string;
  readonly jobsName: string;
  readonly list: JobSource;
  readonly mapping: Mapping;
  readonly audit: Audit;
  readonly problems: readonly JobProblem[];
  /** "2026-11-25". */
  readonly date: string;
}

/** The user's cells of a field; undefined where the list does not have it. */
export type Field = (key: JobKey) => string | undefined;
/** The cells of a column of the job rows. */
export type Column = (key: JobColumnKey) => string;

const LAST_ROW = 1_048_575;
/** First of the job rows on their sheet. */
export const JOBS_TOP = 5;
/** The cell of the audit that counts the rows of the list as it is now. */
export const ROWS_NOW = absoluteAddress(5, 3);

/** Special characters of a heading, escaped as structured references want them. */
const escaped = (heading: string) => heading.replace(/['[\]#@]/g, "'$&");
export const onSheet = (sheet: string) => `'${sheet.replace(/'/g, "''")}'!`;

export function fieldRanges({ list, mapping }: AuditTask): Field {
  const columns = columnsOf(list.headings, mapping);
  return (key) => {
    const column = columns[key];
    if (column === undefined) return undefined;
    if ("table" in list.place) return `${list.place.table}[[${escaped(list.headings[column]!)}]]`;
    const at = list.left + column;
    const [first, last] = [absoluteAddress(list.top, at), absoluteAddress(list.top + list.rows - 1, at)];
    return `${onSheet(list.sheetName)}${first}:${last}`;
  };
}

export const rowsOf = (field: Field) => `ROWS(${field("job")})`;

/**
 * The cells of the columns of the job rows: as many as `rows` says. A row that is inserted within the list makes the spilled
 * columns longer, and these cells too.
 */
function jobCells({ mapping }: AuditTask, sheet: string, rows: string): Column {
  const keys = columnsFor(mapping);
  return (key) => {
    const at = keys.indexOf(key);
    if (at < 0) return "0";
    const first = sheet + absoluteAddress(JOBS_TOP, at);
    return `${first}:INDEX(${first}:${absoluteAddress(LAST_ROW, at)},${rows})`;
  };
}

/** For formulas on the sheet of the job rows itself. */
export const ownJobCells = (task: AuditTask, field: Field): Column => jobCells(task, "", rowsOf(field));
/** For formulas on the audit. */
export const auditJobCells = (task: AuditTask, field: Field): Column =>
  jobCells(task, onSheet(task.jobsName), rowsOf(field));
/**
 * For formulas elsewhere. They may be written when the list has moved, so the count is a cell of the audit's;
 * `past-jobs.ts` puts its formula there.
 */
export const outerJobCells = (task: AuditTask): Column =>
  jobCells(task, onSheet(task.jobsName), onSheet(task.name) + ROWS_NOW);

/** In plain cells, the column of jobs from its heading on: a row inserted right under it moves the list's cells, not the heading. */
export function jobsFromHeading({ list, mapping }: AuditTask): string {
  const at = list.left + columnsOf(list.headings, mapping).job!;
  return `${onSheet(list.sheetName)}${absoluteAddress(list.top - 1, at)}:${absoluteAddress(LAST_ROW, at)}`;
}
