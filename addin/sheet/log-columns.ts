/**
 * The columns of the forecast beside the log. Each has one formula for all stages, and one for a floor or the whole job; what it
 * needs beyond its row it gets through `StageRow` and `SumRow`. `functions/log/progress.ts` is the same arithmetic.
 */
import { LOG_FIELDS, type LogKey } from "../../functions/log/fields";
import { OFF } from "../../functions/log/progress";
import { FORECAST_WORDS as WORDS } from "../../functions/log/words";
import { type System, symbol, symbolsOf } from "../../functions/units";
import type { NumberFormat } from "./styles";

export const FORECAST_KEYS = [
  ...(["floor", "stage", "share", "quoted", "earned", "worked", "atPace", "asQuoted", "daysLeft"] as const),
  ...(["off", "needed", "costQuoted", "costSoFar", "costAtPace", "costAsQuoted"] as const),
  ...(["tools", "wornOutOn"] as const),
  ...(["toDo", "done", "areaADay", "areaNeeded", "machineHours", "fitted", "worn", "hoursADay", "days"] as const),
  ...(["costEarned", "lines", "fittedOn", "firstOn", "lastOn", "first", "last", "wear", "left", "short"] as const),
] as const;
export type ForecastKey = (typeof FORECAST_KEYS)[number];

/** What the plan says of the row's stage, each as a formula. */
export interface QuoteOf {
  readonly floor: string;
  readonly stage: string;
  readonly toDo: string;
  readonly hours: string;
  readonly machineHours: string;
  readonly setsUsed: string;
  readonly crewCost: string;
  readonly machineCost: string;
  readonly toolingCost: string;
  readonly liquidsCost: string;
  readonly hoursADay: string;
}

interface RowOf {
  here(key: ForecastKey): string;
  readonly units: System;
}

interface StageRow extends RowOf {
  readonly quote: QuoteOf;
  /** A column of the log's table. */
  log(key: LogKey): string;
  /** The cell with the height at which a set is changed. */
  readonly changedAt: string;
}

/** A floor, or the whole job: sums of its stages. */
interface SumRow extends RowOf {
  readonly floor: string;
  /** A column's cells of the stages that are summed. */
  stages(key: ForecastKey): string;
}

export interface ForecastColumn {
  readonly title: (units: System) => string;
  readonly width: number;
  readonly format?: NumberFormat;
  readonly isText?: true;
  /** Without equals sign. */
  readonly stage: (row: StageRow) => string;
  /** Left out, the cell stays blank. */
  readonly sum?: (row: SumRow) => string;
}

/** The lines of the row's stage, as criteria. */
const own = ({ here, log }: StageRow) => `${log("floor")},"="&${here("floor")},${log("stage")},"="&${here("stage")}`;
const logged = (row: StageRow, key: LogKey, more = "") => `SUMIFS(${row.log(key)},${own(row)}${more})`;
/** The first or last day on which something was written down; 0 where it never was. */
const dayOf = (row: StageRow, which: "MAXIFS" | "MINIFS", key: LogKey, more = "") =>
  `${which}(${row.log("date")},${own(row)},${row.log(key)},">0"${more})`;
const heightOn = (row: StageRow, which: "MAXIFS" | "MINIFS", day: ForecastKey) =>
  `${which}(${row.log("height")},${own(row)},${row.log("date")},${row.here(day)},${row.log("height")},">0")`;

const inProportion = (part: string, whole: string, amount: string) => `IF(${whole}>0,${amount}*${part}/${whole},0)`;

/** What it comes to at the pace so far; before anything is earned, what was worked comes on top. */
const atPace = (row: RowOf, quoted: ForecastKey, earned: ForecastKey, soFar: ForecastKey) =>
  `IF(${row.here(earned)}>0,GRIT.ATCOMPLETION(${row.here(quoted)},${row.here(soFar)},${row.here(earned)}/${row.here(quoted)}),${row.here(quoted)}+${row.here(soFar)})`;
/** The same with the rest as quoted. */
const asQuoted = (row: RowOf, quoted: ForecastKey, earned: ForecastKey, soFar: ForecastKey) =>
  `IF(${row.here(earned)}>0,GRIT.ATCOMPLETION(${row.here(quoted)},${row.here(soFar)},${row.here(earned)}/${row.here(quoted)},TRUE),${row.here(quoted)}+${row.here(soFar)})`;

const daysLeft = ({ here }: RowOf) =>
  `IF(${here("hoursADay")}>0,(${here("atPace")}-${here("worked")})/${here("hoursADay")},0)`;

/** How far the hours are off what is earned, in words; so little is said not to be. */
const offWords = ({ here }: RowOf) => {
  const off = `${here("worked")}/${here("earned")}-1`;
  const said = `ROUND(100*ABS(${off}),0)&IF(${off}>0,"${WORDS.more}","${WORDS.fewer}")`;
  const words = `IF(ABS(${off})<=${OFF},"${WORDS.asQuoted}",${said})`;
  return `IF(${here("earned")}>0,${words},IF(${here("worked")}>0,"${WORDS.noArea}","${WORDS.notBegun}"))`;
};

const total = (key: ForecastKey) => (row: SumRow) => `SUM(${row.stages(key)})`;
const around = ([before, after]: readonly [string, string], figure: string) => `"${before}"&${figure}&"${after}"`;

const HOURS = { width: 52, format: "hours" } as const;
const MONEY = { width: 66, format: "money" } as const;
const AREA = { width: 62, format: "count" } as const;

export const FORECAST_COLUMNS: Readonly<Record<ForecastKey, ForecastColumn>> = {
  floor: { title: () => LOG_FIELDS.floor.label, width: 110, isText: true, stage: ({ quote }) => quote.floor },
  stage: { title: () => LOG_FIELDS.stage.label, width: 130, isText: true, stage: ({ quote }) => quote.stage },
  share: {
    title: () => "Share done",
    ...{ width: 48, format: "percent" },
    stage: ({ here }) => `IF(${here("toDo")}>0,MIN(1,${here("done")}/${here("toDo")}),0)`,
    sum: ({ here }) => `IF(${here("quoted")}>0,${here("earned")}/${here("quoted")},0)`,
  },
  quoted: { title: () => "Quoted h", ...HOURS, stage: ({ quote }) => quote.hours, sum: total("quoted") },
  earned: {
    title: () => "Earned h",
    ...HOURS,
    stage: ({ here }) => `${here("share")}*${here("quoted")}`,
    sum: total("earned"),
  },
  worked: { title: () => "Worked h", ...HOURS, stage: (row) => logged(row, "crewHours"), sum: total("worked") },
  atPace: {
    title: () => "h at this pace",
    ...HOURS,
    stage: (row) => atPace(row, "quoted", "earned", "worked"),
    sum: (row) => atPace(row, "quoted", "earned", "worked"),
  },
  asQuoted: {
    title: () => "h, rest as quoted",
    ...HOURS,
    stage: (row) => asQuoted(row, "quoted", "earned", "worked"),
    sum: (row) => asQuoted(row, "quoted", "earned", "worked"),
  },
  daysLeft: { title: () => "Days left", ...HOURS, stage: daysLeft, sum: daysLeft },
  off: { title: () => "So far", width: 150, isText: true, stage: offWords, sum: offWords },
  needed: {
    title: () => "For the quoted hours to hold",
    ...{ width: 220, isText: true },
    stage({ here, units }) {
      const area = symbol("floorArea", units);
      const figure = (key: ForecastKey) => `FIXED(${here(key)},0)&" ${area}"`;
      const soFar = `IF(${here("areaADay")}="","",${around(WORDS.areaSoFar, figure("areaADay"))})`;
      const needed = `${around(WORDS.areaNeeded, figure("areaNeeded"))}&${soFar}`;
      return `IF(${here("share")}>=1,"${WORDS.done}",IF(${here("areaNeeded")}="","${WORDS.usedUp}",${needed}))`;
    },
    sum({ here }) {
      const rest = `${here("quoted")}-${here("earned")}`;
      const left = `${here("quoted")}-${here("worked")}`;
      const pace = around(WORDS.paceNeeded, `FIXED((${rest})/(${left}),2)`);
      return `IF(${here("share")}>=1,"${WORDS.done}",IF(${left}<=0,"${WORDS.usedUp}",${pace}))`;
    },
  },
  costQuoted: {
    title: () => "Quoted cost",
    ...MONEY,
    stage: ({ quote }) => `${quote.crewCost}+${quote.machineCost}+${quote.toolingCost}+${quote.liquidsCost}`,
    sum: total("costQuoted"),
  },
  costSoFar: {
    title: () => "Cost so far",
    ...MONEY,
    stage({ here, quote }) {
      const tooling = `IF(${quote.setsUsed}>0,${quote.toolingCost}*${here("worn")}/${quote.setsUsed},${quote.toolingCost}*${here("share")})`;
      return [
        inProportion(here("worked"), quote.hours, quote.crewCost),
        inProportion(here("machineHours"), quote.machineHours, quote.machineCost),
        tooling,
        `${quote.liquidsCost}*${here("share")}`,
      ].join("+");
    },
    sum: total("costSoFar"),
  },
  costAtPace: {
    title: () => "Cost at this pace",
    ...MONEY,
    stage: (row) => atPace(row, "costQuoted", "costEarned", "costSoFar"),
    sum: (row) => atPace(row, "costQuoted", "costEarned", "costSoFar"),
  },
  costAsQuoted: {
    title: () => "Cost, rest as quoted",
    ...MONEY,
    stage: (row) => asQuoted(row, "costQuoted", "costEarned", "costSoFar"),
    sum: (row) => asQuoted(row, "costQuoted", "costEarned", "costSoFar"),
  },
  tools: {
    title: () => "Tools",
    ...{ width: 150, isText: true },
    stage({ here, units }) {
      const short = around(WORDS.setShort, `FIXED(${here("short")},0)&" ${symbol("floorArea", units)}"`);
      return `IF(${here("short")}="","",IF(${here("short")}>0,${short},"${WORDS.setLasts}"))`;
    },
  },
  wornOutOn: {
    title: () => "Worn out on",
    ...{ width: 66, format: "date" },
    stage(row) {
      const { here } = row;
      const lastDay = `MAXIFS(${row.log("date")},${own(row)})`;
      const days = `ROUNDUP(${here("left")}/${here("areaADay")}-1E-9,0)`;
      const isOut = `OR(${here("left")}=0,${here("areaADay")}="")`;
      return `IF(N(${here("short")})>0,IF(${isOut},${lastDay},WORKDAY(${lastDay},${days})),"")`;
    },
  },
  toDo: { title: (units) => `To do ${symbol("floorArea", units)}`, ...AREA, stage: ({ quote }) => quote.toDo },
  done: { title: (units) => `Done ${symbol("floorArea", units)}`, ...AREA, stage: (row) => logged(row, "area") },
  areaADay: {
    title: () => "Area a day so far",
    ...AREA,
    stage: ({ here }) =>
      `IF(${here("worked")}*${here("done")}>0,${here("done")}/${here("worked")}*${here("hoursADay")},"")`,
  },
  areaNeeded: {
    title: () => "Area a day needed",
    ...AREA,
    stage({ here }) {
      const left = `(${here("quoted")}-${here("worked")})`;
      const pace = `(${here("toDo")}-${here("done")})/${left}*${here("hoursADay")}`;
      return `IF((${here("share")}<1)*(${left}>0),${pace},"")`;
    },
  },
  machineHours: { title: () => "Machine h", ...HOURS, stage: (row) => logged(row, "machineHours") },
  fitted: { title: () => "Sets fitted", width: 46, format: "sets", stage: (row) => logged(row, "sets") },
  worn: {
    title: () => "Sets worn",
    ...{ width: 46, format: "sets" },
    stage({ here, quote }) {
      const byArea = `${here("share")}*${quote.setsUsed}`;
      // At least all sets but the last that was fitted, at most all of them.
      return `IF(${here("fitted")}>0,MEDIAN(${here("fitted")}-1,${byArea},${here("fitted")}),${byArea})`;
    },
  },
  hoursADay: {
    title: () => "Hours a day",
    ...HOURS,
    stage: ({ quote }) => quote.hoursADay,
    sum: ({ here }) => `IF(${here("days")}>0,${here("quoted")}/${here("days")},0)`,
  },
  days: {
    title: () => "Quoted days",
    ...HOURS,
    stage: ({ here }) => `${here("quoted")}/${here("hoursADay")}`,
    sum: total("days"),
  },
  costEarned: {
    title: () => "Earned cost",
    ...MONEY,
    stage: ({ here }) => `${here("share")}*${here("costQuoted")}`,
    sum: total("costEarned"),
  },
  lines: {
    title: () => "Lines",
    ...{ width: 40, format: "count" },
    stage: (row) => `COUNTIFS(${own(row)})`,
    sum: total("lines"),
  },
  fittedOn: {
    title: () => "Set fitted on",
    width: 66,
    format: "dateKnown",
    stage: (row) => dayOf(row, "MAXIFS", "sets"),
  },
  firstOn: {
    title: () => "First height on",
    ...{ width: 66, format: "dateKnown" },
    stage: (row) => dayOf(row, "MINIFS", "height", `,${row.log("date")},">="&${row.here("fittedOn")}`),
  },
  lastOn: {
    title: () => "Last height on",
    ...{ width: 66, format: "dateKnown" },
    stage: (row) => dayOf(row, "MAXIFS", "height", `,${row.log("date")},">="&${row.here("fittedOn")}`),
  },
  first: {
    title: () => "First height mm",
    ...{ width: 52, format: "sets" },
    stage: (row) => heightOn(row, "MAXIFS", "firstOn"),
  },
  last: {
    title: () => "Last height mm",
    ...{ width: 52, format: "sets" },
    stage: (row) => heightOn(row, "MINIFS", "lastOn"),
  },
  wear: {
    title: (units) => `Wear ${symbolsOf("wearRate")[units]}`,
    ...{ width: 66, format: "size" },
    stage(row) {
      const { here } = row;
      const days = `,${row.log("date")},">"&${here("firstOn")},${row.log("date")},"<="&${here("lastOn")}`;
      const between = logged(row, "area", days);
      const wear = `GRIT.WEARRATE(${here("first")},${here("last")},${between},1,"${row.units}")`;
      return `IF(${here("first")}>${here("last")},IF(${between}>0,${wear},""),"")`;
    },
  },
  left: {
    title: () => "Area left in the set",
    ...AREA,
    stage(row) {
      const { here } = row;
      const since = logged(row, "area", `,${row.log("date")},">"&${here("lastOn")}`);
      const life = `GRIT.LIFELEFT(${here("last")},${row.changedAt},${here("wear")},"${row.units}")`;
      return `IF(${here("wear")}="","",MAX(0,${life}-${since}))`;
    },
  },
  short: {
    title: () => "Area it is short of",
    ...AREA,
    stage: ({ here }) => `IF(${here("left")}="","",MAX(0,${here("toDo")}-${here("done")}-${here("left")}))`,
  },
};
