/** How the entry of the log's card is filled in, and what it says. */
import { JOB_FIELDS } from "../../../functions/audit/fields";
import { isLine, readLine } from "../../../functions/log/check";
import { LOG_KEYS, type LogKey, type LogLine, logField, sameName } from "../../../functions/log/fields";
import { cellWords, dayWords } from "../../../functions/log/texts";
import type { Logged } from "../../sheet";
import { readTyped, typedAs } from "../numbers";
import type { LogState } from "./log-state";

/** Days since 1899-12-30 of a date field's text: "2026-11-30". */
const dayIn = (text: string): number | undefined => {
  const milliseconds = Date.parse(`${text}T00:00:00Z`);
  return Number.isNaN(milliseconds) ? undefined : milliseconds / 86_400_000 + 25_569;
};

/** Most days go on where the last one ended: same floor, stage and hours, today's date. */
function prefilled(logged: Logged | null | undefined, today: number): LogState["typed"] {
  const date = dayWords(today);
  const stages = logged?.stages ?? [];
  const last = logged?.log?.lines.at(-1);
  if (!last) {
    const [first] = stages;
    return first ? { date, floor: first.floor, stage: first.stage } : { date };
  }
  const hours = (key: "machineHours" | "crewHours") => typedAs(last[key], {});
  return {
    date,
    floor: last.floor,
    stage: last.stage,
    machineHours: hours("machineHours"),
    crewHours: hours("crewHours"),
  };
}

/** Takes what was read; the entry begins anew, unless something was typed into it. */
export function takeLogged(log: LogState, logged: Logged | null, today: number): LogState {
  const before = prefilled(log.logged, today);
  const isTouched = LOG_KEYS.some((key) => (log.typed[key] ?? "") !== (before[key] ?? "")) && log.logged !== undefined;
  return { ...log, logged, typed: isTouched ? log.typed : prefilled(logged, today) };
}

/** After a line was added the next one is prefilled from it. */
export const startAnew = (log: LogState, logged: Logged | null, today: number): LogState => ({
  ...log,
  logged,
  asked: false,
  typed: prefilled(logged, today),
});

/** Another floor has other stages: the first of them, unless it has one of the same name. */
export function typeEntry(log: LogState, key: LogKey, text: string): LogState {
  const typed = { ...log.typed, [key]: text };
  if (key !== "floor") return { ...log, typed };
  const stages = stagesOn(log, text);
  const stays = stages.some((stage) => sameName(stage, typed.stage ?? ""));
  return { ...log, typed: stays ? typed : { ...typed, stage: stages[0] ?? "" } };
}

export const floorsIn = ({ logged }: LogState): string[] => [
  ...new Set((logged?.stages ?? []).map(({ floor }) => floor)),
];
export const stagesOn = ({ logged }: LogState, floor: string): string[] =>
  (logged?.stages ?? []).filter((stage) => sameName(stage.floor, floor)).map(({ stage }) => stage);

export interface ReadEntry {
  /** Undefined while something is wrong with it. */
  readonly line?: LogLine;
  readonly problems: Readonly<Partial<Record<LogKey, string>>>;
}

/** The line as typed, and what is wrong with its fields. */
export function readEntry({ typed }: LogState): ReadEntry {
  const cells: Partial<Record<LogKey, unknown>> = {};
  const problems: Partial<Record<LogKey, string>> = {};
  for (const key of LOG_KEYS) {
    const text = (typed[key] ?? "").trim();
    const { kind, label } = logField(key);
    if (kind === "date") cells[key] = dayIn(text) ?? text;
    else if (kind === "text") cells[key] = text;
    else {
      const { value, problem } = readTyped(text, { label });
      if (problem) problems[key] = problem;
      cells[key] = value ?? "";
    }
  }
  const read = readLine(cells);
  if (!isLine(read)) for (const problem of read) problems[problem.key] ??= cellWords(problem);
  return isLine(read) && Object.keys(problems).length === 0 ? { line: read, problems } : { problems };
}

/** The actual price as its field shows it: as typed, else what the job was sold at. */
export const billedText = ({ billed, logged }: LogState): string =>
  billed ?? (logged ? typedAs(logged.price, { money: true }) : "");

export function readBilled(log: LogState): { readonly value: number | null; readonly problem?: string } {
  const label = JOB_FIELDS.actualPrice.label;
  const found = readTyped(billedText(log), { label }, { isMoney: true });
  if (found.value === null || found.value > 0) return found;
  return { value: null, problem: `${label} must be ${JOB_FIELDS.actualPrice.domain.words}` };
}
