/** Changes of what was chosen in the Bid view, and what of it can't be written. */

import { type ExtraKind, moistureTests } from "../../../functions/bid/extras";
import { BID_KEYS, type BidJob, type BidKey, bidField, bidUnit } from "../../../functions/bid/job";
import type { BidKind } from "../../../functions/bid/kinds";
import { isWithin } from "../../../functions/domain";
import { convert, type System } from "../../../functions/units";
import type { BidChoice, ReadBid } from "../../sheet";
import { readTyped, typedAs } from "../numbers";
import type { BidState, ChosenExtra } from "./state";
import { BID } from "./texts";

/** What was read takes the place of what was chosen, but for what the user is typing. */
export function takeRead(bid: BidState, read: ReadBid): BidState {
  const isChanged = Object.keys(bid.typed).length > 0;
  const written = read.bid?.floors ?? [];
  const known = [...written]
    .sort((a, b) => a.order - b.order)
    .flatMap(({ sheet, kind }) => {
      const plan = read.plans.find((one) => one.sheet === sheet);
      return plan ? [{ sheetId: plan.sheetId, kind }] : [];
    });
  const isKnown = (sheetId: string) => known.some((floor) => floor.sheetId === sheetId);
  const added = read.plans
    .filter(({ sheetId }) => !isKnown(sheetId))
    .map(({ sheetId }) => ({
      sheetId,
      kind: bid.floors.find((f) => f.sheetId === sheetId)?.kind ?? ("base" as const),
    }));
  const extras = read.bid?.extras.map((extra) => ({
    ...{ name: String(extra.name), unit: String(extra.unit), words: String(extra.words) },
    kind: extra.kind as BidKind,
    ...{ quantity: textOf(extra.quantity), crewHours: textOf(extra.crewHours), material: textOf(extra.material) },
    waste: typeof extra.waste === "number" ? typedAs(extra.waste, { percent: true }) : "",
  }));
  return {
    ...bid,
    read,
    floors: [...known, ...added],
    extras: extras ?? bid.extras,
    job: isChanged && bid.job ? bid.job : read.job,
  };
}

const textOf = (value: string | number) => (typeof value === "number" ? typedAs(value, {}) : String(value));

export const setKind = (bid: BidState, sheetId: string, kind: BidKind): BidState => ({
  ...bid,
  floors: bid.floors.map((floor) => (floor.sheetId === sheetId ? { ...floor, kind } : floor)),
});

/** One place earlier. */
export function moveUp(bid: BidState, index: number): BidState {
  const floors = [...bid.floors];
  const [moved] = floors.splice(index, 1);
  floors.splice(Math.max(0, index - 1), 0, moved!);
  return { ...bid, floors };
}

/** A kind of extra work with a quantity to begin with: tests by the base floors' area, else 1. */
export function addExtra(bid: BidState, kind: ExtraKind): BidState {
  const { units = "us", plans = [] } = bid.read ?? {};
  const base = plans.filter(({ sheetId }) => bid.floors.some((f) => f.sheetId === sheetId && f.kind === "base"));
  const area = base.reduce((sum, plan) => sum + (plan.area ?? 0), 0);
  const inFeet = convert(area, "floorArea", units, "us");
  const extra: ChosenExtra = {
    ...{ name: kind.name, kind: "base", unit: kind.unit, words: kind.words ?? kind.name },
    quantity: /moisture test/i.test(kind.name) ? String(moistureTests(inFeet)) : "1",
    crewHours: typedAs(kind.crewHours, {}),
    material: typedAs(kind.material, {}),
    waste: typedAs(kind.waste, { percent: true }),
  };
  return { ...bid, extras: [...bid.extras, extra] };
}

export const changeExtra = (bid: BidState, index: number, change: Partial<ChosenExtra>): BidState => ({
  ...bid,
  extras: bid.extras.map((extra, i) => (i === index ? { ...extra, ...change } : extra)),
});
export const removeExtra = (bid: BidState, index: number): BidState => ({
  ...bid,
  extras: bid.extras.filter((_, i) => i !== index),
});

/** Text of a field as it is shown: what was typed, else its value. */
export function fieldText(bid: BidState, key: BidKey): string {
  const typed = bid.typed[key];
  const value = bid.job?.[key];
  if (typed !== undefined || value === null || value === undefined) return typed ?? "";
  const field = bidField(key);
  if (field.kind === "date") return isoOf(value as number);
  return field.kind === "text" ? String(value) : typedAs(value as number, field);
}

/** Day 25,569 of a spreadsheet is January 1, 1970. */
const DAYS_BEFORE_1970 = 25_569;
const DAY = 86_400_000;
export const isoOf = (day: number) => new Date((day - DAYS_BEFORE_1970) * DAY).toISOString().slice(0, 10);
const dayOfIso = (text: string): number | null => {
  const time = Date.parse(`${text}T00:00:00Z`);
  return Number.isNaN(time) ? null : time / DAY + DAYS_BEFORE_1970;
};

export function typeField(bid: BidState, key: BidKey, text: string): BidState {
  const { value } = readField(key, text, bid.read?.units ?? "us");
  const job = bid.job && { ...bid.job, [key]: value };
  return { ...bid, typed: { ...bid.typed, [key]: text }, job };
}

/** What may stay blank. */
const MAY_BE_BLANK: readonly BidKey[] = ["minimum", "supply", "date", "start"];

function readField(key: BidKey, text: string, units: System): { value: string | number | null; problem?: string } {
  const field = bidField(key);
  if (field.kind === "text") return { value: text };
  if (field.kind === "date") {
    const value = dayOfIso(text);
    return { value, ...(text !== "" && value === null && { problem: BID.badDate(field.label) }) };
  }
  const found = readTyped(text, field, { unit: bidUnit(key, units), isMoney: field.money });
  if (found.problem) return found;
  if (found.value === null) return MAY_BE_BLANK.includes(key) ? found : { ...found, problem: BID.missing(field.label) };
  return isWithin(found.value, field.domain)
    ? found
    : { ...found, problem: BID.mustBe(field.label, field.domain.words) };
}

export const problemOf = (bid: BidState, key: BidKey): string | undefined =>
  readField(key, fieldText(bid, key), bid.read?.units ?? "us").problem;

const NUMBERS = [
  ["quantity", false],
  ["crewHours", false],
  ["material", false],
  ["waste", true],
] as const;

/** What is wrong with an extra. */
export function extraProblem(extra: ChosenExtra): string | undefined {
  if (extra.name.trim() === "") return BID.extraName;
  for (const [key, percent] of NUMBERS) {
    const label = `${extra.name}: ${BID.extraLabels[key]}`;
    const { value, problem } = readTyped(extra[key], { label, percent });
    if (problem) return problem;
    if (value === null || value < 0) return BID.mustBe(label, BID.from0);
  }
  return undefined;
}

export const problemsIn = (bid: BidState): string[] => [
  ...BID_KEYS.flatMap((key) => problemOf(bid, key) ?? []),
  ...bid.extras.flatMap((extra) => extraProblem(extra) ?? []),
];

/** What is written. */
export function choiceOf({ floors, extras, job, read }: BidState): BidChoice {
  const written = read!.bid?.floors ?? [];
  const placeOf = (sheetId: string) => {
    const sheet = read!.plans.find((plan) => plan.sheetId === sheetId)?.sheet;
    const place = written.findIndex((floor) => floor.sheet === sheet);
    return place < 0 ? written.length : place;
  };
  const ordered = floors.map((floor, i) => ({ ...floor, order: i + 1 }));
  return {
    job: job as BidJob,
    // A floor keeps its row, in which the user may have written.
    floors: [...ordered].sort((a, b) => placeOf(a.sheetId) - placeOf(b.sheetId)),
    extras: extras.map((extra) => ({
      ...extra,
      ...Object.fromEntries(
        NUMBERS.map(([key, percent]) => [key, readTyped(extra[key], { label: "", percent }).value ?? ""]),
      ),
    })) as BidChoice["extras"],
  };
}
