/** From the stages' cost to the price: the lines of the price block, each a live formula. */
import { hardnessClass } from "../../functions/audit/audit";
import type { Key } from "../../functions/plan/fields";
import { ADDED_TO_COST, costFormula, priceFormula } from "../../functions/plan/price-chain";
import { matrixFor } from "../../functions/tooling";
import { type System, symbol } from "../../functions/units";
import type { PlacedCell } from "./block";
import { answerFormula, handedBack } from "./check-cell";
import type { PastJobs, Plan, PlanNames } from "./plan";
import type { StageColumnKey } from "./stage-columns";
import type { NumberFormat } from "./styles";

/** What past jobs say of the hours, and of the price that hangs on them. */
const CALIBRATED_FIGURES = ["jobsFactor", "hoursAt", "priceAt", "priceLow", "priceHigh"] as const;
/** Lines that a plan has only where past jobs teach it. */
const CALIBRATED_LINES: readonly LineKey[] = [...CALIBRATED_FIGURES, "jobsSlab", "daysAt"];
/** Whether the numbers belong to the inputs, what else may be wrong with them, and the two figures that tell the first. */
export const CHECK_LINES = [
  "passesEnough",
  "upToDate",
  "inputsPossible",
  "rowsWhole",
  "chosenForThese",
  "inputsFigure",
  "figureBack",
] as const;
/** The plan is in order only where each of these says yes, in the order in which they are told. */
const ANSWERS = ["inputsPossible", "rowsWhole", "chosenForThese"] as const;

export interface PriceLine {
  key: LineKey;
  label: PlacedCell["content"];
  formula: string;
  unit: string;
  format?: NumberFormat;
  strong?: boolean;
}

interface PricePlace {
  input(key: Key): string;
  /** A whole column of the stage table. */
  column(key: StageColumnKey): string;
  /** The value cell of a line. */
  line(key: LineKey): string;
  /** What to say of the sequence, as a formula. */
  verdict: string;
  /** A figure that changes with every input, as a formula. */
  inputsFigure: string;
  /** What the sheet says of itself, each as a formula. */
  checks: Record<"passesEnough" | (typeof ANSWERS)[number], string>;
  units: System;
  pastJobs: PastJobs | undefined;
}

const PRICE_LINES = [
  "stages",
  "setup",
  "direct",
  "overhead",
  "contingency",
  "cost",
  "price",
  "perArea",
  "margin",
  "markup",
  "hours",
  ...CALIBRATED_FIGURES,
  "jobsSlab",
  "crewHours",
  "days",
  "daysAt",
  "setsToBuy",
  "sequence",
  "matrix",
  "loadPerTool",
  ...CHECK_LINES,
] as const;
export type LineKey = (typeof PRICE_LINES)[number];

/** The lines that a plan has: those that past jobs teach only where there are some, on their slab only where they share one. */
export const priceLineKeys = ({ pastJobs }: Plan): LineKey[] =>
  PRICE_LINES.filter((key) => (key === "jobsSlab" ? pastJobs?.slab : pastJobs || !CALIBRATED_LINES.includes(key)));

/** Lines whose figures have names in the workbook, so that a quote of the user's can refer to them. */
export const NAMED_LINES = [
  "cost",
  "hours",
  "price",
  "days",
  "hoursAt",
  "priceAt",
  "daysAt",
] as const satisfies LineKey[];
/** The name that this plan's figure has in the workbook; another plan's has a number behind it. */
export const lineName = (key: LineKey, names: PlanNames): string | undefined =>
  (NAMED_LINES as readonly LineKey[]).includes(key) ? names[key as (typeof NAMED_LINES)[number]] : undefined;

/** HOURSAT fills in a blank by itself; as 0 it is refused, and the figures show that nothing was chosen. */
const confidenceOf = (cell: string) => `N(${cell})`;
export const confidenceWords = (cell: string) => `IF(N(${cell})*(N(${cell})<1)>0,TEXT(${cell},"0%"),"?")`;

/** The matrix to try first on each kind of slab, by which a formula tells the kinds apart. */
const MATRIX_ON = Object.fromEntries([3, 5, 8].map((mohs) => [hardnessClass(mohs), matrixFor(mohs)]));

const NO_JOBS: PastJobs = { estimated: "", actual: "" };

export function priceLines(
  keys: readonly LineKey[],
  { input, column, line: of, verdict, inputsFigure, checks, units, pastJobs = NO_JOBS }: PricePlace,
): PriceLine[] {
  const { slab = "" } = pastJobs;
  const jobs = `${pastJobs.estimated},${pastJobs.actual}`;
  const factor = `INDEX(GRIT.CALIBRATE(${jobs}),1,2)`;
  /** Everything before a share that is added to the cost. */
  const before = (key: (typeof ADDED_TO_COST)[number]) =>
    [of("direct"), ...ADDED_TO_COST.slice(0, ADDED_TO_COST.indexOf(key)).map(of)].join("+");
  const added = (key: (typeof ADDED_TO_COST)[number]) => `=(${before(key)})*${input(key)}`;
  /** The price if the stages take these hours: crew and machine cost grow with them, tools and liquids do not. */
  const priceOfHours = (hours: string) => {
    const grown = `(SUM(${column("crew")})+SUM(${column("machine")}))*(${hours}/${of("hours")}-1)`;
    return `=${priceFormula(costFormula(`(${of("direct")}+${grown})`, input), input)}`;
  };
  const wages = `${input("crew")},${input("rate")},${input("burden")}`;
  const siteHours = (hours: LineKey) => `(${of(hours)}+${input("setup")})`;
  const daysFor = (hours: LineKey) => `=ROUNDUP(ROUND(${siteHours(hours)}/${input("hoursADay")},9),0)`;
  const confidence = confidenceOf(input("confidence"));
  const atConfidence = (words: string) => ({ formula: `="${words} at "&${confidenceWords(input("confidence"))}` });
  const lines: Record<LineKey, Omit<PriceLine, "key">> = {
    stages: { label: "Stages", formula: `=SUM(${column("cost")})`, unit: "", format: "money" },
    setup: {
      label: "Setup and cleanup",
      formula: `=GRIT.CREWCOST(${input("setup")},${wages})`,
      unit: "",
      format: "money",
    },
    direct: {
      label: "Direct cost",
      formula: `=${of("stages")}+${of("setup")}`,
      unit: "",
      format: "money",
      strong: true,
    },
    overhead: { label: "Overhead", formula: added("overhead"), unit: "", format: "money" },
    contingency: {
      label: "Contingency",
      formula: added("contingency"),
      unit: "",
      format: "money",
    },
    cost: {
      label: "Total cost",
      formula: `=${["direct", ...ADDED_TO_COST].map((key) => of(key as LineKey)).join("+")}`,
      unit: "",
      format: "money",
      strong: true,
    },
    price: {
      label: "Price at margin or minimum",
      formula: `=${priceFormula(of("cost"), input)}`,
      unit: "",
      format: "money",
      strong: true,
    },
    perArea: {
      label: "Price per area",
      formula: `=${of("price")}/${input("area")}`,
      unit: `per ${symbol("floorArea", units)}`,
      format: "money",
    },
    margin: {
      label: "Margin at this price",
      formula: `=GRIT.MARGIN(${of("price")},${of("cost")})`,
      unit: "",
      format: "percentFine",
    },
    markup: {
      label: "Equivalent markup",
      formula: `=GRIT.MARKUP(${of("price")},${of("cost")})`,
      unit: "",
      format: "percentFine",
    },
    hours: { label: "Hours of all stages", formula: `=SUM(${column("hours")})`, unit: "h", format: "hours" },
    crewHours: {
      label: "Crew hours incl. setup",
      formula: `=${siteHours("hours")}*${input("crew")}`,
      unit: "h",
      format: "hours",
    },
    jobsFactor: {
      label: "Past jobs: actual ÷ estimated hours",
      formula: `=${factor}`,
      unit: "×",
      format: "ratio",
    },
    hoursAt: {
      label: atConfidence("Hours"),
      formula: `=GRIT.HOURSAT(${of("hours")},${jobs},${confidence})`,
      unit: "h",
      format: "hours",
    },
    priceAt: {
      label: atConfidence("Price"),
      formula: priceOfHours(of("hoursAt")),
      unit: "",
      format: "money",
      strong: true,
    },
    priceLow: {
      label: "Likely price range, low",
      formula: priceOfHours(`GRIT.HOURSAT(${of("hours")},${jobs},1/6)`),
      unit: "",
      format: "money",
    },
    priceHigh: {
      label: "Likely price range, high",
      formula: priceOfHours(`GRIT.HOURSAT(${of("hours")},${jobs},5/6)`),
      unit: "",
      format: "money",
    },
    jobsSlab: {
      label: "Past jobs on slabs like this?",
      formula: `=IF(GRIT.BOND(${input("hardness")})="${MATRIX_ON[slab]}","yes","no: they were on ${slab}s")`,
      unit: "",
    },
    days: { label: "Days on site", formula: daysFor("hours"), unit: "days", format: "count" },
    daysAt: { label: atConfidence("Days on site"), formula: daysFor("hoursAt"), unit: "days", format: "count" },
    setsToBuy: { label: "Tool sets to buy", formula: `=SUM(${column("setsToBuy")})`, unit: "sets", format: "count" },
    sequence: { label: "Sequence", formula: `=${verdict}`, unit: "" },
    matrix: { label: "Matrix for this slab", formula: `=GRIT.BOND(${input("hardness")})`, unit: "" },
    loadPerTool: {
      label: "Load per tool",
      formula: `=${input("load")}/${input("toolsASet")}`,
      unit: symbol("load", units),
      format: "hours",
    },
    upToDate: {
      label: "Numbers up to date?",
      formula: `=${answerFormula({
        figure: of("inputsFigure"),
        back: of("figureBack"),
        price: of("price"),
        cost: of("cost"),
        hours: of("hours"),
        setup: of("setup"),
        crewCost: `SUM(${column("crew")})`,
        answers: ANSWERS.map(of),
        calibrated: keys.filter((key) => CALIBRATED_LINES.includes(key)).map(of),
        input,
      })}`,
      unit: "",
    },
    passesEnough: { label: "Enough passes for the depth?", formula: `=${checks.passesEnough}`, unit: "" },
    inputsPossible: { label: "Inputs complete and valid?", formula: `=${checks.inputsPossible}`, unit: "" },
    rowsWhole: { label: "All stages calculated?", formula: `=${checks.rowsWhole}`, unit: "" },
    chosenForThese: { label: "Stages chosen for these inputs?", formula: `=${checks.chosenForThese}`, unit: "" },
    inputsFigure: {
      label: "Checksum of all inputs",
      formula: `=${inputsFigure}`,
      unit: "",
      format: "count",
    },
    figureBack: {
      label: "Checksum via Gritledger",
      formula: `=${handedBack(of("inputsFigure"))}`,
      unit: "",
      format: "count",
    },
  };
  return keys.map((key) => ({ key, ...lines[key] }));
}
