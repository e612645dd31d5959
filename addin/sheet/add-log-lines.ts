/** Adds lines to the log: into its blank rows, then below its last one. Asks first about what is likely a typing error. */
import { doubtsOf, workOf } from "../../functions/log/check";
import type { LogKey, LogLine } from "../../functions/log/fields";
import type { QuotedStage } from "../../functions/log/stages";
import { dayWords, doubtWords } from "../../functions/log/texts";
import type { System } from "../../functions/units";
import { type Consent, needYes } from "../common/refusal";
import { inWorkbook, refuseReadOnly } from "./in-workbook";
import { allOrNothing, type Inserted } from "./ledger";
import { logColumns, lookForLog, startOf } from "./log";
import { ALREADY_LOGGED, askLog, lineAdded, linesAdded, ofLine, refuseLog } from "./log-texts";
import { refuse } from "./refusals";
import { asText } from "./write";

/** `today` is a day as a sheet counts it, by the user's calendar. */
export function addLogLines(lines: readonly LogLine[], today: number, agreed: Consent = false): Promise<Inserted> {
  return inWorkbook(async (context) => {
    const found = await lookForLog(context);
    refuseReadOnly(context);
    const { table, log } = found ?? {};
    if (!found || !table || !log) throw refuseLog("noLog");
    const home = table.worksheet;
    const body = table.getDataBodyRange().load("values,rowIndex,columnIndex,rowCount,columnCount,rowHidden");
    home.protection.load("protected");
    await context.sync();
    if (home.protection.protected) throw refuse("sheetProtected");
    if (body.rowHidden !== false) throw refuseLog("logHidden", { table: table.name });
    askDoubts(lines, { ...found, lines: log.lines, today, start: startOf(found) }, agreed);

    const columns = logColumns(table);
    const rows = lines.map((line) => cellsOf(line, columns, body.columnCount));
    const used = body.values.findLastIndex((row) => Object.values(columns).some((at) => row[at] !== "")) + 1;
    const filled = rows.slice(0, body.rowCount - used);
    const added = rows.slice(filled.length);
    return allOrNothing(context, async (ledger) => {
      const { rowIndex, columnIndex, rowCount, columnCount } = body;
      if (filled.length > 0) {
        const blank = home.getRangeByIndexes(rowIndex + used, columnIndex, filled.length, columnCount);
        await ledger.noteFilled(home, [blank]);
        blank.values = filled;
      }
      if (added.length > 0) {
        const below = home.getRangeByIndexes(rowIndex + rowCount, columnIndex, added.length, columnCount);
        await ledger.noteRows(home, below);
        table.rows.add(undefined, added);
      }
      const [first] = lines;
      const what =
        lines.length === 1
          ? lineAdded(dayWords(first!.date), first!.floor, first!.stage)
          : linesAdded(lines.length, table.name);
      return { ...(await ledger.close()), what };
    });
  });
}

interface Known {
  readonly units: System;
  readonly stages: readonly QuotedStage[];
  readonly lines: readonly LogLine[];
  readonly today: number;
  readonly start: number | undefined;
}

/** More would not be read. */
const MOST_ASKED = 5;

/** Each line against the log with the lines before it. */
function askDoubts(lines: readonly LogLine[], known: Known, agreed: Consent): void {
  const logged = [...known.lines];
  const works = new Set(logged.map(workOf));
  const words = lines.flatMap((line) => {
    const doubts = doubtsOf(line, { ...known, lines: logged }).map((doubt) => doubtWords(doubt, known.units));
    const own = works.has(workOf(line)) ? [ALREADY_LOGGED] : doubts;
    logged.push(line);
    works.add(workOf(line));
    return lines.length === 1 ? own : own.map((doubt) => ofLine(dayWords(line.date), line.stage, doubt));
  });
  if (words.length === 0) return;
  needYes(
    agreed,
    askLog("doubts", { words: words.slice(0, MOST_ASKED), more: Math.max(0, words.length - MOST_ASKED) }),
  );
}

/** Cells in the table's own order; null leaves a column of the user's as it is. */
function cellsOf(line: LogLine, columns: Readonly<Record<LogKey, number>>, width: number): any[] {
  const cells: any[] = new Array(width).fill(null);
  for (const [key, column] of Object.entries(columns) as [LogKey, number][]) {
    const value = line[key];
    cells[column] = typeof value === "string" ? asText(value) : (value ?? "");
  }
  return cells;
}
