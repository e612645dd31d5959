/**
 * A bid of several floors on plain numbers, for the pane; the sheet has the same in formulas (addin/sheet/bid-formulas.ts).
 * What belongs to the whole job is counted once: setup, trips, nights, overtime, minimum, rounding.
 */
import { wholeContainers } from "../liquids";
import { ADDED_TO_COST } from "../plan/price-chain";
import { crewCostOf, OVERTIME_AFTER, paidHours, priceAtMargin } from "../price";
import { roundUp } from "../round-up";
import { setsToBuy } from "../tooling";
import { workingDay } from "./calendar";
import type { BidJob } from "./job";
import type { BidKind } from "./kinds";
import { centsByWeight } from "./shares";

/** What a bid needs of a floor's plan. */
export interface BidFloor {
  readonly floor: string;
  readonly kind: BidKind;
  /** Place in the schedule. */
  readonly order: number;
  readonly area: number;
  readonly hours: number;
  /** Working hours waiting for cures. */
  readonly waits: number;
  /** Of its stages: tools by wear, liquids by what is used. */
  readonly directCost: number;
  /** The part of it that is wages and burden. */
  readonly crewCost: number;
  /** Sets or volume of each item. */
  readonly uses: Readonly<Record<string, number>>;
  readonly dust: number;
  readonly slurry: number;
  /** kW; 0 where no machine of it is described. */
  readonly power: number;
}

export interface BidExtra {
  readonly name: string;
  readonly kind: BidKind;
  readonly quantity: number;
  /** Whole-crew hours and material cost of one. */
  readonly crewHours: number;
  readonly material: number;
  /** Share lost of the material. */
  readonly waste: number;
}

/** A tool or liquid to buy. */
export interface BidItem {
  readonly name: string;
  readonly kind: "tool" | "liquid";
  /** Of a set or container. */
  readonly price: number;
  /** Volume of a container; 1 for a set. */
  readonly container: number;
  /** Sets or containers. */
  readonly onHand: number;
}

interface Bought {
  readonly item: BidItem;
  /** Sets or volume, over all base floors. */
  readonly used: number;
  readonly toBuy: number;
  readonly cost: number;
  /** Sets or containers on the shelf after the job, and their worth. */
  readonly left: number;
  readonly leftWorth: number;
  /** What containers hold beyond what is used; the price has it in. */
  readonly wholeCost: number;
}

interface FloorOfBid {
  readonly price: number;
  /** Hours at work since the first morning. */
  readonly startHour: number;
  readonly endHour: number;
  /** As a sheet counts days; null without a start date. */
  readonly starts: number | null;
  readonly ends: number | null;
}

interface ExtraOfBid {
  readonly hours: number;
  readonly directCost: number;
  readonly price: number;
}

export interface Bid {
  readonly floors: readonly FloorOfBid[];
  readonly extras: readonly ExtraOfBid[];
  readonly toBuy: readonly Bought[];
  readonly floorsCost: number;
  readonly extrasCost: number;
  readonly setupCost: number;
  readonly tripsCost: number;
  readonly nightsCost: number;
  readonly overtimeCost: number;
  readonly wholeCost: number;
  readonly directCost: number;
  readonly cost: number;
  readonly price: number;
  /** The price, rounded. */
  readonly offered: number;
  readonly tax: number;
  readonly total: number;
  readonly perArea: number;
  readonly hours: number;
  readonly waits: number;
  readonly days: number;
  readonly ends: number | null;
  readonly buyCost: number;
  readonly leftWorth: number;
  readonly power: number;
  readonly dust: number;
  readonly bags: number;
  readonly slurry: number;
}

/** What an hour of everybody costs beyond its plain wage, as a share of it: overtime spread over the week. */
export const overtimeShare = (hoursAWeek: number): number =>
  hoursAWeek > OVERTIME_AFTER ? paidHours(hoursAWeek) / hoursAWeek - 1 : 0;

/** Steps up to a multiple; to the cent where there is none. */
export function roundedPrice(price: number, step: number): number {
  const whole = step > 0 ? Math.ceil(Math.round((price / step) * 1e6) / 1e6) * step : price;
  return Math.round(whole * 100) / 100;
}

const orZero = (value: number | null) => value ?? 0;

/** The least that the job is quoted at; a blank is a day of the crew. */
export const bidMinimum = (job: BidJob): number => job.minimum ?? crewCost(orZero(job.hoursADay), job);

const crewCost = (hours: number, { crew, rate, burden }: BidJob) =>
  crewCostOf(hours, orZero(crew), orZero(rate), orZero(burden));

const costWith = (directCost: number, job: BidJob) =>
  ADDED_TO_COST.reduce((cost, key) => cost * (1 + orZero(job[key])), directCost);

const priceWith = (cost: number, job: BidJob) =>
  cost > 0 ? priceAtMargin(cost, orZero(job.margin), bidMinimum(job)) : 0;

/** What a direct cost is offered at. */
export const offeredFor = (directCost: number, job: BidJob): number =>
  roundedPrice(priceWith(costWith(directCost, job), job), orZero(job.rounding));

const sum = <T>(items: readonly T[], of: (item: T) => number) => items.reduce((all, item) => all + of(item), 0);

/** What containers hold beyond what is used of them. */
const wholeCostOf = ({ kind, container, price }: BidItem, used: number) =>
  kind === "liquid" ? (wholeContainers(used, container) - used / container) * price : 0;

function bought(item: BidItem, used: number): Bought {
  const { container, onHand, price } = item;
  const toBuy = setsToBuy(used / container, onHand);
  const left = onHand + toBuy - used / container;
  const wholeCost = wholeCostOf(item, used);
  return { item, used, toBuy, cost: toBuy * price, left, leftWorth: left * price, wholeCost };
}

export function bidOf(
  job: BidJob,
  floors: readonly BidFloor[],
  extras: readonly BidExtra[],
  items: readonly BidItem[],
): Bid {
  const inBase = ({ kind }: { kind: BidKind }) => kind === "base";
  const base = floors.filter(inBase);
  const worked = extras.map((extra) => {
    const hours = extra.quantity * extra.crewHours;
    const crew = crewCost(hours, job);
    return { ...extra, hours, crew, direct: extra.quantity * (1 + extra.waste) * extra.material + crew };
  });
  const baseExtras = worked.filter(inBase);
  const usedOf = ({ name }: BidItem) => sum(base, ({ uses }) => uses[name] ?? 0);
  const toBuy = items.map((item) => bought(item, usedOf(item)));

  const [floorsCost, extrasCost] = [sum(base, (f) => f.directCost), sum(baseExtras, (e) => e.direct)];
  const setupCost = crewCost(orZero(job.setup), job);
  const tripsCost = orZero(job.trips) * orZero(job.tripCost);
  const nightsCost = orZero(job.nights) * orZero(job.nightCost);
  const overtime = overtimeShare(orZero(job.hoursAWeek));
  const wages = sum(base, (f) => f.crewCost) + sum(baseExtras, (e) => e.crew) + setupCost;
  const overtimeCost = wages * overtime;
  const wholeCost = sum(toBuy, (one) => one.wholeCost);
  const directCost = floorsCost + extrasCost + setupCost + tripsCost + nightsCost + overtimeCost + wholeCost;
  const cost = costWith(directCost, job);
  const price = priceWith(cost, job);
  const offered = roundedPrice(price, orZero(job.rounding));

  const weights = [...floors, ...worked].map((one) =>
    inBase(one) ? ("directCost" in one ? one.directCost : one.direct) : 0,
  );
  const shares = centsByWeight(Math.round(offered * 100), weights).map((cents) => cents / 100);
  /** The price with it minus the price without it. */
  const difference = (more: number) => Math.round((offeredFor(directCost + more, job) - offered) * 100) / 100;
  const wholeMore = ({ uses }: BidFloor) =>
    sum(toBuy, ({ item, used, wholeCost: without }) => wholeCostOf(item, used + (uses[item.name] ?? 0)) - without);
  const priceOf = (one: { kind: BidKind }, i: number, more: () => number) =>
    one.kind === "base" ? shares[i]! : one.kind === "option" ? difference(more()) : 0;

  const [setup, hoursADay] = [orZero(job.setup), orZero(job.hoursADay)];
  const dateOf = (day: number) => (job.start === null ? null : workingDay(job.start, day, orZero(job.daysAWeek)));
  const scheduled = floors.map((floor, i) => {
    const isBefore = (other: BidFloor, j: number) =>
      inBase(other) && (other.order < floor.order || (other.order === floor.order && j < i));
    const startHour = setup + sum(floors.filter(isBefore), (f) => f.hours + f.waits);
    const endHour = startHour + floor.hours + floor.waits;
    const isIn = inBase(floor);
    return {
      price: priceOf(floor, i, () => floor.directCost + floor.crewCost * overtime + wholeMore(floor)),
      startHour,
      endHour,
      starts: isIn ? dateOf(startDay(startHour, hoursADay)) : null,
      ends: isIn ? dateOf(Math.max(0, daysFor(endHour, hoursADay) - 1)) : null,
    };
  });
  const hours = sum(base, (f) => f.hours) + sum(baseExtras, (e) => e.hours) + setup;
  const waits = sum(base, (f) => f.waits);
  const days = daysFor(hours + waits, hoursADay);
  const dust = sum(base, (f) => f.dust);
  const area = sum(base, (f) => f.area);
  const tax = Math.round(offered * orZero(job.taxRate) * 100) / 100;
  return {
    floors: scheduled,
    extras: worked.map((extra, i) => ({
      hours: extra.hours,
      directCost: extra.direct,
      price: priceOf(extra, floors.length + i, () => extra.direct + extra.crew * overtime),
    })),
    toBuy,
    ...{ floorsCost, extrasCost, setupCost, tripsCost, nightsCost, overtimeCost, wholeCost },
    ...{ directCost, cost, price, offered, tax, total: offered + tax },
    perArea: area > 0 ? offered / area : 0,
    ...{ hours, waits, days },
    ends: days > 0 ? dateOf(days - 1) : null,
    buyCost: sum(toBuy, (one) => one.cost),
    leftWorth: sum(toBuy, (one) => one.leftWorth),
    power: Math.max(0, ...base.map((f) => f.power)),
    dust,
    bags: roundUp(dust / orZero(job.bagSize)),
    slurry: sum(base, (f) => f.slurry),
  };
}

/** Hours this close to a whole day are one. */
const inDays = (hours: number, hoursADay: number) => Math.round((hours / hoursADay) * 1e9) / 1e9;
const daysFor = (hours: number, hoursADay: number) => Math.ceil(inDays(hours, hoursADay));
/** Counted from 0: work that begins at the end of a day begins the next morning. */
const startDay = (hour: number, hoursADay: number) => Math.floor(inDays(hour, hoursADay));
