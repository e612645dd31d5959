/** From the stages' cost to the price: the lines of the price block, each a live formula. */
import { type HardnessClass, MATRIX_ON } from "../../functions/audit/classes";
import { ONE_IN } from "../../functions/plan/calibrated";
import type { Key } from "../../functions/plan/fields";
import { ADDED_TO_COST, costFormula, priceFormula } from "../../functions/plan/price-chain";
import { type System, symbol } from "../../functions/units";
import type { PlacedCell } from "./block";
import { answerFormula, handedBack } from "./check-cell";
import type { PastJobs, Plan, PlanNames } from "./plan";
import type { Check } from "./plan-checks";
import { COMPLAINTS, LINE_LABELS, WASTE_WORDS } from "./plan-texts";
import { type DescribedMachines, describesPower } from "./stage-place";
import type { StageColumnKey } from "./stage-row";
import type { NumberFormat } from "./styles";

/** What past jobs say of the hours, and of the price that hangs on them. */
const CALIBRATED_FIGURES = [
  "jobsFactor",
  "hoursAt",
  "priceAt",
  "hoursLow",
  "hoursHigh",
  "priceLow",
  "priceHigh",
] as const;
/** Lines that a plan has only where past jobs calibrate it. */
const CALIBRATED_LINES: readonly LineKey[] = [...CALIBRATED_FIGURES, "jobsSlab", "daysAt"];
/** Whether the numbers belong to the inputs, what else may be wrong with them, and the two checksums that show the first. */
export const CHECK_LINES = [
  "passesEnough",
  "powerEnough",
  "upToDate",
  "inputsPossible",
  "rowsWhole",
  "formulasIntact",
  "chosenForThese",
  "edgesFit",
  "inputsFigure",
  "figureBack",
] as const;
/** The plan is in order only where each of these is. */
const ANSWERS = ["inputsPossible", "rowsWhole", "formulasIntact", "chosenForThese", "edgesFit"] as const;

export interface PriceLine {
  key: LineKey;
  label: PlacedCell["content"];
  formula: string;
  unit: string;
  /** What a check's number means, beside it. */
  words?: { formula: string };
  /** Its value is text, which may be long. */
  isText?: true;
  format?: NumberFormat;
  strong?: boolean;
}

interface PricePlace {
  input(key: Key): string;
  /** A whole column of the stage table. */
  column(key: StageColumnKey): string;
  /** The value cell of a line, and the cell beside it. */
  line(key: LineKey): string;
  words(key: LineKey): string;
  /** What to say of the sequence, as a formula. */
  verdict: string;
  /** A figure that changes with every input, as a formula. */
  inputsFigure: string;
  checks: Record<"passesEnough" | "powerEnough" | (typeof ANSWERS)[number], Check>;
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
  "waits",
  "crewHours",
  "days",
  "edgesDecide",
  "setsToBuy",
  "setsPrice",
  "sequence",
  "matrix",
  "loadPerTool",
  "dust",
  "slurry",
  // Last, so that the others stay where they are when past jobs come or go.
  ...CALIBRATED_FIGURES,
  "daysAt",
  "jobsSlab",
  ...CHECK_LINES,
] as const;
export type LineKey = (typeof PRICE_LINES)[number];

/**
 * The lines that a plan has: past jobs only where there are some, their slab where they share one, and power where the
 * machines table knows of any.
 */
export const priceLineKeys = ({ pastJobs }: Plan, machines: DescribedMachines): LineKey[] =>
  PRICE_LINES.filter((key) => {
    if (key === "jobsSlab") return pastJobs?.slab;
    if (key === "powerEnough") return describesPower(machines);
    return pastJobs || !CALIBRATED_LINES.includes(key);
  });

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

/** HOURSAT fills in a blank or a 0 by itself; here the figures must show that nothing was chosen. */
const confidenceOf = (cell: string) => `IF(N(${cell})=0,NA(),${cell})`;
export const confidenceWords = (cell: string) => `IF(N(${cell})*(N(${cell})<1)>0,TEXT(${cell},"0%"),"?")`;

/** Lines whose label ends with the confidence. */
const AT_CONFIDENCE: readonly LineKey[] = ["hoursAt", "priceAt", "daysAt"];

const NO_JOBS: PastJobs = { estimated: "", actual: "" };

export function priceLines(
  keys: readonly LineKey[],
  { input, column, line: of, words, verdict, inputsFigure, checks, units, pastJobs = NO_JOBS }: PricePlace,
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
  /** Working hours until the last stage is done, cures included; past jobs change the work, not the cures. */
  const lastDone = `MAX(${input("setup")},${column("done")})`;
  const daysFor = (until: string) => `=ROUNDUP(ROUND(${until}/${input("hoursADay")},9),0)`;
  const ground = `${input("area")}-${input("obstacles")},MAX(${input("depth")},SUMPRODUCT(${column("passes")},${column("cut")}))`;
  const isWet = `${input("grinding")}="wet"`;
  const confidence = confidenceOf(input("confidence"));
  const check = (key: LineKey, { code, words: inWords }: Check) => ({
    formula: `=${code}`,
    unit: "",
    format: "check" as const,
    words: { formula: `=${inWords(of(key))}` },
  });
  const lines: Record<LineKey, Omit<PriceLine, "key" | "label">> = {
    stages: { formula: `=SUM(${column("cost")})`, unit: "", format: "money" },
    setup: {
      formula: `=GRIT.CREWCOST(${input("setup")},${wages})`,
      unit: "",
      format: "money",
    },
    direct: {
      formula: `=${of("stages")}+${of("setup")}`,
      unit: "",
      format: "money",
      strong: true,
    },
    overhead: { formula: added("overhead"), unit: "", format: "money" },
    contingency: {
      formula: added("contingency"),
      unit: "",
      format: "money",
    },
    cost: {
      formula: `=${["direct", ...ADDED_TO_COST].map((key) => of(key as LineKey)).join("+")}`,
      unit: "",
      format: "money",
      strong: true,
    },
    price: {
      formula: `=${priceFormula(of("cost"), input)}`,
      unit: "",
      format: "money",
      strong: true,
    },
    perArea: {
      formula: `=${of("price")}/${input("area")}`,
      unit: `per ${symbol("floorArea", units)}`,
      format: "money",
    },
    margin: {
      formula: `=GRIT.MARGIN(${of("price")},${of("cost")})`,
      unit: "",
      format: "percentFine",
    },
    markup: {
      formula: `=GRIT.MARKUP(${of("price")},${of("cost")})`,
      unit: "",
      format: "percentFine",
    },
    hours: { formula: `=SUM(${column("hours")})`, unit: "h", format: "hours" },
    crewHours: {
      formula: `=${siteHours("hours")}*${input("crew")}`,
      unit: "h",
      format: "hours",
    },
    jobsFactor: {
      formula: `=${factor}`,
      unit: "×",
      format: "ratio",
    },
    hoursAt: {
      formula: `=GRIT.HOURSAT(${of("hours")},${jobs},${confidence})`,
      unit: "h",
      format: "hours",
    },
    priceAt: {
      formula: priceOfHours(of("hoursAt")),
      unit: "",
      format: "money",
      strong: true,
    },
    // In cells of their own: as one formula with the price, a copy without the add-in could not hold it.
    hoursLow: { formula: `=GRIT.HOURSAT(${of("hours")},${jobs},1/${ONE_IN})`, unit: "h", format: "hours" },
    hoursHigh: { formula: `=GRIT.HOURSAT(${of("hours")},${jobs},${ONE_IN - 1}/${ONE_IN})`, unit: "h", format: "hours" },
    priceLow: {
      formula: priceOfHours(of("hoursLow")),
      unit: "",
      format: "money",
    },
    priceHigh: {
      formula: priceOfHours(of("hoursHigh")),
      unit: "",
      format: "money",
    },
    jobsSlab: check("jobsSlab", {
      code: `IF(GRIT.BOND(${input("hardness")})="${MATRIX_ON[slab as HardnessClass]}",0,1)`,
      words: (code) => `IF(${code}=0,"","${COMPLAINTS.slab(slab)}")`,
    }),
    waits: { formula: `=ROUND(${lastDone}-${siteHours("hours")},9)`, unit: WASTE_WORDS.waits, format: "hours" },
    days: { formula: daysFor(lastDone), unit: "days", format: "count" },
    daysAt: {
      formula: daysFor(`(${lastDone}+${of("hoursAt")}-${of("hours")})`),
      unit: "days",
      format: "count",
    },
    edgesDecide: {
      formula: `=IF(${input("edgeWork")}="alongside",SUMPRODUCT((${column("edgeHours")}>${column("machineHours")})*1),0)`,
      unit: "stages",
      format: "count",
    },
    setsToBuy: { formula: `=SUM(${column("setsToBuy")})`, unit: "sets", format: "count" },
    setsPrice: { formula: `=SUM(${column("toBuyPrice")})`, unit: "cash, whole sets", format: "money" },
    sequence: { formula: `=${verdict}`, unit: "", isText: true },
    matrix: { formula: `=GRIT.BOND(${input("hardness")})`, unit: "" },
    loadPerTool: {
      formula: `=${input("load")}/${input("toolsASet")}`,
      unit: symbol("load", units),
      format: "hours",
    },
    dust: {
      formula: `=GRIT.DUSTMASS(${ground},,${input("units")})`,
      unit: "",
      format: "whole",
      words: { formula: `="${symbol("mass", units)}"&IF(${isWet},"${WASTE_WORDS.solids}","${WASTE_WORDS.dust}")` },
    },
    slurry: {
      formula: `=IF(${isWet},GRIT.SLURRY(${ground},${input("waterRate")},SUM(${column("machineHours")}),${input("units")}),0)`,
      unit: "",
      format: "whole",
      words: { formula: `=IF(${isWet},"${symbol("volume", units)}${WASTE_WORDS.slurry}","")` },
    },
    upToDate: {
      formula: `=${answerFormula({
        figure: of("inputsFigure"),
        back: of("figureBack"),
        price: of("price"),
        cost: of("cost"),
        hours: of("hours"),
        setup: of("setup"),
        crewCost: `SUM(${column("crew")})`,
        answer: (key) => ({ code: of(key), words: words(key) }),
        calibrated: keys.filter((key) => CALIBRATED_LINES.includes(key)).map(of),
        input,
      })}`,
      unit: "",
      isText: true,
    },
    passesEnough: check("passesEnough", checks.passesEnough),
    powerEnough: check("powerEnough", checks.powerEnough),
    inputsPossible: check("inputsPossible", checks.inputsPossible),
    rowsWhole: check("rowsWhole", checks.rowsWhole),
    formulasIntact: check("formulasIntact", checks.formulasIntact),
    chosenForThese: check("chosenForThese", checks.chosenForThese),
    edgesFit: check("edgesFit", checks.edgesFit),
    inputsFigure: {
      formula: `=${inputsFigure}`,
      unit: "",
      format: "count",
    },
    figureBack: {
      formula: `=${handedBack(of("inputsFigure"))}`,
      unit: "",
      format: "count",
    },
  };
  const label = (key: LineKey) =>
    AT_CONFIDENCE.includes(key)
      ? { formula: `="${LINE_LABELS[key]} at "&${confidenceWords(input("confidence"))}` }
      : LINE_LABELS[key];
  return keys.map((key) => ({ key, label: label(key), ...lines[key] }));
}
