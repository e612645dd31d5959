/** Lines of a log kept elsewhere, read by their headings: each bad row is listed, and none is read as something it is not. */
import { isBlank } from "../cell";
import type { Headings } from "../headings";
import { type CellProblem, isLine, readLine, workOf } from "./check";
import { LOG_FIELDS, LOG_KEYS, type LogKey, type LogLine } from "./fields";

export interface ListedLines {
  /** Those that are not in the log yet. */
  readonly lines: readonly LogLine[];
  /** Rows below the headings, from 0. */
  readonly bad: readonly { readonly row: number; readonly problems: readonly CellProblem[] }[];
  /** Lines that the log has already, or the list has twice. */
  readonly already: number;
}

/** Fields that no line can do without and the list has no heading for. */
export const missingHeadings = (mapping: Headings<LogKey>): LogKey[] =>
  LOG_KEYS.filter((key) => "required" in LOG_FIELDS[key] && mapping[key] === undefined);

export function readList(
  headings: readonly string[],
  mapping: Headings<LogKey>,
  rows: readonly (readonly unknown[])[],
  logged: readonly LogLine[],
): ListedLines {
  const columns = LOG_KEYS.flatMap((key) => {
    const heading = mapping[key];
    return heading === undefined ? [] : [[key, headings.indexOf(heading)] as const];
  });
  const known = new Set(logged.map(workOf));
  const lines: LogLine[] = [];
  const bad: { row: number; problems: readonly CellProblem[] }[] = [];
  let already = 0;
  rows.forEach((cells, row) => {
    if (columns.every(([, column]) => isBlank(cells[column]))) return;
    const read = readLine(Object.fromEntries(columns.map(([key, column]) => [key, cells[column]])));
    if (!isLine(read)) bad.push({ row, problems: read });
    else if (known.has(workOf(read))) already++;
    else {
      known.add(workOf(read));
      lines.push(read);
    }
  });
  return { lines, bad, already };
}
