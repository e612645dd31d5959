/** What a copy will have, in words, and what the user has to agree to. */
import type { CalculatingReport } from "../../share/calculating-copy";
import type { Made, ShareState } from "./state";
import { SHARE } from "./texts";

/** Keeps what was found, unless the user has chosen otherwise in the meantime. */
export function takeMade(share: ShareState, chosen: ShareState, made: Made): ShareState {
  const { kind, ticked, ranges } = chosen;
  const isSame = share.kind === kind && share.ticked === ticked && share.ranges === ranges;
  return isSame ? { ...share, made } : share;
}

/** Whether two copies do the same: the workbook may have changed between them. */
export const doSame = (a: Made, b: Made): boolean => JSON.stringify(a) === JSON.stringify(b);

/** What will happen, in a sentence. */
export function madeDigest(made: Made): string {
  if (made.kind === "calculating") return SHARE.calculatingDigest(made.report.formulas, made.report.values.length);
  const { sheets, gone } = made.report;
  const cells = sheets.reduce((sum, sheet) => sum + sheet.cells, 0);
  return SHARE.priceDigest(cells, sheets.length, gone.length);
}

/** As many texts as a question can hold. */
const TEXTS_SHOWN = 6;

/** What the user has to agree to before the copy is opened. */
export function worriesOf(made: Made): string[] {
  if (made.kind === "calculating") return made.report.errors === 0 ? [] : [SHARE.errorsInCopy(made.report.errors)];
  const { report, costWords } = made;
  const cautions = report.cautions.map(({ text }) => text);
  if (costWords.length === 0) return cautions;
  return [...cautions, SHARE.soundsLikeCosts(costWords.slice(0, TEXTS_SHOWN), costWords.length - TEXTS_SHOWN)];
}

type Value = CalculatingReport["values"][number];

/** What becomes a value, with the cells that do for the same reason together. */
export function valuesByReason({ values }: CalculatingReport): { reason: string; places: string[] }[] {
  const reasons = [...new Set(values.map(({ reason }) => reason.text))];
  return reasons.map((reason) => ({ reason, places: runs(values.filter((value) => value.reason.text === reason)) }));
}

/** Places in words; cells that follow each other down a column are one: "Plan!C4:C9". */
function runs(values: readonly Value[]): string[] {
  const open = new Map<string, { from: string; to: number; at: number }>();
  const shown: string[] = [];
  for (const { sheet, place } of values) {
    const where = sheet === "" ? place : `${sheet}!${place}`;
    const [, column, row] = /^([A-Z]+)(\d+)$/.exec(place) ?? [];
    const key = `${sheet}!${column}`;
    const run = open.get(key);
    if (run && Number(row) === run.to + 1) {
      run.to++;
      shown[run.at] = `${run.from}:${place}`;
    } else {
      if (column) open.set(key, { from: where, to: Number(row), at: shown.length });
      shown.push(where);
    }
  }
  return shown;
}

/** A day as the note sheet has it: 2026-03-09. */
export function isoDay(day: Date): string {
  const two = (part: number) => String(part).padStart(2, "0");
  return `${day.getFullYear()}-${two(day.getMonth() + 1)}-${two(day.getDate())}`;
}
