/** The formulas of the Bid sheet: the same arithmetic as functions/bid/bid.ts. */
import { BID_FIELDS, type BidKey } from "../../functions/bid/job";
import type { Key } from "../../functions/plan/fields";
import { costFormula, priceFormula } from "../../functions/plan/price-chain";
import { OVERTIME_AFTER } from "../../functions/price";
import { type System, symbol } from "../../functions/units";
import { quotedSheet, quotedText } from "../common/a1";
import {
  BUY_COLUMNS,
  type BuyColumn,
  EXTRA_COLUMNS,
  type ExtraColumn,
  FLOOR_COLUMNS,
  type FloorColumn,
  MATH_COLUMNS,
  type MathColumn,
  titleOf,
} from "./bid-columns";
import type { BidLine } from "./bid-lines";
import { BID_WORDS } from "./bid-texts";
import { CHECK_WORDS } from "./plan-texts";
import type { PlanOnSheet } from "./plans";
import type { StageColumnKey } from "./stage-row";

export interface BidTableNames {
  readonly floors: string;
  readonly extras: string;
  readonly toBuy: string;
  readonly math: string;
}

/** What the formulas refer to. */
export interface BidPlace {
  readonly units: System;
  readonly tables: BidTableNames;
  /** The cell of a figure. */
  line(key: BidLine): string;
}

export const input = (key: BidKey) => BID_FIELDS[key].name;

const columnsOf = ({ tables, units }: BidPlace) => ({
  floors: (key: FloorColumn) => `${tables.floors}[${titleOf(FLOOR_COLUMNS[key], units)}]`,
  extras: (key: ExtraColumn) => `${tables.extras}[${titleOf(EXTRA_COLUMNS[key], units)}]`,
  toBuy: (key: BuyColumn) => `${tables.toBuy}[${titleOf(BUY_COLUMNS[key], units)}]`,
  math: (key: MathColumn) => `${tables.math}[${titleOf(MATH_COLUMNS[key], units)}]`,
});

/** Whole ones, where binary arithmetic may have left a hair above. */
const wholeOf = (amount: string) => `ROUNDUP(ROUND(${amount},9),0)`;

/** The same as `roundedPrice`. */
const rounded = (price: string) =>
  `ROUND(IF(N(${input("rounding")})>0,ROUNDUP(ROUND(${price}/${input("rounding")},6),0)*${input("rounding")},${price}),2)`;

const crewCost = (hours: string) => `GRIT.CREWCOST(${hours},${input("crew")},${input("rate")},${input("burden")})`;

/** What a direct cost is priced at, before rounding. */
const priced = (direct: string) =>
  `GRIT.PRICEAT(${costFormula(`(${direct})`, input)},${input("margin")},${input("minimum")})`;

/** The same as `workingDay`. */
const dateOf = ({ line }: BidPlace, count: string) =>
  `${line("firstDay")}+${count}+(7-${input("daysAWeek")})*INT((${line("daysIn")}+${count})/${input("daysAWeek")})`;

export interface LineFormula {
  readonly formula: string;
  /** Beside it, as a text or a formula that begins with "=". */
  readonly unit?: string;
}

export function lineFormulas(place: BidPlace): Record<BidLine, LineFormula> {
  const { line, units } = place;
  const { floors, extras, toBuy, math } = columnsOf(place);
  const inBase = (of: (key: any) => string, key: string) => `SUMIFS(${of(key)},${of("kind")},"base")`;
  const start = input("start");
  const isUsed = `(${floors("kind")}<>"left out")`;
  const isFaulty = `${isUsed}*(${floors("check")}<>"${CHECK_WORDS.upToDate}")`;
  const isUnlisted = `(${math("kind")}<>"left out")*(${math("unlisted")}<>0)`;
  const first = (names: string, which: string) => `INDEX(${names},MATCH(1,INDEX(${which},0),0))`;
  const sharesOff = `ROUND(${inBase(floors, "price")}+${inBase(extras, "price")}-${line("offered")},2)`;
  const wages = `${input("setup")}*${input("crew")}*${input("rate")}*(1+${input("burden")})`;
  const again = `IF(${line("cost")}>0,MAX(${line("cost")}/(1-${input("margin")}),${input("minimum")}),0)`;
  const isOff = `ABS(${line("price")}-${again})+ABS(${line("setupCost")}-${wages})>1E-6*(1+ABS(${line("price")}))`;
  const parts = (
    ["floorsCost", "extrasCost", "setupCost", "tripsCost", "nightsCost", "overtimeCost", "wholeCost"] as const
  )
    .map(line)
    .join("+");
  return {
    floorsCost: { formula: inBase(math, "direct") },
    extrasCost: { formula: inBase(extras, "direct") },
    setupCost: { formula: crewCost(input("setup")) },
    tripsCost: { formula: `${input("trips")}*${input("tripCost")}` },
    nightsCost: { formula: `${input("nights")}*${input("nightCost")}` },
    overtimeCost: {
      formula: `(${inBase(math, "crew")}+${inBase(extras, "crew")}+${line("setupCost")})*${line("overtimeShare")}`,
    },
    wholeCost: { formula: `SUM(${toBuy("whole")})` },
    directCost: { formula: parts },
    overheadCost: { formula: `${line("directCost")}*${input("overhead")}` },
    contingencyCost: { formula: `(${line("directCost")}+${line("overheadCost")})*${input("contingency")}` },
    cost: { formula: `${line("directCost")}+${line("overheadCost")}+${line("contingencyCost")}` },
    price: { formula: `IF(${line("cost")}>0,${priceFormula(line("cost"), input)},0)` },
    offered: { formula: rounded(line("price")) },
    perArea: {
      formula: `IF(${inBase(math, "area")}>0,${line("offered")}/${inBase(math, "area")},0)`,
      unit: `per ${symbol("floorArea", units)}`,
    },
    marginShown: { formula: `IF(${line("offered")}>0,GRIT.MARGIN(${line("offered")},${line("cost")}),0)` },
    tax: { formula: `ROUND(${line("offered")}*${input("taxRate")},2)` },
    total: { formula: `${line("offered")}+${line("tax")}` },
    hours: { formula: `${inBase(math, "hours")}+${inBase(extras, "hours")}+${input("setup")}`, unit: "h" },
    waits: { formula: inBase(math, "waits"), unit: BID_WORDS.wait },
    days: { formula: wholeOf(`(${line("hours")}+${line("waits")})/${input("hoursADay")}`), unit: "days" },
    ends: { formula: `IF(OR(N(${start})=0,${line("days")}<1),"",${dateOf(place, `(${line("days")}-1)`)})` },
    buyCost: { formula: `SUM(${toBuy("cost")})` },
    leftWorth: { formula: `SUM(${toBuy("worth")})` },
    power: { formula: `SUMPRODUCT(MAX((${math("kind")}="base")*${math("power")}))`, unit: BID_WORDS.power },
    dust: { formula: inBase(math, "dust"), unit: `${symbol("mass", units)}${BID_WORDS.dust}` },
    bags: {
      formula: `IF(N(${input("bagSize")})>0,${wholeOf(`${line("dust")}/${input("bagSize")}`)},"")`,
      unit: BID_WORDS.bags,
    },
    slurry: {
      formula: inBase(math, "slurry"),
      unit: `=IF(${line("slurry")}>0,"${symbol("volume", units)}${BID_WORDS.slurry}","${symbol("volume", units)}")`,
    },
    weights: { formula: `${line("floorsCost")}+${line("extrasCost")}` },
    centsLeft: {
      formula: `ROUND(${line("offered")}*100,0)-SUMPRODUCT(INT(${math("cents")}))-SUMPRODUCT(INT(${extras("cents")}))`,
    },
    overtimeShare: {
      formula: `IF(N(${input("hoursAWeek")})>${OVERTIME_AFTER},GRIT.PAIDHOURS(${input("hoursAWeek")})/${input("hoursAWeek")}-1,0)`,
    },
    firstDay: {
      formula: `IF(N(${start})=0,"",${start}+IF(WEEKDAY(${start},2)>${input("daysAWeek")},8-WEEKDAY(${start},2),0))`,
    },
    daysIn: { formula: `IF(N(${start})=0,"",WEEKDAY(${line("firstDay")},2)-1)`, unit: "days" },
    upToDate: {
      formula: `IF(ISERROR(GRIT.CREWCOST(1,1,1)),"${CHECK_WORDS.notWorking}",IF(ISERROR(${line("total")}),"${CHECK_WORDS.badPrice}",IF(${isOff},"${CHECK_WORDS.outOfDate}","${CHECK_WORDS.upToDate}")))`,
    },
    plansFit: {
      formula: `IF(SUMPRODUCT(${isFaulty})=0,"${BID_WORDS.yes}","${BID_WORDS.plansOff}"&${first(floors("floor"), isFaulty)})`,
    },
    sharesFit: { formula: `IF(${sharesOff}=0,"${BID_WORDS.yes}","${BID_WORDS.sharesOff}"&${sharesOff})` },
    itemsFit: {
      formula: `IF(SUMPRODUCT(${isUnlisted})=0,"${BID_WORDS.yes}","${BID_WORDS.itemsOff}"&${first(math("sheet"), isUnlisted)})`,
    },
    powerFit: {
      formula: `IF(N(${input("supply")})=0,"${BID_WORDS.noSupply}",IF(${line("power")}=0,"${BID_WORDS.noMachine}",IF(${line("power")}>${input("supply")},"${BID_WORDS.powerOff}","${BID_WORDS.yes}")))`,
    },
  };
}

/** A plan as the bid's formulas refer to it: cells with their sheet, columns with their table. */
export function planCells({ sheet, inputs, stages }: PlanOnSheet) {
  const at = (cell: string) => `${quotedSheet(sheet)}!${cell}`;
  return {
    at,
    has: (key: Key) => inputs[key] !== undefined,
    input: (key: Key) => (inputs[key] === undefined ? "NA()" : at(inputs[key])),
    hasColumn: (key: StageColumnKey) => stages.headings[key] !== undefined,
    column: (key: StageColumnKey) => `${stages.table}[${stages.headings[key]}]`,
  };
}

/** The columns of the floors table that are formulas; `key` is the cell with the name of the floor's sheet. */
export function floorFormulas(
  place: BidPlace,
  plan: PlanOnSheet,
  key: string,
  kind: string,
  check: string | undefined,
) {
  const { line } = place;
  const { math } = columnsOf(place);
  const cells = planCells(plan);
  const worked = (column: MathColumn) => `INDEX(${math(column)},MATCH(${key},${math("sheet")},0))`;
  const isIn = `AND(${kind}="base",N(${input("start")})>0)`;
  const [from, to] = [worked("start"), worked("done")];
  const name = cells.input("floor");
  const [finish, grit] = [cells.input("finish"), cells.input("lastGrit")];
  const end = `(${line("hours")}+${line("waits")})`;
  const bars = (hours: string) => `ROUND(${BAR}*MIN(1,${hours}/${end}),0)`;
  return {
    floor: cells.has("floor") ? `IF(${name}="",${quotedText(plan.floor)},${name})` : quotedText(plan.floor),
    area: cells.input("area"),
    finish:
      cells.has("lastGrit") && cells.has("finish")
        ? `IF(OR(${finish}="coating",N(${grit})=0),${finish},${finish}&", to grit "&${grit})`
        : cells.has("finish")
          ? finish
          : '""',
    hours: worked("hours"),
    waits: worked("waits"),
    direct: worked("direct"),
    price: worked("price"),
    starts: `IF(${isIn},${dateOf(place, `INT(ROUND(${from}/${input("hoursADay")},9))`)},"")`,
    ends: `IF(${isIn},${dateOf(place, `MAX(0,${wholeOf(`${to}/${input("hoursADay")}`)}-1)`)},"")`,
    bar: `IF(${kind}="base",REPT("░",${bars(from)})&REPT("█",MAX(1,${bars(to)}-${bars(from)})),"")`,
    check: check === undefined ? quotedText(BID_WORDS.noPlan) : check,
  } satisfies Partial<Record<FloorColumn, string>>;
}

/** Characters of the bar from the first hour to the last. */
const BAR = 30;

/** A row of the math table. */
export interface MathRow {
  here(key: MathColumn): string;
  /** From the heading down to the row above. */
  above(key: MathColumn): string;
  /** For each item: the cell with what this floor uses of it, its row in To buy, and of a liquid two cells more. */
  readonly items: readonly MathItem[];
}
interface MathItem {
  readonly used: string;
  readonly whole?: string;
  readonly more?: string;
}

export function mathFormulas(
  place: BidPlace,
  plan: PlanOnSheet,
  row: MathRow,
): Record<Exclude<MathColumn, "sheet">, string> {
  const { line, units } = place;
  const { floors, extras, toBuy, math } = columnsOf(place);
  const { here, items } = row;
  const { input: of, column, has, hasColumn, at } = planCells(plan);
  const typed = (key: FloorColumn) => `INDEX(${floors(key)},MATCH(${here("sheet")},${floors("sheet")},0))`;
  const sum = (key: StageColumnKey) => (hasColumn(key) ? `SUM(${column(key)})` : "0");
  const cellsOf = (pick: (item: MathItem) => string | undefined) => items.flatMap((item) => pick(item) ?? []);
  const added = (cells: readonly string[]) => (cells.length > 0 ? `SUM(${cells.join(",")})` : "0");
  const canTellDust = has("depth") && hasColumn("cut") && has("area");
  const ground = `${of("area")}-${has("obstacles") ? of("obstacles") : "0"},MAX(${of("depth")},SUMPRODUCT(${column("passes")},${column("cut")}))`;
  const isWet = `${of("grinding")}="wet"`;
  const isBase = `${math("kind")},"base",${math("order")},"<"&${here("order")}`;
  const isEarlier = `${row.above("kind")},"base",${row.above("order")},${here("order")}`;
  const before = (["hours", "waits"] as const)
    .map((key) => `SUMIFS(${math(key)},${isBase})+SUMIFS(${row.above(key)},${isEarlier})`)
    .join("+");
  const rank = rankOf(here("lost"), [`${math("lost")},">"`, `${extras("lost")},">"`], row.above("lost"));
  const withIt = `${line("directCost")}+${here("direct")}+${here("crew")}*${line("overtimeShare")}+${here("moreSum")}`;
  const uses = [
    ...(hasColumn("setsUsed") ? [`(${column("setsUsed")}<>0)`] : []),
    ...(hasColumn("volume") ? [`(${column("volume")}<>0)`] : []),
  ].join("+");
  const isListed = `COUNTIF(${toBuy("item")},${column("tool")})`;
  return {
    kind: typed("kind"),
    order: `N(${typed("order")})`,
    area: of("area"),
    hours: plan.lines.hours === undefined ? sum("hours") : at(plan.lines.hours),
    waits:
      hasColumn("done") && has("setup")
        ? `ROUND(MAX(${of("setup")},${column("done")})-${here("hours")}-${of("setup")},9)`
        : "0",
    crew: sum("crew"),
    direct: `${sum("cost")}-${here("wholeSum")}`,
    power: hasColumn("powerThere") ? `MAX(0,${column("powerThere")})` : "0",
    dust: canTellDust ? `GRIT.DUSTMASS(${ground},,"${units}")` : "0",
    slurry:
      canTellDust && has("waterRate") && has("grinding")
        ? `IF(${isWet},GRIT.SLURRY(${ground},${of("waterRate")},${sum("machineHours")},"${units}"),0)`
        : "0",
    start: `${input("setup")}+${before}`,
    done: `${here("start")}+${here("hours")}+${here("waits")}`,
    cents: centsOf(line, here),
    lost: `ROUND(${here("cents")}-INT(${here("cents")}),6)`,
    withPrice: `IF(${here("kind")}="option",${priced(withIt)},0)`,
    price: priceOf(line, here, rank),
    wholeSum: added(cellsOf(({ whole }) => whole)),
    moreSum: added(cellsOf(({ more }) => more)),
    unlisted: uses === "" ? "0" : `SUMPRODUCT((${isListed}=0)*(${uses}>0))`,
  };
}

type Line = BidPlace["line"];
type Shared = "kind" | "direct" | "cents" | "lost" | "withPrice";

const centsOf = (line: Line, here: (key: Shared) => string) =>
  `IF(${here("kind")}="base",IF(${line("weights")}>0,ROUND(ROUND(${line("offered")}*100,0)*${here("direct")}/${line("weights")},6),0),0)`;

/** How many parts of a cent come before this one: larger ones, and of equals those above. */
const rankOf = (lost: string, counted: readonly string[], above: string) =>
  [...counted.map((cells) => `COUNTIF(${cells}&${lost})`), `COUNTIF(${above},${lost})`].join("+");

/** A share in whole cents, those left over to the largest remainders; or what an option adds. */
const priceOf = (line: Line, here: (key: Shared) => string, before: string) =>
  `IF(${here("kind")}="base",IF(${line("weights")}>0,(INT(${here("cents")})+(${before}<${line("centsLeft")}))/100,0),IF(${here("kind")}="option",ROUND(${rounded(here("withPrice"))}-${line("offered")},2),0))`;

export interface ItemCells {
  /** Heading in the math table, which is the item's name. */
  readonly name: string;
  /** The item's cells in To buy. */
  readonly price: string;
  readonly container: string;
  readonly used: string;
  readonly whole: string;
}

/** What a floor uses of an item; a set on another machine counts as many tools as that carries. */
export function usedFormula(
  plan: PlanOnSheet,
  name: string,
  what: "tool" | "liquid",
  machines: MachinesTable | undefined,
) {
  const { column, hasColumn, input: of, has } = planCells(plan);
  const key = what === "tool" ? "setsUsed" : "volume";
  if (!hasColumn(key)) return "0";
  const isIt = `(${column("tool")}=${name})`;
  if (what === "liquid" || !hasColumn("machineName") || !machines || !has("toolsASet"))
    return `SUMPRODUCT(${isIt}*${column(key)})`;
  const carried = `SUMIF(${machines.names},${column("machineName")},${machines.tools})/${of("toolsASet")}`;
  return `SUMPRODUCT(${isIt}*${column(key)}*(1+(${column("machineName")}<>"")*(${carried}-1)))`;
}
export interface MachinesTable {
  readonly names: string;
  readonly tools: string;
}

/** What containers opened stage by stage cost a plan beyond what it uses. */
export function wholeFormula(plan: PlanOnSheet, { name, container, price }: ItemCells, used: string): string {
  const { column, hasColumn } = planCells(plan);
  if (!hasColumn("volume")) return "0";
  const opened = `SUMPRODUCT((${column("tool")}=${name})*ROUNDUP(ROUND(${column("volume")}/${container},9),0))`;
  return `(${opened}-${used}/${container})*${price}`;
}

/** What an option's floor changes in that. */
export const moreFormula = (kind: string, { container, price, used: all, whole }: ItemCells, used: string): string => {
  const together = `(${all}+${used})/${container}`;
  return `IF(${kind}="option",(${wholeOf(together)}-${together})*${price}-${whole},0)`;
};

export function extraFormulas(
  place: BidPlace,
  here: (key: ExtraColumn) => string,
  above: (key: ExtraColumn) => string,
) {
  const { line } = place;
  const { extras, math } = columnsOf(place);
  const before = rankOf(here("lost"), [`${math("lost")},">="`, `${extras("lost")},">"`], above("lost"));
  const withIt = `${line("directCost")}+${here("direct")}+${here("crew")}*${line("overtimeShare")}`;
  return {
    hours: `${here("quantity")}*${here("crewHours")}`,
    crew: `IF(${here("hours")}=0,0,${crewCost(here("hours"))})`,
    direct: `${here("quantity")}*(1+${here("waste")})*${here("material")}+${here("crew")}`,
    cents: centsOf(line, here),
    lost: `ROUND(${here("cents")}-INT(${here("cents")}),6)`,
    withPrice: `IF(${here("kind")}="option",${priced(withIt)},0)`,
    price: priceOf(line, here, before),
  } satisfies Partial<Record<ExtraColumn, string>>;
}

/** `usedCells` is the item's column in the math table. */
export function buyFormulas(
  place: BidPlace,
  what: "tool" | "liquid",
  usedCells: string,
  here: (key: BuyColumn) => string,
) {
  const { math } = columnsOf(place);
  const containers = `${here("used")}/${here("container")}`;
  return {
    used: `SUMIFS(${usedCells},${math("kind")},"base")`,
    toBuy: `MAX(0,${wholeOf(`${containers}-${here("onHand")}`)})`,
    cost: `${here("toBuy")}*${here("price")}`,
    left: `${here("onHand")}+${here("toBuy")}-${containers}`,
    worth: `${here("left")}*${here("price")}`,
    whole: what === "tool" ? "0" : `(${wholeOf(containers)}-${containers})*${here("price")}`,
  } satisfies Partial<Record<BuyColumn, string>>;
}
