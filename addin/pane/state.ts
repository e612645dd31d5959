/**
 * What the pane knows, and every change to it, without a DOM and without a workbook.
 * Each change is a function from a state to the next; those of the sequence are in `stages.ts`, and what follows from a
 * state is worked out in `derived.ts`.
 */
import { shown } from "../../functions/cell";
import {
  type Choice,
  FIELDS,
  type Field,
  field,
  type Group,
  KEYS,
  type Key,
  type NumberField,
} from "../../functions/plan/fields";
import {
  applies,
  floorOf,
  type Inputs,
  inUnits,
  type Problems,
  problemsOf,
  startInputs,
  unitOf,
} from "../../functions/plan/inputs";
import { type PlannedStage, usualDepth, usualLastGrit } from "../../functions/plan/proposal";
import { type Shelf, starterShelf } from "../../functions/plan/shelf";
import type { System } from "../../functions/units";
import type { Inserted, Links } from "../sheet";
import type { Catalogue } from "./functions/catalogue";
import { startWorking, type WorkingState } from "./functions/math";
import { type RepairState, startRepair } from "./functions/repair";
import { type JobsState, startJobs } from "./jobs/state";
import { briefly, otherReading, readTyped, typedAs } from "./numbers";
import type { Source } from "./plan/sequences";
import { type EntryKey, type MeasuredCut, type StripState, startStrip, stripInUnits } from "./plan/strip";
import { type ShareState, startShare } from "./share/state";

export const VIEWS = { plan: "Plan", functions: "Functions", jobs: "Jobs", share: "Share" } as const;
export type View = keyof typeof VIEWS;

export const PLACES = ["new sheet", "selected cell"] as const;
export type Place = (typeof PLACES)[number];

/** The shelf as it was last read, in the units it was read in. */
export interface KnownShelf {
  readonly shelf: Shelf;
  readonly units: System;
  readonly from: string;
  readonly problems: readonly string[];
  /** Why nothing can be priced from it: its numbers are in the other units, or two rows have one name. */
  readonly unfit?: string;
}

export interface Message {
  readonly kind: "done" | "note" | "error";
  readonly text: string;
  /** What can be taken back. */
  readonly inserted?: Inserted;
}

export interface Question {
  readonly what: string;
  readonly question: string;
  readonly yes: () => void;
}

export interface State {
  readonly view: View;
  readonly host: "waiting" | "ready" | "absent";
  readonly welcome: boolean;
  readonly inputs: Inputs;
  /** Text of number fields that are being typed in or cannot be read. */
  readonly typed: Readonly<Partial<Record<Key, string>>>;
  /** Fields whose problems are told: a fresh form does not complain about what nobody has filled in yet. */
  readonly touched: readonly Key[];
  readonly links: Links;
  /** Of inputs whose cell holds no number, why there is none. */
  readonly linkTroubles: Problems;
  readonly openGroups: readonly Group[];
  /** Which sequence is shown and written. */
  readonly source: Source;
  /** Whether looking at the cheapest sequence has changed how passes are counted, which going back undoes. */
  readonly passesLent: boolean;
  /** The user's own sequence; null follows the proposal. */
  readonly ownStages: readonly PlannedStage[] | null;
  readonly shelf: KnownShelf;
  /** Whether the shelf and the linked cells were read since the plan came into view. */
  readonly followed: boolean;
  readonly place: Place;
  /** The command that is running; empty when none is. */
  readonly busy: string;
  /** What is told while it runs to who has asked for another, which was not started; else empty. */
  readonly turnedAway: string;
  /** Whether the spreadsheet writes decimals after a comma, as the user may then by habit; the pane reads English notation. */
  readonly decimalComma: boolean;
  readonly message: Message | null;
  /** What was inserted and can be taken back, the last last: what came before it may be what it stands on. */
  readonly undoables: readonly Inserted[];
  /** A change that only a listener would miss. */
  readonly announcement: string;
  readonly question: Question | null;
  readonly catalogue: Catalogue | "unread" | "reading";
  readonly search: string;
  readonly jobs: JobsState;
  readonly share: ShareState;
  readonly repair: RepairState;
  readonly strip: StripState;
  /** Null where the plan has taken nothing from a strip. */
  readonly beforeStrip: BeforeStrip | null;
  readonly working: WorkingState;
}

export const starterOf = (units: System): KnownShelf => ({
  shelf: starterShelf(units),
  units,
  from: "starter shelf",
  problems: [],
});

export function startState(units: System = "us"): State {
  return {
    view: "plan",
    host: "waiting",
    welcome: true,
    inputs: startInputs(units),
    typed: {},
    touched: [],
    links: {},
    linkTroubles: {},
    openGroups: ["job", "floor", "finish"],
    source: "mine",
    passesLent: false,
    ownStages: null,
    shelf: starterOf(units),
    followed: true,
    place: "new sheet",
    busy: "",
    turnedAway: "",
    decimalComma: false,
    message: null,
    undoables: [],
    announcement: "",
    question: null,
    catalogue: "unread",
    search: "",
    jobs: startJobs(),
    share: startShare(),
    repair: startRepair(),
    strip: startStrip(),
    beforeStrip: null,
    working: startWorking(),
  };
}

/** An invented job, so that a first look shows a whole plan. */
const EXAMPLE: Record<System, Partial<Inputs>> = {
  us: { jobName: "Cooper's yard, unit 4 (example)", length: 80, width: 50 },
  metric: { jobName: "Cooper's yard, unit 4 (example)", length: 24, width: 15 },
};

export function fillInExample(state: State): State {
  const { units } = state.inputs;
  const inputs = { ...startInputs(units), ...EXAMPLE[units] };
  return { ...state, inputs, typed: {}, touched: [], links: {}, source: "mine", passesLent: false, ownStages: null };
}

// Inputs

const isNumber = (f: Field): f is NumberField => f.kind === "number";
const without = <T extends object>(record: T, key: keyof T): T => {
  const { [key]: _, ...rest } = record;
  return rest as T;
};
const touch = (state: State, key: Key): readonly Key[] =>
  state.touched.includes(key) ? state.touched : [...state.touched, key];

function withValue(state: State, key: Key, value: unknown): State {
  return { ...state, inputs: { ...state.inputs, [key]: value } as Inputs, touched: touch(state, key) };
}

/** A keystroke in a number field. */
export function typeNumber(state: State, key: Key, text: string): State {
  const { value } = readTyped(text, field(key) as NumberField);
  return { ...withValue(state, key, value), typed: { ...state.typed, [key]: text } };
}

/** The field is left: what can be read is shown in its usual form from now on. */
export function settle(state: State, key: Key): State {
  const text = state.typed[key];
  if (text === undefined || readTyped(text, field(key) as NumberField).problem) return state;
  if (doubtAboutNotation(state, key)) return state; // what is doubted stays in sight
  return { ...state, typed: without(state.typed, key) };
}

export function setText(state: State, key: Key, text: string): State {
  return withValue(state, key, text);
}

export function setChoice(state: State, key: Key, value: string): State {
  if (key === "units") return switchUnits(state, value as System);
  const chosen = withValue(state, key, value);
  return key === "passesFrom" ? { ...chosen, passesLent: false } : chosen;
}

/** Converts what is filled in. A cell of the user's still holds its old unit, so quantities are no longer taken from it. */
function switchUnits(state: State, units: System): State {
  if (units === state.inputs.units) return state;
  const isQuantity = (key: Key) => "quantity" in FIELDS[key];
  const unlinked = KEYS.filter((key) => state.links[key] && isQuantity(key));
  const links = Object.fromEntries(Object.entries(state.links).filter(([key]) => !unlinked.includes(key as Key)));
  const typed = Object.fromEntries(Object.entries(state.typed).filter(([key]) => problemInText(state, key as Key)));
  const labels = unlinked.map((key) => FIELDS[key].label).join(", ");
  const text = `Converted and no longer taken from cells, because those still hold the other unit: ${labels}.`;
  const message: Message | null = unlinked.length > 0 ? { kind: "note", text } : state.message;
  const strip = stripInUnits(state.strip, state.inputs.units, units);
  return { ...state, inputs: inUnits(state.inputs, units), links, typed, message, strip };
}

/** Takes a field's value from a cell of the user's; what goes into the sheet is the address. */
export function link(state: State, key: Key, address: string, value: number): State {
  const linked = { ...withValue(state, key, value), links: { ...state.links, [key]: address } };
  return { ...linked, typed: without(state.typed, key), linkTroubles: without(state.linkTroubles, key) };
}

/** Takes what the linked cells hold now; one that holds no number leaves its field empty, with the reason. */
export function takeLinked(state: State, asked: Links, values: Partial<Record<Key, unknown>>): State {
  return (Object.keys(asked) as Key[]).reduce((s, key) => {
    const address = asked[key]!;
    if (s.links[key] !== address) return s; // the user has gone on from it
    const value = values[key];
    if (typeof value === "number") {
      return value === s.inputs[key] && !s.linkTroubles[key] ? s : link(s, key, address, value);
    }
    const holds = value === undefined ? "is gone" : `holds ${shown(value)}`;
    const why = `${FIELDS[key].label} is taken from ${address}, which ${holds}; it needs a number`;
    if (s.linkTroubles[key] === why) return s;
    return { ...withValue(s, key, null), linkTroubles: { ...s.linkTroubles, [key]: why } };
  }, state);
}

/** Keeps the value and forgets the cell. */
export function unlink(state: State, key: Key): State {
  return { ...state, links: without(state.links, key) };
}

/** The text in a field at this moment. */
export function textIn(state: State, key: Key): string {
  const f = field(key);
  const value = state.inputs[key];
  return state.typed[key] ?? (isNumber(f) ? typedAs(value as number | null, f) : String(value));
}

/** What a blank field stands for, worked out; empty where nothing can be said yet. */
export function blankValue(state: State, key: Key): string {
  const { inputs } = state;
  const f = field(key) as NumberField;
  const worked = (value: number) => (Number.isFinite(value) && value > 0 ? briefly(value, f) : "");
  if (key === "area") return worked(floorOf({ ...inputs, area: null }).area);
  if (key === "edgeLength") return worked(floorOf({ ...inputs, edgeLength: null }).edge);
  if (key === "depth") return worked(Math.round(usualDepth(inputs)));
  if (key !== "lastGrit" || inputs.finish === "by grit") return "";
  return inputs.finish === "coating" && problemsOf(inputs).film ? "" : worked(usualLastGrit(inputs));
}

/** What is allowed and yet most often a slip; empty where there is none. */
export const doubtAbout = (state: State, key: Key): string =>
  doubtAboutNotation(state, key) ||
  doubtAboutSize(key, state.inputs) ||
  (key === "area" ? doubtAboutArea(state.inputs) : doubtAboutPercent(state, key));

/** More than jobs usually have, which is most often a digit or a unit too many. */
function doubtAboutSize(key: Key, inputs: Inputs): string {
  const f = field(key);
  const value = inputs[key];
  if (!isNumber(f) || typeof value !== "number") return "";
  const most = f.usualMost?.[inputs.units];
  if (most === undefined || value <= most) return "";
  const unit = unitOf(key, inputs.units);
  return `More than is usual (${briefly(most, f)} ${unit}); check the number and its unit`;
}

/** A number that who writes decimals after a comma may have meant otherwise. */
function doubtAboutNotation({ decimalComma, typed }: State, key: Key): string {
  const f = field(key);
  const text = typed[key];
  return decimalComma && text !== undefined && isNumber(f) ? otherReading(text, f.percent) : "";
}

/** Every doubt with its field's name, for where the field itself is out of sight. */
export const allDoubts = (state: State): string[] =>
  KEYS.filter((key) => applies(key, state.inputs)).flatMap((key) => {
    const doubt = doubtAbout(state, key);
    return doubt ? [`${FIELDS[key].label}: ${doubt.charAt(0).toLowerCase()}${doubt.slice(1)}.`] : [];
  });

/** Share by which an area may differ from length × width, which are measured to the nearest foot or so. */
const MEASURED_WITHIN = 0.01;

/** A floor need not be a rectangle, but then its edges may be others too. */
function doubtAboutArea({ area, length, width, edgeLength, units }: Inputs): string {
  if (area === null || length === null || width === null || !(length > 0 && width > 0)) return "";
  const rectangle = length * width;
  if (Math.abs(area - rectangle) <= MEASURED_WITHIN * rectangle) return "";
  const edges = edgeLength === null ? "; the edge length comes from length and width" : "";
  const measured = `${briefly(rectangle, FIELDS.area)} ${unitOf("area", units)}`;
  return `Length × width is ${measured}, but the price is for the area given here${edges}`;
}

/** A percentage below 1 % is allowed, yet most often a fraction typed by habit. */
function doubtAboutPercent(state: State, key: Key): string {
  const f = field(key);
  const value = state.inputs[key];
  if (!isNumber(f) || !f.percent || state.links[key]) return "";
  if (typeof value !== "number" || value <= 0 || value >= 0.01) return "";
  const percent = typedAs(value, f);
  return `Taken as ${percent} %; for ${typedAs(value * 100, f)} % type ${typedAs(value * 100, f)}`;
}

function problemInText(state: State, key: Key): string | undefined {
  const text = state.typed[key];
  return text === undefined ? undefined : readTyped(text, field(key) as NumberField).problem;
}

/** Every problem of the form: texts that are no numbers, then values that do not fit. */
export function allProblems(state: State): Problems {
  const problems = problemsOf(state.inputs);
  for (const key of KEYS) {
    const unreadable = applies(key, state.inputs) && problemInText(state, key);
    if (unreadable) problems[key] = unreadable;
    const unlinkable = applies(key, state.inputs) && state.links[key] && state.linkTroubles[key];
    if (unlinkable) problems[key] = unlinkable;
  }
  return problems;
}

/** After a try to insert, every problem is told. */
export function tellAllProblems(state: State): State {
  const bad = KEYS.filter((key) => allProblems(state)[key]);
  const groups = bad.map((key) => FIELDS[key].group);
  return { ...state, touched: [...KEYS], openGroups: [...new Set([...state.openGroups, ...groups])] };
}

export function toggleGroup(state: State, group: Group, open: boolean): State {
  const others = state.openGroups.filter((g) => g !== group);
  return { ...state, openGroups: open ? [...others, group] : others };
}

export const fieldsIn = (group: Group, inputs: Inputs): Key[] =>
  KEYS.filter((key) => FIELDS[key].group === group && applies(key, inputs));

const labelOf = (choices: readonly Choice[], value: unknown) =>
  choices.find(([word]) => word === value)?.[1] ?? String(value);

/** A closed section's first values, so that it need not be opened to be checked. */
export function digest(group: Group, inputs: Inputs): string {
  const parts = fieldsIn(group, inputs).map((key) => {
    const f = field(key);
    const value = inputs[key];
    if (f.kind === "choice") return labelOf(f.choices, value);
    if (f.kind === "text" || value === null) return String(value ?? "");
    return `${f.label.toLowerCase()} ${briefly(value as number, f)} ${unitOf(key, inputs.units)}`.trim();
  });
  return parts.filter((part) => part !== "").join(" · ");
}

// The test strip

export const typeEntry = (state: State, key: EntryKey, text: string): State => ({
  ...state,
  strip: { ...state.strip, typed: { ...state.strip.typed, [key]: text } },
});

export const chooseOnStrip = (state: State, choice: Partial<Pick<StripState, "tool" | "machine">>): State => ({
  ...state,
  strip: { ...state.strip, ...choice },
});

/** What a strip takes over in a plan, as it was before. */
interface BeforeStrip {
  readonly inputs: Inputs;
  readonly links: Links;
}

const TAKEN_FROM_STRIP = ["cutCoefficient", "stripSize", "slideSpeed"] as const;

/** Takes every tool's cut in this plan from the strip. */
export function takeFromStrip(state: State, { tool, coefficient, size, slideSpeed }: MeasuredCut): State {
  const taken = { cutCoefficient: coefficient, stripSize: size, slideSpeed };
  const keys = TAKEN_FROM_STRIP;
  const cleared = keys.reduce((s, key) => ({ ...unlink(s, key), typed: without(s.typed, key) }), state);
  const text = `The plan takes each tool's cut from the strip with ${tool.name}, and passes as the scratches need. To go back: Test strip, Put the old values back.`;
  return {
    ...toggleGroup(cleared, "planning", true),
    beforeStrip: { inputs: state.inputs, links: state.links },
    inputs: { ...cleared.inputs, ...taken, passesFrom: "scratch" },
    passesLent: false,
    message: { kind: "note", text },
  };
}

/** Cut and passes as they were before the strip was taken, in the units of now. */
export function putBackBeforeStrip(state: State): State {
  const { beforeStrip } = state;
  if (!beforeStrip) return state;
  const { cutCoefficient, stripSize, slideSpeed, passesFrom } = inUnits(beforeStrip.inputs, state.inputs.units);
  const links = { ...state.links };
  for (const key of TAKEN_FROM_STRIP) delete links[key];
  // A cell of the user's still holds its old unit.
  const isSameUnit = beforeStrip.inputs.units === state.inputs.units;
  const linked = TAKEN_FROM_STRIP.filter(() => isSameUnit).flatMap((key) =>
    beforeStrip.links[key] ? [[key, beforeStrip.links[key]]] : [],
  );
  return {
    ...state,
    inputs: { ...state.inputs, cutCoefficient, stripSize, slideSpeed, passesFrom },
    typed: TAKEN_FROM_STRIP.reduce((typed, key) => without(typed, key), state.typed),
    links: { ...links, ...Object.fromEntries(linked) },
    beforeStrip: null,
    message: { kind: "note", text: "Cut and passes of the plan are as before the strip." },
  };
}
