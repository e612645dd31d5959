/** The sheet with a row for each job: what every figure of the audit adds up. */
import { TOTAL_WORDS } from "../../functions/audit/totals";
import { absoluteAddress } from "../common/a1";
import { columnsFor, type JobColumnKey, jobColumns, NAME_BAR } from "./audit-job-columns";
import { type AuditTask, type Field, JOBS_TOP, onSheet, ownJobCells } from "./audit-ranges";
import { CELL, JOB_ROWS } from "./audit-texts";
import { type Block, emptyBlock, type SheetSetup } from "./block";
import { CellWriter } from "./cell-writer";

const TOTALS_ROW = 2;
const WIDTHS: Readonly<Partial<Record<JobColumnKey, number>>> = { job: 110, bond: 80, hardness: 80, machine: 110 };
const USUAL_WIDTH = 66;
const DUPLICATES_WIDTH = 76;

export function auditJobsSheet(task: AuditTask, field: Field): { block: Block; setup: SheetSetup } {
  const { name, list, mapping } = task;
  const block = emptyBlock();
  const sheet = new CellWriter(block);
  const keys = columnsFor(mapping);
  sheet.text(0, 0, JOB_ROWS.title, "title");
  sheet.text(1, 0, JOB_ROWS.note(list.name, name), "caution");
  sheet.text(TOTALS_ROW, 0, JOB_ROWS.totals, "label");
  sheet.text(TOTALS_ROW, 1, totalNames(task), "inputText");
  // Beside the names, which are longer than their cell and would run over what is empty.
  sheet.text(TOTALS_ROW, 2, JOB_ROWS.totalsNote, "caution");
  const repeats = placeDuplicates(sheet, task, keys.length + 1);
  const totals = absoluteAddress(TOTALS_ROW, 1);
  const columns = jobColumns({ totals, repeats, field, keys, column: ownJobCells(task, field) });
  for (const [i, { title, formula, format }] of columns.entries()) {
    sheet.text(JOBS_TOP - 1, i, title, format ? "tableHeaderRight" : "tableHeader");
    block.cells.push({ row: JOBS_TOP, column: i, content: { formula } });
    block.looks.push({ row: JOBS_TOP, column: i, rows: list.rows, columns: 1, format });
  }
  return {
    block,
    setup: {
      widths: [...keys.map((key) => WIDTHS[key] ?? USUAL_WIDTH), ...(repeats ? [USUAL_WIDTH, DUPLICATES_WIDTH] : [])],
      rowHeights: [
        [0, 24],
        [JOBS_TOP - 1, 30],
      ],
      frozenRows: JOBS_TOP,
      frozenColumns: 1,
      printTitleRow: JOBS_TOP - 1,
      pagesWide: 3,
    },
  };
}

/** The names of rows that are totals, in small letters, as the formulas look for them. */
function totalNames({ problems }: AuditTask): string {
  const found = problems.flatMap(({ wrong }) =>
    wrong.kind === "total" && wrong.name ? [wrong.name.toLowerCase()] : [],
  );
  const names = [...TOTAL_WORDS.flatMap((word) => [word, `${word}:`]), ...found];
  return `${NAME_BAR} ${[...new Set(names)].join(` ${NAME_BAR} `)} ${NAME_BAR}`;
}

/** Cells with the sheet's row numbers of duplicates, beside the job rows; gives where they are, if there are any. */
function placeDuplicates(sheet: CellWriter, task: AuditTask, column: number): string | undefined {
  const rows = task.problems.flatMap(({ row, wrong }) => (wrong.kind === "duplicate" ? [{ row, of: wrong.of }] : []));
  if (rows.length === 0) return undefined;
  sheet.text(JOBS_TOP - 1, column, JOB_ROWS.duplicates, "tableHeader");
  rows.forEach(({ row, of }, i) => {
    sheet.formula(JOBS_TOP + i, column, duplicateRow(task, row, of), "unit");
  });
  return duplicateCells(task, column);
}

const duplicateCells = ({ problems }: AuditTask, column: number) => {
  const count = problems.filter(({ wrong }) => wrong.kind === "duplicate").length;
  return `${absoluteAddress(JOBS_TOP, column)}:${absoluteAddress(JOBS_TOP + count - 1, column)}`;
};

/** The cells with duplicates, for formulas on the audit; undefined where there are none. */
export function duplicatesOf(task: AuditTask): string | undefined {
  if (!task.problems.some(({ wrong }) => wrong.kind === "duplicate")) return undefined;
  return onSheet(task.jobsName) + duplicateCells(task, columnsFor(task.mapping).length + 1);
}

/** The row of the list's sheet while it is the same as another in every cell. */
function duplicateRow({ list }: AuditTask, row: number, of: number): string {
  const cells = (at: number) =>
    [0, list.headings.length - 1].map((column) => absoluteAddress(list.top + at, list.left + column)).join(":");
  const [one, other] = [row, of].map((at) => onSheet(list.sheetName) + cells(at)) as [string, string];
  const own = one.slice(0, one.lastIndexOf(":"));
  // Not EXACT, which LibreOffice does not take cell by cell; and a blank is no 0 by its length.
  const same = `SUMPRODUCT((${one}=${other})*(LEN(${one})=LEN(${other})))=COLUMNS(${one})`;
  return `IFERROR(IF(${same},ROW(${own}),"${CELL.noneNow}"),"${CELL.noneNow}")`;
}
