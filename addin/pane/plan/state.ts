/**
 * What the plan is made of, and every change to its inputs, without a DOM and without a workbook. Changes of the sequence
 * are in `stages.ts`, of the test strip in `strip.ts`; what follows from a plan is worked out in `derived.ts`.
 */
import { shown } from "../../../functions/cell";
import type { Field, Group, NumberField } from "../../../functions/plan/field";
import { FIELDS, field, KEYS, type Key } from "../../../functions/plan/fields";
import { applies, floorOf, type Inputs, inUnits, startInputs, unitOf } from "../../../functions/plan/inputs";
import { isAgainstOthers, type Problems, problemsOf } from "../../../functions/plan/problems";
import type { Shelf, Unpriced } from "../../../functions/plan/shelf";
import type { PlannedStage } from "../../../functions/plan/stage";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import type { System } from "../../../functions/units";
import { isDeleted } from "../../common/a1";
import {
  type FoundCell,
  type LinkedCell,
  type Links,
  type NoCalibration,
  QUOTE_LINES,
  type QuoteLine,
} from "../../sheet";
import type { Calibration } from "../calibration";
import { readTyped, typedAs } from "../numbers";
import type { Source } from "./sequences";
import { type StripState, startStrip, stripInUnits } from "./strip-state";
import { PLAN } from "./texts";

export const PLACES = ["new sheet", "selected cell"] as const;
export type Place = (typeof PLACES)[number];

/** The shelf as it was last read, in the units it was read in. */
export interface KnownShelf {
  readonly shelf: Shelf;
  readonly units: System;
  readonly from: string;
  readonly problems: readonly string[];
  /** Rows that could be used but for their missing price. */
  readonly unpriced?: Unpriced;
  /** Why nothing can be priced from it: its numbers are in the other units, or two rows have one name. */
  readonly unfit?: string;
}

/** A cell that an input is taken from has no number. */
export interface LinkTrouble {
  /** Where it is, or was. */
  readonly at: string;
  /** What it holds, in words; null where it is gone. */
  readonly holds: string | null;
}

/** What a strip takes over in a plan, as it was before. */
interface BeforeStrip {
  readonly inputs: Inputs;
  readonly links: Links;
}

/** A plan of this workbook, as the list of them shows it. */
export interface KnownPlan {
  readonly sheetId: string;
  readonly sheet: string;
  readonly floor: string;
}

export interface PlanState {
  readonly welcome: boolean;
  /** Those that stand in the workbook, and the one that was opened from there. */
  readonly known: readonly KnownPlan[];
  readonly opened: KnownPlan | null;
  /** The user's own sequence as it was when the plan was opened. */
  readonly openedStages: readonly PlannedStage[] | null;
  readonly inputs: Inputs;
  /** Text of number fields that are being typed in or cannot be read. */
  readonly typed: Readonly<Partial<Record<Key, string>>>;
  /** Fields whose problems are shown: a fresh form does not complain about what nobody has filled in yet. */
  readonly touched: readonly Key[];
  readonly links: Links;
  /** Of inputs whose cell holds another number than when it was last seen, what it held. */
  readonly linkBefore: Readonly<Partial<Record<Key, number>>>;
  /** Of inputs whose cell holds no number, why there is none. */
  readonly linkTroubles: Readonly<Partial<Record<Key, LinkTrouble>>>;
  readonly openGroups: readonly Group[];
  /** Floor area when the edge length was last typed; null where it was not. */
  readonly edgeFor: number | null;
  /** Which sequence is shown and written. */
  readonly source: Source;
  /** The user's own sequence; null follows the proposal. */
  readonly ownStages: readonly PlannedStage[] | null;
  readonly shelf: KnownShelf;
  readonly place: Place;
  /** What goes to the selected cell. */
  readonly lines: readonly QuoteLine[];
  /** Whether the spreadsheet writes decimals after a comma, as the user may then by habit; the pane reads English notation. */
  readonly decimalComma: boolean;
  readonly strip: StripState;
  /** Null where the plan has taken nothing from a strip. */
  readonly beforeStrip: BeforeStrip | null;
  /** Of past jobs; used where the input `pastJobs` names it. */
  readonly calibration: Calibration | null;
  /** Why its audit gives no calibration any more; null where it does. */
  readonly noCalibration: NoCalibration | null;
}

const startSequence = () => ({ source: "mine", ownStages: null }) as const;

export const starterOf = (units: System): KnownShelf => ({
  shelf: starterShelf(units),
  units,
  from: PLAN.starterShelf,
  problems: [],
});

export const startPlan = (units: System = "us"): PlanState => ({
  welcome: true,
  known: [],
  opened: null,
  openedStages: null,
  inputs: startInputs(units),
  typed: {},
  touched: [],
  links: {},
  linkBefore: {},
  linkTroubles: {},
  openGroups: ["job", "floor", "finish"],
  edgeFor: null,
  ...startSequence(),
  shelf: starterOf(units),
  place: "new sheet",
  lines: ["price"],
  decimalComma: false,
  strip: startStrip(),
  beforeStrip: null,
  calibration: null,
  noCalibration: null,
});

/** An invented job, so that a first look shows a whole plan. */
const EXAMPLE: Record<System, Partial<Inputs>> = {
  us: { jobName: PLAN.exampleJob, length: 80, width: 50 },
  metric: { jobName: PLAN.exampleJob, length: 24, width: 15 },
};

export function fillInExample(plan: PlanState): PlanState {
  const { units } = plan.inputs;
  const inputs = { ...startInputs(units), ...EXAMPLE[units] };
  const fresh = { typed: {}, touched: [], links: {}, linkBefore: {}, edgeFor: null, opened: null, openedStages: null };
  return { ...plan, inputs, ...fresh, ...startSequence() };
}

/** An empty form, beside the workbook as it is known. */
export const newPlan = (plan: PlanState): PlanState => ({
  ...startPlan(plan.inputs.units),
  welcome: plan.welcome,
  known: plan.known,
  shelf: plan.shelf,
  place: plan.place,
  lines: plan.lines,
  decimalComma: plan.decimalComma,
});

/** Ticks a line of the quote, or takes its tick away; they stay in their order. */
export const tickLine = (plan: PlanState, line: QuoteLine, on: boolean): PlanState => ({
  ...plan,
  lines: QUOTE_LINES.filter((other) => (other === line ? on : plan.lines.includes(other))),
});

/** The plans that the workbook has by now; one that is open and gone from there is a plan of its own again. */
export function takeKnown(plan: PlanState, known: readonly KnownPlan[]): PlanState {
  if (JSON.stringify(known) === JSON.stringify(plan.known)) return plan;
  const opened = known.find(({ sheetId }) => sheetId === plan.opened?.sheetId) ?? null;
  return { ...plan, known, opened };
}

/** Whether there is work of the user's in it that no sheet has. */
export const isStarted = ({ touched, links, ownStages, opened, openedStages }: PlanState): boolean =>
  touched.length > 0 || ownStages !== openedStages || (!opened && Object.keys(links).length > 0);

/** Once the sheet has what the form has. */
export const asWritten = (plan: PlanState): PlanState => ({ ...plan, touched: [], openedStages: plan.ownStages });

// Inputs

/** A change of the plan that may have something to say. */
export interface Told {
  readonly plan: PlanState;
  readonly note?: string;
}

const isNumber = (f: Field): f is NumberField => f.kind === "number";
const touch = (plan: PlanState, key: Key): readonly Key[] =>
  plan.touched.includes(key) ? plan.touched : [...plan.touched, key];

export function without<T extends object>(record: T, ...keys: readonly (keyof T)[]): T {
  const rest = { ...record };
  for (const key of keys) delete rest[key];
  return rest;
}

function withValue(plan: PlanState, key: Key, value: unknown): PlanState {
  return { ...plan, inputs: { ...plan.inputs, [key]: value } as Inputs, touched: touch(plan, key) };
}

/** What a text in a number field stands for, with or without its unit. */
export function readField({ inputs }: PlanState, key: Key, text: string) {
  const f = field(key) as NumberField;
  return readTyped(text, f, { unit: unitOf(key, inputs.units), isMoney: f.money });
}

/** A keystroke in a number field. */
export function typeNumber(plan: PlanState, key: Key, text: string): PlanState {
  const { value } = readField(plan, key, text);
  const typed = { ...withValue(plan, key, value), typed: { ...plan.typed, [key]: text } };
  return key === "edgeLength" ? { ...typed, edgeFor: value === null ? null : floorOf(typed.inputs).area } : typed;
}

export function setText(plan: PlanState, key: Key, text: string): PlanState {
  return withValue(plan, key, text);
}

export function setChoice(plan: PlanState, key: Key, value: string): Told {
  if (key === "units") return switchUnits(plan, value as System);
  return { plan: withValue(plan, key, value) };
}

/** Amounts aren't converted, so once any is the user's own the sign stays too. */
const hasOwnMoney = ({ touched, links }: PlanState): boolean =>
  KEYS.some((key) => (touched.includes(key) || links[key]) && (key === "currency" || "money" in FIELDS[key]));

/** Converts what is filled in. A cell of the user's still holds its old unit, so quantities are no longer taken from it. */
function switchUnits(plan: PlanState, units: System): Told {
  if (units === plan.inputs.units) return { plan };
  const unlinked = KEYS.filter((key) => plan.links[key] && "quantity" in FIELDS[key]);
  const typed = Object.fromEntries(Object.entries(plan.typed).filter(([key]) => problemInText(plan, key as Key)));
  return {
    plan: {
      ...plan,
      inputs: {
        ...inUnits(plan.inputs, units),
        ...(hasOwnMoney(plan) ? {} : { currency: FIELDS.currency.start[units] }),
      },
      links: without(plan.links, ...unlinked),
      typed,
      strip: stripInUnits(plan.strip, plan.inputs.units, units),
    },
    note: unlinked.length > 0 ? PLAN.unlinkedByUnits(unlinked.map((key) => FIELDS[key].label)) : undefined,
  };
}

/** Takes a field's value from a cell of the user's; what goes into the sheet is the address. */
export function link(plan: PlanState, key: Key, address: string, value: number): PlanState {
  const linked = { ...withValue(plan, key, value), links: { ...plan.links, [key]: address } };
  return {
    ...linked,
    typed: without(plan.typed, key),
    linkBefore: without(plan.linkBefore, key),
    linkTroubles: without(plan.linkTroubles, key),
  };
}

/** The cells to read: those in use, and those that a strip has set aside, so that they are still known when it is undone. */
export const linkedCells = ({ links, beforeStrip }: PlanState): LinkedCell[] =>
  [links, beforeStrip?.links ?? {}].flatMap((some) =>
    (Object.entries(some) as [Key, string][]).map(([key, address]) => ({ key, address })),
  );

/** Takes what the linked cells hold now, and where they are; one that holds no number leaves its field empty, with the reason. */
export const takeLinked = (plan: PlanState, asked: readonly LinkedCell[], found: readonly FoundCell[]): PlanState =>
  asked.reduce(
    (now, { key, address }, i) => takeCell(setAsideAt(now, key, address, found[i]!), key, address, found[i]!),
    plan,
  );

function setAsideAt(plan: PlanState, key: Key, before: string, { address }: FoundCell): PlanState {
  const { beforeStrip } = plan;
  if (beforeStrip?.links[key] !== before || address === before) return plan;
  return { ...plan, beforeStrip: { ...beforeStrip, links: { ...beforeStrip.links, [key]: address } } };
}

function takeCell(plan: PlanState, key: Key, before: string, { address, value }: FoundCell): PlanState {
  if (plan.links[key] !== before) return plan; // the user has gone on from it
  if (typeof value === "number") {
    const held = plan.inputs[key];
    const isSame = value === held && !plan.linkTroubles[key];
    if (isSame && address === before) return plan;
    if (isSame) return { ...plan, links: { ...plan.links, [key]: address } };
    const linked = link(plan, key, address, value);
    // What changed is shown, and not taken in silence.
    return typeof held === "number" ? { ...linked, linkBefore: { ...plan.linkBefore, [key]: held } } : linked;
  }
  // Where it was before it was deleted is said once, and then known no more.
  if (isDeleted(before) && plan.linkTroubles[key]) return plan;
  const why: LinkTrouble = value === undefined ? { at: before, holds: null } : { at: address, holds: shown(value) };
  const known = plan.linkTroubles[key];
  if (known?.at === why.at && known.holds === why.holds && address === before) return plan;
  return {
    ...withValue(plan, key, null),
    links: { ...plan.links, [key]: address },
    linkTroubles: { ...plan.linkTroubles, [key]: why },
  };
}

/** Keeps the value and lets the cell go. */
export function unlink(plan: PlanState, key: Key): PlanState {
  const { links, linkBefore, linkTroubles } = plan;
  return {
    ...plan,
    links: without(links, key),
    linkBefore: without(linkBefore, key),
    linkTroubles: without(linkTroubles, key),
  };
}

/** The text in a field at this moment. */
export function textIn(plan: PlanState, key: Key): string {
  const f = field(key);
  const value = plan.inputs[key];
  return plan.typed[key] ?? (isNumber(f) ? typedAs(value as number | null, f) : String(value));
}

// Problems

function problemInText(plan: PlanState, key: Key): string | undefined {
  const text = plan.typed[key];
  return text === undefined ? undefined : readField(plan, key, text).problem;
}

/** Every problem of the form: texts that are no numbers, then values that do not fit. */
export function allProblems(plan: PlanState): Problems {
  const problems = problemsOf(plan.inputs);
  for (const key of KEYS) {
    const unreadable = applies(key, plan.inputs) && problemInText(plan, key);
    if (unreadable) problems[key] = unreadable;
    const unlinkable = applies(key, plan.inputs) && plan.links[key] && plan.linkTroubles[key];
    if (unlinkable) problems[key] = PLAN.linkTrouble(FIELDS[key].label, unlinkable);
  }
  return problems;
}

/** A fresh form doesn't complain about what nobody has filled in yet, but says where inputs go against each other. */
export const isShown = (key: Key, { touched, inputs }: PlanState): boolean =>
  touched.includes(key) || isAgainstOthers(key, inputs);

/** After a try to insert, every problem is shown. */
export function showAllProblems(plan: PlanState): PlanState {
  const bad = KEYS.filter((key) => allProblems(plan)[key]);
  const groups = bad.map((key) => FIELDS[key].group);
  return { ...plan, touched: [...KEYS], openGroups: [...new Set([...plan.openGroups, ...groups])] };
}

// Sections

export function toggleGroup(plan: PlanState, group: Group, open: boolean): PlanState {
  if (plan.openGroups.includes(group) === open) return plan;
  const others = plan.openGroups.filter((g) => g !== group);
  return { ...plan, openGroups: open ? [...others, group] : others };
}

export const fieldsIn = (group: Group, inputs: Inputs): Key[] =>
  KEYS.filter((key) => FIELDS[key].group === group && applies(key, inputs));
