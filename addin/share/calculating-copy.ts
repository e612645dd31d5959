/**
 * A workbook for a partner who has no add-in: every formula with calls of ours becomes one in the spreadsheet's own
 * functions, or its value, and all else stays as it is. Bytes in, bytes and a report out.
 */
import type { PlainFunction } from "./arguments";
import { NOTE_SHEET, REFERENCE_SHEET, type Worded } from "./copy-texts";
import { addSheet, freeName, Reference, type Value } from "./parts/added-sheets";
import { calculatingSheet } from "./parts/calculating-sheet";
import { calculatingNames, calculatingTables, namesOf } from "./parts/defined-names";
import { Formulas } from "./parts/formulas";
import { leaveOut } from "./parts/left-out";
import { type Kept, Log } from "./parts/log";
import { openWorkbook, sharePassed, type Workbook } from "./parts/workbook";
import { attribute, children, first, root, Splices } from "./parts/xml";

export interface CalculatingOptions {
  readonly functions: readonly PlainFunction[];
  /** Of the add-in. */
  readonly version: string;
  /** As the note sheet shows it. */
  readonly date: string;
  /** What units the workbook works in, in words. */
  readonly units: string;
  readonly cautions: readonly string[];
  /** Ids of this add-in, which tell its pane from others that the workbook opens. */
  readonly addInIds?: readonly string[];
}

export interface CalculatingReport {
  /** How many formulas were converted. */
  readonly formulas: number;
  /** How often each function was, by name. */
  readonly functions: Readonly<Record<string, number>>;
  /** What became a value. */
  readonly values: readonly Kept[];
  /** The sheets that were added. */
  readonly sheets: readonly string[];
  /** What else the workbook had and the copy has not; nothing of it is the user's own work. */
  readonly removed: readonly Worded[];
  /** How many of the cells that became values show an error, such as #NAME?. */
  readonly errors: number;
}

/** Throws `UnreadableWorkbook` where the bytes are no workbook. `follow` hears what share of the work is done. */
export function calculatingCopy(
  bytes: Uint8Array,
  options: CalculatingOptions,
  follow: (share: number) => void = () => {},
): { bytes: Uint8Array; report: CalculatingReport } {
  const workbook = openWorkbook(bytes);
  const log = new Log();
  const reference = new Reference(freeName(workbook, REFERENCE_SHEET.name));
  const formulas = new Formulas(options.functions, reference, namesOf(workbook));
  calculatingNames(workbook, formulas, log);
  calculatingTables(workbook, formulas, log);
  const withCells = workbook.sheets.filter(({ hasCells }) => hasCells);
  const passed = sharePassed(withCells, workbook.parts, follow);
  for (const [i, { name, part }] of withCells.entries()) {
    const before = workbook.parts.text(part);
    const after = calculatingSheet(before, name, formulas, log, passed(i));
    if (after !== before) workbook.parts.write(part, after);
  }

  const note = freeName(workbook, NOTE_SHEET.name);
  const tables = reference.rows();
  const sheets = tables.length > 0 ? [reference.sheet, note] : [note];
  if (tables.length > 0) addSheet(workbook, reference.sheet, tables, columnWidths(tables));
  const report: CalculatingReport = {
    formulas: log.formulas,
    functions: log.functions(),
    values: log.values,
    sheets,
    removed: leaveOut(workbook, options.addInIds ?? []),
    errors: log.errors,
  };
  addSheet(workbook, note, noteRows(report, options), [34, 18, 44, 44]);
  calculateOnOpening(workbook);
  return { bytes: workbook.parts.zip(), report };
}

const columnWidths = (rows: readonly Value[][]) =>
  Array.from({ length: Math.max(...rows.map((row) => row.length)) }, () => 14);

/** What the partner should know, on a sheet of its own. */
function noteRows(report: CalculatingReport, { version, date, units, cautions }: CalculatingOptions): Value[][] {
  const heading = (text: string): Value[][] => [[], [{ heading: text }]];
  const sentence = (text: string): Value[] => [{ sentence: text }];
  const counts = Object.entries(report.functions).map(([name, times]): Value[] => [`GRIT.${name}`, times]);
  const values = report.values.map(({ sheet, place, formula, reason }): Value[] => [
    sheet,
    place,
    formula,
    reason.text,
  ]);
  return [
    [{ heading: NOTE_SHEET.name }],
    [NOTE_SHEET.madeOn, date],
    [NOTE_SHEET.madeBy, NOTE_SHEET.program(version)],
    [NOTE_SHEET.units, units],
    sentence(NOTE_SHEET.about),
    sentence(NOTE_SHEET.inputs),
    ...heading(NOTE_SHEET.converted),
    [NOTE_SHEET.formulas, report.formulas],
    ...counts,
    ...heading(NOTE_SHEET.values),
    ...(values.length > 0 ? [NOTE_SHEET.headings.map((text) => ({ heading: text })), ...values] : [[NOTE_SHEET.none]]),
    ...(report.removed.length > 0
      ? [...heading(NOTE_SHEET.leftOut), ...report.removed.map(({ text }) => sentence(text))]
      : []),
    ...heading(NOTE_SHEET.care),
    sentence(NOTE_SHEET.costs),
    ...cautions.map(sentence),
  ];
}

/** What a workbook may have behind the settings of its calculation, in the order that the format asks for. */
const BEHIND = [
  "oleSize",
  "customWorkbookViews",
  "pivotCaches",
  "smartTagPr",
  "smartTagTypes",
  "webPublishing",
  "fileRecoveryPr",
  "webPublishObjects",
  "extLst",
];

/** The order of calculation names cells that have no formula now: without it, the spreadsheet works it out again. */
function calculateOnOpening({ parts, part }: Workbook): void {
  for (const { id, type, target } of parts.relationships(part)) {
    if (!type.endsWith("/calcChain")) continue;
    parts.remove(target);
    parts.unrelate(part, id);
  }
  const xml = parts.text(part);
  const splices = new Splices(xml);
  const settings = first(xml, "calcPr");
  if (settings) {
    const on = ' fullCalcOnLoad="1"';
    const at = settings.start + `<${settings.prefix}calcPr`.length;
    if (attribute(settings, "fullCalcOnLoad") === undefined) splices.replace(at, at, on);
    else splices.attribute(settings, "fullCalcOnLoad", on);
  } else {
    const workbook = root(xml);
    const behind = [...children(xml, workbook)].find(({ name }) => BEHIND.includes(name));
    const at = behind?.start ?? workbook.innerEnd;
    splices.replace(at, at, `<${workbook.prefix}calcPr fullCalcOnLoad="1"/>`);
  }
  parts.write(part, splices.result());
}
