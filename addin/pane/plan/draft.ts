/** The plan being worked on, kept over a reload of the pane. */
import type { Field } from "../../../functions/plan/field";
import { field, KEYS } from "../../../functions/plan/fields";
import type { Inputs } from "../../../functions/plan/inputs";
import { WORKS } from "../../../functions/plan/works";
import { QUOTE_LINES } from "../../sheet";
import { SOURCES } from "./sequences";
import { PLACES, type PlanState, type Told } from "./state";
import { ENTRY_KEYS } from "./strip-state";
import { PLAN } from "./texts";

/** Whether a stored value is of the form that this version knows. By hand: a package for it is a tenth of the pane. */
type Check = (value: unknown) => boolean;

const isText: Check = (value) => typeof value === "string";
const isNumber: Check = (value) => typeof value === "number";
const isOneOf =
  (words: readonly string[]): Check =>
  (value) =>
    words.includes(value as string);
const orNull =
  (check: Check): Check =>
  (value) =>
    value === null || check(value);
const entriesOf = (value: unknown) => (typeof value === "object" && value !== null ? Object.entries(value) : undefined);
/** All of these, each of its own form. */
const hasAll =
  (checks: Readonly<Record<string, Check>>): Check =>
  (value) => {
    const found = entriesOf(value) && (value as Record<string, unknown>);
    return found !== undefined && Object.entries(checks).every(([key, check]) => check(found[key]));
  };
/** Some of these, all of one form. */
const hasOnly =
  (keys: readonly string[], check: Check): Check =>
  (value) =>
    entriesOf(value)?.every(([key, item]) => keys.includes(key) && check(item)) ?? false;

function isValue(f: Field): Check {
  if (f.kind === "number") return orNull(isNumber);
  return f.kind === "text" ? isText : isOneOf(f.choices.map(([word]) => word));
}

const isCalibration = hasAll({
  label: isText,
  by: isOneOf(["all", "bond", "hardness", "machine"]),
  value: isText,
  known: hasAll({ factor: isNumber, spread: isNumber, jobs: isNumber }),
  estimated: isText,
  actual: isText,
  line: isText,
});
const isStage = hasAll({
  work: isOneOf(WORKS),
  tool: isText,
  machine: (value) => value === undefined || isText(value),
  passes: (value) => value === undefined || isNumber(value),
});

// What a number may be is the form's to say; a draft only has to be of the form that this version knows.
const isDraft = hasAll({
  version: (value) => value === 1,
  inputs: hasAll(Object.fromEntries(KEYS.map((key) => [key, isValue(field(key))]))),
  links: hasOnly(KEYS, isText),
  source: isOneOf(SOURCES),
  ownStages: orNull((value) => Array.isArray(value) && value.every(isStage)),
  strip: hasAll({ tool: isText, machine: isText, typed: hasOnly(ENTRY_KEYS, isText) }),
  place: isOneOf(PLACES),
  lines: (value) => Array.isArray(value) && value.every(isOneOf(QUOTE_LINES)),
  calibration: orNull(isCalibration),
  opened: orNull(hasAll({ sheetId: isText, sheet: isText, floor: isText })),
});

const picked = (from: object, keys: readonly string[]) =>
  Object.fromEntries(Object.entries(from).filter(([key]) => keys.includes(key)));

/** What of a plan outlasts a reload. */
const KEPT = ["inputs", "links", "source", "ownStages", "strip", "place", "lines", "calibration", "opened"] as const;

export const draftOf = (plan: PlanState): string => JSON.stringify({ version: 1, ...picked(plan, KEPT) });

/** The plan with a stored draft in it; a draft that does not fit is left out, and the user told. */
export function withDraft(plan: PlanState, stored: string): Told {
  const draft = parseJson(stored);
  if (!isDraft(draft)) return { plan, note: PLAN.draftUnfit };
  const kept = picked(draft as PlanState, KEPT) as Pick<PlanState, (typeof KEPT)[number]>;
  return { plan: { ...plan, ...kept, inputs: picked(kept.inputs, KEYS) as Inputs } };
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

// Storage may be switched off; the pane then works without it.
// A draft can point at cells of this workbook, so it lives no longer than the pane's session.
const DRAFT_KEY = "gritledger.draft";
const WELCOME_KEY = "gritledger.welcomed";

function attempt<T>(work: () => T): T | null {
  try {
    return work();
  } catch {
    return null;
  }
}

export const storedDraft = () => attempt(() => sessionStorage.getItem(DRAFT_KEY));
export const storeDraft = (plan: PlanState) => attempt(() => sessionStorage.setItem(DRAFT_KEY, draftOf(plan)));
export const wasWelcomed = () => attempt(() => localStorage.getItem(WELCOME_KEY)) !== null;
export function dismissWelcome(plan: PlanState): PlanState {
  attempt(() => localStorage.setItem(WELCOME_KEY, "yes"));
  return { ...plan, welcome: false };
}
