/** The Audit sheet: key figures, where the margin went, pictures, calibration, rates, rows to fix. */
import type { JobKey } from "../../functions/audit/fields";
import { absoluteAddress } from "../common/a1";
import {
  bondRatesSize,
  borrowingSize,
  calibrationSize,
  placeBondRates,
  placeBorrowing,
  placeCalibration,
  placeCauses,
  placeSlabRates,
} from "./audit-blocks";
import { columnsFor, type JobColumnKey } from "./audit-job-columns";
import { auditJobsSheet, duplicatesOf } from "./audit-jobs-sheet";
import { machinesSize, monthsSize, placeMachines, placeMonths } from "./audit-months";
import {
  type AuditTask,
  auditJobCells,
  type Column,
  type Field,
  fieldRanges,
  JOBS_TOP,
  jobsFromHeading,
  ROWS_NOW,
  rowsOf,
} from "./audit-ranges";
import { CELL, CHARTS, HEADLINE, SUMMARY, TO_FIX } from "./audit-texts";
import { type Block, emptyBlock, type PlacedChart, type SheetSetup } from "./block";
import { CellWriter } from "./cell-writer";
import { problemCell, problemText } from "./job-list";
import type { CalibratedJobs } from "./plan";
import { CHART_FILLS, type NumberFormat } from "./styles";

/** Together narrow enough for 8 pt on a printed page, yet wide enough for sums of money where those stand. */
const WIDTHS: readonly number[] = [104, 80, 76, 76, 64, 76, 64, 64, 64, 36];
/** Chart text of 10 points is then 8 points high, and the columns are as wide as a Letter page. */
const PRINT_SCALE = 80;
const KEY_ROW = 4;
const CAUSES_TOP = 9;
/** Below the causes: heading, labels, a line each, one for all, one for a part of Other and one for its note. */
const CHARTS_TOP = CAUSES_TOP + 12;
const CHART_ROWS = 15;
const CHARTED_JOBS = 30;
const CALIBRATION_TOP = CHARTS_TOP + CHART_ROWS + 2;

interface MadeSheet {
  readonly block: Block;
  readonly setup: SheetSetup;
}

/** Both sheets of an audit; and for each of its groups, its hours as a plan's formulas refer to them. */
export function auditSheets(task: AuditTask): { audit: MadeSheet; jobs: MadeSheet; pastJobs: CalibratedJobs[] } {
  const { list, audit } = task;
  const block = emptyBlock();
  const sheet = new CellWriter(block);
  const field = fieldRanges(task);
  const column = auditJobCells(task, field);
  sheet.text(0, 0, SUMMARY.title, "title");
  sheet.text(1, 0, SUMMARY.source(list.name, list.rows, task.date, "table" in list.place), "note");
  sheet.formula(2, 0, headline(task, field, column), "caution");
  placeKeyFigures(sheet, task, field, column);
  const causes = placeCauses(sheet, task, column, CAUSES_TOP);
  const slabs = placeSlabRates(sheet, column, CAUSES_TOP);
  placeCharts(block, task, causes, slabs);
  const pastJobs = placeCalibration(sheet, task, column, CALIBRATION_TOP);
  const borrowingTop = CALIBRATION_TOP + calibrationSize(audit) + 2;
  placeBorrowing(sheet, task, column, borrowingTop);
  const ratesTop = borrowingTop + borrowingSize(audit);
  placeBondRates(sheet, task, column, ratesTop);
  const monthsTop = ratesTop + bondRatesSize(audit) + 2;
  placeMonths(sheet, task, field, column, monthsTop);
  const machinesTop = monthsTop + monthsSize(task);
  placeMachines(sheet, task, field, column, machinesTop);
  placeProblems(sheet, task, machinesTop + machinesSize(task));
  return {
    audit: {
      block,
      setup: {
        widths: [...WIDTHS],
        rowHeights: [[0, 24]],
        frozenRows: 3,
        frozenColumns: 0,
        printTitleRow: 0,
        page: { scale: PRINT_SCALE, columns: WIDTHS.length, breaksAbove: [] },
      },
    },
    jobs: auditJobsSheet(task, field),
    pastJobs,
  };
}

/** A caution; before it whatever makes the figures those of another list than the present one. */
function headline(task: AuditTask, field: Field, column: Column): string {
  const isCounted = (word: string) => `COUNTIF(${column("counted")},"${word}")`;
  const shown = `${isCounted(CELL.yes)}+${isCounted(CELL.no)}`;
  const [covers, of, rows] = HEADLINE.lacking;
  const lacking = `"${covers}"&(${shown})&"${of}"&${ROWS_NOW}&"${rows}"`;
  const isSumOfOthers = (key: JobKey) => `(ABS(2*INDEX(${field(key)},${ROWS_NOW})-SUMIF(${field(key)},">0"))<0.01)`;
  const lastIsTotal = `IFERROR((INDEX(${column("counted")},${ROWS_NOW})="${CELL.yes}")*(${ROWS_NOW}>2)*${isSumOfOthers("actualPrice")}*${isSumOfOthers("actualCost")},0)`;
  // A list that is sorted moves its rows under the formulas.
  const duplicates = duplicatesOf(task);
  const caution = duplicates
    ? `IF(COUNTIF(${duplicates},"${CELL.noneNow}")>0,"${HEADLINE.changed}","${HEADLINE.caution}")`
    : `"${HEADLINE.caution}"`;
  const known = `IF(${lastIsTotal},"${HEADLINE.lastIsTotal}",${caution})`;
  if ("table" in task.list.place) return `IF(${shown}<>${ROWS_NOW},${lacking},${known})`;
  const outside = `COUNTA(${jobsFromHeading(task)})-1-COUNTA(${field("job")})`;
  const [before, after] = HEADLINE.added;
  const added = `"${before}"&(${outside})&"${after}"`;
  return `IF(${shown}<>${ROWS_NOW},${lacking},IF(${outside}>0,${added},${known}))`;
}

/** Counts in one line, money and margins in the next. */
function placeKeyFigures(sheet: CellWriter, { problems }: AuditTask, field: Field, column: Column): void {
  const labels = SUMMARY.keyFigures;
  const total = (key: JobKey) => `SUMIF(${column("counted")},"${CELL.yes}",${field(key)})`;
  const jobs = absoluteAddress(KEY_ROW + 1, 0);
  const [quoted, actual] = [absoluteAddress(KEY_ROW + 3, 2), absoluteAddress(KEY_ROW + 3, 3)];
  const margin = (price: JobKey, cost: JobKey) => `IF(${jobs}=0,"",GRIT.MARGIN(${total(price)},${total(cost)}))`;
  const lines: [label: string, formula: string, format?: NumberFormat][][] = [
    [
      [labels.counted, `COUNTIF(${column("counted")},"${CELL.yes}")`, "count"],
      [labels.notCounted, `COUNTIF(${column("counted")},"${CELL.no}")`, "count"],
      [labels.toFix, String(problems.length), "count"],
      [labels.rows, rowsOf(field), "count"],
      [labels.unusual, `COUNTIF(${column("standsOut")},"${CELL.unusual}")`, "count"],
    ],
    [
      [labels.quotedPrice, total("quotedPrice"), "money"],
      [labels.actualPrice, total("actualPrice"), "money"],
      [labels.quotedMargin, margin("quotedPrice", "quotedCost"), "percentFine"],
      [labels.actualMargin, margin("actualPrice", "actualCost"), "percentFine"],
      [labels.fade, `IF(${jobs}=0,"",${quoted}-${actual})`, "percentFine"],
      [labels.fadeMoney, `SUM(${column("fadeMoney")})`, "money"],
    ],
  ];
  lines.forEach((figures, line) => {
    figures.forEach(([label, formula, format], i) => {
      sheet.text(KEY_ROW + 2 * line, i, label, "keyLabel");
      sheet.formula(KEY_ROW + 2 * line + 1, i, formula, "keyFigure", format);
    });
  });
}

function placeCharts(block: Block, task: AuditTask, causes: { row: number; rows: number }, slabs: SlabRows): void {
  const at = (key: JobColumnKey) => columnsFor(task.mapping).indexOf(key);
  const rows = rowsToLastJob(task);
  const shown = Math.min(CHARTED_JOBS, rows);
  const first = JOBS_TOP + rows - shown;
  const place = (left: number, right: number) => ({ top: CHARTS_TOP, bottom: CHARTS_TOP + CHART_ROWS, left, right });
  const charts: PlacedChart[] = [
    {
      title: CHARTS.margin(rows > shown ? shown : undefined),
      kind: "ColumnClustered",
      valueTitle: CHARTS.marginAxis,
      format: "percent",
      sheet: task.jobsName,
      categories: { row: first, column: at("job") },
      series: [
        { name: CHARTS.quoted, row: first, column: at("quotedMargin"), fill: CHART_FILLS[0] },
        { name: CHARTS.actual, row: first, column: at("actualMargin"), fill: CHART_FILLS[2] },
      ],
      rows: shown,
      ...place(0, 3),
    },
    {
      title: CHARTS.causes,
      kind: "BarClustered",
      valueTitle: CHARTS.causesAxis,
      format: "count",
      categories: { row: causes.row, column: 0 },
      series: [{ name: CHARTS.lost, row: causes.row, column: 1, fill: CHART_FILLS[1] }],
      rows: causes.rows,
      ...place(4, 6),
    },
    {
      title: CHARTS.rates,
      kind: "ColumnClustered",
      valueTitle: CHARTS.ratesAxis,
      format: "count",
      categories: { row: slabs.row, column: slabs.column },
      series: [{ name: CHARTS.ratesAxis, row: slabs.row, column: slabs.column + 2, fill: CHART_FILLS[1] }],
      rows: slabs.rows,
      ...place(7, 9),
    },
  ];
  block.charts.push(...charts);
}

type SlabRows = ReturnType<typeof placeSlabRates>;

/** Rows of the list down to its last job: totals at its end have no margin to show. */
function rowsToLastJob({ list, problems }: AuditTask): number {
  const leftOut = new Set(problems.filter(({ effect }) => effect === "left out").map(({ row }) => row));
  let rows = list.rows;
  while (rows > 1 && leftOut.has(rows - 1)) rows--;
  return rows;
}

function placeProblems(sheet: CellWriter, { list, mapping, problems, date }: AuditTask, top: number): void {
  sheet.heading(top, 0, TO_FIX.heading, WIDTHS.length);
  sheet.text(top + 1, 0, problems.length === 0 ? TO_FIX.none : TO_FIX.note(problems.length, date), "unit");
  sheet.labels(top + 2, 0, TO_FIX.labels, TO_FIX.labels.length);
  problems.forEach((problem, i) => {
    const row = top + 3 + i;
    const effect = problem.wrong.kind === "duplicate" ? TO_FIX.duplicate : TO_FIX.effects[problem.effect];
    sheet.text(row, 0, problemCell(list, mapping, problem));
    sheet.text(row, 1, effect, "unit");
    sheet.text(row, 2, problemText(list, problem));
  });
}
