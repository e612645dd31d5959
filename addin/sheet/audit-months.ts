/** The audit by time: margin fade month by month on a control chart, and by machine. */
import { LIMIT_FACTOR } from "../../functions/audit/by-time";
import { absoluteAddress } from "../common/a1";
import type { AuditTask, Column, Field } from "./audit-ranges";
import { BY_MACHINE, BY_MONTH, CELL, RATES } from "./audit-texts";
import type { CellWriter } from "./cell-writer";
import { CHART_FILLS } from "./styles";

const CHART_ROWS = 15;

/** Whether the months say anything. */
const hasMonths = ({ audit, mapping }: AuditTask) => mapping.date !== undefined && audit.months.length > 1;

/** Rows: heading, note, labels, a line for each month and one for the other jobs, a gap, the picture and a gap. */
export const monthsSize = (task: AuditTask) =>
  hasMonths(task) ? 3 + task.audit.months.length + 2 + CHART_ROWS + 2 : 0;

export function placeMonths(sheet: CellWriter, task: AuditTask, field: Field, column: Column, top: number): void {
  if (!hasMonths(task)) return;
  const { months } = task.audit;
  sheet.heading(top, 0, BY_MONTH.heading, BY_MONTH.labels.length);
  sheet.text(top + 1, 0, BY_MONTH.note, "note");
  sheet.labels(top + 2, 0, BY_MONTH.labels);
  const [first, last] = [top + 3, top + 2 + months.length];
  const cells = (at: number, from = first) => `${absoluteAddress(from, at)}:${absoluteAddress(last, at)}`;
  const [counts, fades, moves] = [cells(1), cells(3), cells(4, first + 1)];
  const center = `AVERAGE(${fades})`;
  const reach = `${LIMIT_FACTOR}*AVERAGE(${moves})`;
  const isCounted = `${column("counted")},"${CELL.yes}"`;
  months.forEach(({ year, month }, i) => {
    const row = first + i;
    const here = (at: number) => absoluteAddress(row, at);
    const within = `${column("month")},${here(0)}`;
    const charged = `SUMIFS(${field("actualPrice")},${within})`;
    const shown = (formula: string) => `IF(COUNT(${moves})=0,"",${formula})`;
    sheet.formula(row, 0, `DATE(${year},${month},1)`, "label", "month");
    sheet.formula(row, 1, `COUNTIF(${within})`, "figure", "count");
    sheet.formula(row, 2, `SUMIFS(${column("fadeMoney")},${within})`, "figure", "money");
    sheet.formula(row, 3, `IF(${here(1)}=0,"",${here(2)}/${charged})`, "figure", "percentFine");
    const before = absoluteAddress(row - 1, 3);
    const move = i === 0 ? '""' : `IF(ISNUMBER(${here(3)})*ISNUMBER(${before}),ABS(N(${here(3)})-N(${before})),"")`;
    sheet.formula(row, 4, move, "figure", "percentFine");
    sheet.formula(row, 5, shown(center), "figure", "percentFine");
    sheet.formula(row, 6, shown(`${center}-${reach}`), "figure", "percentFine");
    sheet.formula(row, 7, shown(`${center}+${reach}`), "figure", "percentFine");
    const isOutside = `OR(N(${here(3)})>${here(7)},N(${here(3)})<${here(6)})`;
    sheet.formula(
      row,
      8,
      `IF(ISNUMBER(${here(3)})*ISNUMBER(${here(6)}),IF(${isOutside},"${BY_MONTH.outside}",""),"")`,
      "answer",
    );
  });
  sheet.text(last + 1, 0, BY_MONTH.rest, "unit");
  sheet.formula(last + 1, 1, `COUNTIF(${isCounted})-SUM(${counts})`, "figure", "count");
  const series = (name: string, at: number, fill: string) => ({ name, row: first, column: at, fill });
  sheet.block.charts.push({
    title: BY_MONTH.heading,
    kind: "Line",
    valueTitle: BY_MONTH.axis,
    format: "percent",
    categories: { row: first, column: 0 },
    series: [
      series(BY_MONTH.fade, 3, CHART_FILLS[0]),
      series(BY_MONTH.center, 5, CHART_FILLS[1]),
      series(BY_MONTH.low, 6, CHART_FILLS[2]),
      series(BY_MONTH.high, 7, CHART_FILLS[2]),
    ],
    rows: months.length,
    top: last + 3,
    bottom: last + 3 + CHART_ROWS,
    left: 0,
    right: 8,
  });
}

const machinesIn = ({ audit }: AuditTask) => audit.groups.filter(({ by }) => by === "machine");

/** Rows: heading, labels, a line for each machine and one for the other jobs, a gap; none where the list names no machines. */
export const machinesSize = (task: AuditTask) => (machinesIn(task).length > 0 ? 3 + machinesIn(task).length + 2 : 0);

export function placeMachines(sheet: CellWriter, task: AuditTask, field: Field, column: Column, top: number): void {
  const machines = machinesIn(task);
  if (machines.length === 0) return;
  sheet.heading(top, 0, BY_MACHINE.heading, BY_MACHINE.labels.length);
  sheet.labels(top + 1, 0, BY_MACHINE.labels);
  const isCounted = `${column("counted")},"${CELL.yes}"`;
  machines.forEach(({ value }, i) => {
    const row = top + 2 + i;
    const here = (at: number) => absoluteAddress(row, at);
    const is = `${isCounted},${column("machine")},${here(0)}`;
    const charged = `SUMIFS(${field("actualPrice")},${is})`;
    sheet.text(row, 0, value, "label");
    sheet.formula(row, 1, `COUNTIFS(${is})`, "figure", "count");
    sheet.formula(row, 2, `SUMIFS(${column("fadeMoney")},${is})`, "figure", "money");
    sheet.formula(row, 3, `IF(${here(1)}=0,"",${here(2)}/${charged})`, "figure", "percentFine");
  });
  const counts = `${absoluteAddress(top + 2, 1)}:${absoluteAddress(top + 1 + machines.length, 1)}`;
  sheet.text(top + 2 + machines.length, 0, RATES.rest, "unit");
  sheet.formula(top + 2 + machines.length, 1, `COUNTIF(${isCounted})-SUM(${counts})`, "figure", "count");
}
