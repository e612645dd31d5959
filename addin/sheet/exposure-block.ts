/** The crew's exposure on the sheet: live figures beside the values they are held against, which are cells too. */
import {
  EXPOSURE_CAUTION,
  EXPOSURE_LINE_KEYS,
  type ExposureInput,
  type ExposureKey,
  exposureInput,
  exposureLine,
  INSTEAD,
  OSHA_REMARKS,
  VERDICTS,
  wrongWords,
} from "../../functions/plan/exposure";
import type { Key } from "../../functions/plan/fields";
import { NIOSH_NOISE, OSHA_NOISE } from "../../functions/tables/exposure-limits";
import type { System } from "../../functions/units";
import { absoluteAddress } from "../common/a1";
import type { Block, PlacedCell } from "./block";
import { grindingCaution } from "./cautions";
import type { NumberFormat } from "./styles";

export interface ExposurePlace {
  readonly top: number;
  /** First column of each part; words run on to the right. */
  readonly label: number;
  readonly value: number;
  readonly unit: number;
  readonly action: number;
  readonly limit: number;
  readonly words: number;
  readonly units: System;
  input(key: Key): string;
}

/** The rules by which noise is counted, each number a cell of its own. */
const RULES = {
  oshaCriterion: ["OSHA: level for 8 hours", OSHA_NOISE.criterion, "dBA"],
  oshaExchange: ["OSHA: rise that halves the time", OSHA_NOISE.exchange, "dB"],
  nioshCriterion: ["NIOSH: level for 8 hours", NIOSH_NOISE.criterion, "dBA"],
  nioshExchange: ["NIOSH: rise that halves the time", NIOSH_NOISE.exchange, "dB"],
} as const;
type Rule = keyof typeof RULES;
const RULE_KEYS = Object.keys(RULES) as Rule[];

const FORMATS: Partial<Record<ExposureKey, NumberFormat>> = { vibration: "ratio", hours: "asTyped" };
/** No dash for zero: a figure that is 0 was worked out. */
const FORMAT: NumberFormat = "oneDecimal";

/** Writes the block and gives the row below it. */
export function placeExposure(block: Block, place: ExposurePlace): number {
  const put = block.cells.push.bind(block.cells);
  const { top, units } = place;
  for (let column = place.label; column <= place.words; column++) {
    put({ row: top, column, content: headingAt(column, place), style: "heading" });
  }
  const formulas = exposureFormulas(place);
  for (const key of EXPOSURE_LINE_KEYS) {
    const row = rowOf(key, place);
    const line = exposureLine(key);
    const { value, action = line.action, limit = line.limit, words } = formulas[key];
    const figure = { row, style: "figure", format: FORMATS[key] ?? FORMAT } as const;
    put({ row, column: place.label, content: line.label, style: "label" });
    if (value) put({ ...figure, column: place.value, content: value });
    put({ row, column: place.unit, content: line.unit(units), style: "unit" });
    for (const [column, content] of [
      [place.action, action],
      [place.limit, limit],
    ] as const) {
      if (content === undefined) continue;
      // What a place may have other values for is an input; what follows from them is none.
      if (typeof content === "number") put({ row, column, content, style: "input", format: "asTyped" });
      else put({ ...figure, column, content });
    }
    put({ row, column: place.words, content: words, style: "label" });
  }
  for (const rule of RULE_KEYS) {
    const row = rowOf(rule, place);
    const [label, content, unit] = RULES[rule];
    put({ row, column: place.label, content: label, style: "label" });
    put({ row, column: place.value, content, style: "input", format: "asTyped" });
    put({ row, column: place.unit, content: unit, style: "unit" });
  }
  const below = top + 1 + EXPOSURE_LINE_KEYS.length + RULE_KEYS.length;
  put({ row: below, column: place.label, content: EXPOSURE_CAUTION, style: "caution" });
  put({
    row: below + 1,
    column: place.label,
    content: { formula: `=${grindingCaution(place.input)}` },
    style: "caution",
  });
  return below + 2;
}

function headingAt(column: number, { label, action, limit, words }: ExposurePlace): string {
  if (column === label) return "Crew exposure, one person's day";
  if (column === action) return "Action";
  if (column === limit) return "Limit";
  return column === words ? "Result" : "";
}

const rowOf = (key: ExposureKey | Rule, { top }: ExposurePlace) =>
  top + 1 + [...EXPOSURE_LINE_KEYS, ...RULE_KEYS].indexOf(key);

type Formula = Exclude<PlacedCell["content"], number | boolean | string>;

interface LineFormulas {
  value?: Formula;
  /** Only where they follow from others; elsewhere they are numbers. */
  action?: Formula;
  limit?: Formula;
  words: Formula;
}

const quoted = (words: string) => `"${words}"`;

/** Shown where a value that a figure is held against, or counted by, was cleared or is a text. */
const NO_VALUE = "an action value or limit isn't a number";

/** The functions fill in a blank or a 0 with the usual limit; here it was cleared, and no figure goes by another. */
const needed = (cell: string) => `IF(N(${cell})=0,NA(),${cell})`;

/**
 * What is not known is not calculated: a formula for where all of it is, else words. N makes 0 of a blank or a text,
 * which would be compared as if it were larger than any number.
 */
function exposureFormulas(place: ExposurePlace): Record<ExposureKey, LineFormulas> {
  const { input } = place;
  const at = (key: ExposureKey | Rule, part: "value" | "action" | "limit") =>
    absoluteAddress(rowOf(key, place), place[part]);
  const isKnown = (key: Key) => `ISNUMBER(${input(key)})`;
  const total = at("hours", "value");

  /**
   * Neither blank nor a number that may stand there. The rule of a cell only warns, and a figure that left out what is
   * wrong would be too low.
   */
  const isWrong = (key: ExposureInput) => {
    const { least, most } = exposureInput(key).domain;
    const number = input(key);
    const low = least === Number.MIN_VALUE ? `${number}<=0` : `${number}<${least}`;
    const outside = most === Number.MAX_VALUE ? low : `OR(${low},${number}>${most})`;
    return `IF(ISNUMBER(${input(key)}),${outside},LEN(${input(key)})>0)`;
  };
  const unlessWrong = (key: ExposureKey, { formula }: Formula): Formula => {
    const wrong = exposureLine(key).from.map(isWrong).join(",");
    return { formula: `=IF(OR(${wrong}),${quoted(INSTEAD.wrong)},${formula.slice(1)})` };
  };
  /** Which input it is, the first where there are several. */
  const whichIsWrong = (key: ExposureKey, otherwise: string) =>
    exposureLine(key).from.reduceRight<string>(
      (rest, from) => `IF(${isWrong(from)},${quoted(wrongWords(from))},${rest})`,
      otherwise,
    );

  /** Both parts of the day; a part of no hours needs no amount. */
  const overDay = (hand: Key, machine: Key, formula: string) => {
    const isEnough = (hours: Key, amount: Key) => `IF(N(${input(hours)})>0,${isKnown(amount)},TRUE)`;
    const known = `AND(ISNUMBER(${total}),${isEnough("handHours", hand)},${isEnough("machineHours", machine)})`;
    const inADay = `IF(N(${total})>N(${at("hours", "limit")}),${quoted(INSTEAD.tooLong)},${formula})`;
    return { formula: `=IF(${known},${inADay},${quoted(INSTEAD.notGiven)})` };
  };
  const vibrationOf = (vibration: Key, hours: Key) =>
    `IF(N(${input(hours)})*N(${input(vibration)})>0,GRIT.HANDARM(${input(vibration)},${input(hours)})^2,0)`;
  const doseOf = (criterion: Rule, exchange: Rule) => {
    const part = (level: Key, hours: Key) =>
      `IF(N(${input(hours)})>0,GRIT.NOISEDOSE(${input(level)},${input(hours)},${needed(at(criterion, "value"))},${needed(at(exchange, "value"))}),0)`;
    const both = `${part("handNoise", "handHours")}+${part("machineNoise", "machineHours")}`;
    return overDay("handNoise", "machineNoise", both);
  };
  const ifKnown = (keys: readonly Key[], formula: string) => ({
    formula: `=IF(${keys.map(isKnown).join("*")},${formula},${quoted(INSTEAD.notGiven)})`,
  });
  const until = (vibration: Key, part: "action" | "limit") =>
    ifKnown(
      [vibration],
      `IF(N(${input(vibration)})>0,GRIT.HANDTIME(${input(vibration)},${needed(at("vibration", part))}),${quoted(INSTEAD.still)})`,
    );
  const untilBoth = (key: ExposureKey, vibration: Key): LineFormulas => ({
    action: unlessWrong(key, until(vibration, "action")),
    limit: unlessWrong(key, until(vibration, "limit")),
    words: { formula: `=${whichIsWrong(key, `IF(${isKnown(vibration)},"",${quoted(exposureLine(key).needs)})`)}` },
  });

  /** A figure, and how it stands beside its values; the last digits of a division decide nothing. */
  const held = (key: ExposureKey, value: Formula, verdict: string): LineFormulas => {
    const cell = at(key, "value");
    const needs = quoted(exposureLine(key).needs);
    const instead = `IF(${cell}=${quoted(INSTEAD.notGiven)},${needs},"")`;
    const words = `=IF(ISNUMBER(${cell}),${verdict},${whichIsWrong(key, instead)})`;
    return { value: unlessWrong(key, value), words: { formula: words } };
  };
  /** A number is compared with a text as if the text were the larger: without its values there is no verdict. */
  const ifHeld = (key: ExposureKey, parts: readonly ("action" | "limit")[], verdict: string) => {
    const values = parts.map((part) => at(key, part)).join(",");
    return `IF(COUNT(${values})<${parts.length},${quoted(NO_VALUE)},${verdict})`;
  };
  const rounded = (key: ExposureKey) => `ROUND(${at(key, "value")},9)`;
  const byBoth = (key: ExposureKey) =>
    ifHeld(
      key,
      ["action", "limit"],
      `IF(${rounded(key)}>${at(key, "limit")},${quoted(VERDICTS.aboveLimit)},IF(${rounded(key)}>=${at(key, "action")},${quoted(VERDICTS.fromAction)},${quoted(VERDICTS.belowAction)}))`,
    );
  const isAnyLevel = (beyond: string) => {
    const part = (hours: Key, level: Key) => `(N(${input(hours)})>0)*(N(${input(level)})${beyond})`;
    return `${part("handHours", "handNoise")}+${part("machineHours", "machineNoise")}`;
  };
  const oshaRemarks = [
    `IF(${isAnyLevel(`>${OSHA_NOISE.ceiling}`)},${quoted(OSHA_REMARKS.aboveCeiling)},"")`,
    `IF(AND(${rounded("osha")}>${at("osha", "limit")},${isAnyLevel(`<${OSHA_NOISE.limitFrom}`)}),${quoted(OSHA_REMARKS.belowLimitFrom)},"")`,
  ].join("&");
  const byLimit = ifHeld(
    "niosh",
    ["limit"],
    `IF(${rounded("niosh")}>=${at("niosh", "limit")},${quoted(VERDICTS.fromLimit)},${quoted(VERDICTS.belowLimit)})`,
  );
  const byDay = `IF(N(${total})>N(${at("hours", "limit")}),${quoted(VERDICTS.longerThanADay)},${quoted(VERDICTS.inADay)})`;

  const hours = ifKnown(["handHours", "machineHours"], `${input("handHours")}+${input("machineHours")}`);
  const squares = `${vibrationOf("handVibration", "handHours")}+${vibrationOf("machineVibration", "machineHours")}`;
  const vibration = overDay("handVibration", "machineVibration", `SQRT(${squares})`);
  const ofDust = `IF(${isKnown("dust")},GRIT.DUSTTWA(${input("dust")},${input("dustHours")}),${quoted(INSTEAD.notGiven)})`;
  const dust = ifKnown(["dustHours"], `IF(N(${input("dustHours")})>0,${ofDust},0)`);
  const shroud = ifKnown(
    ["shroudDiameter"],
    `IF(N(${input("shroudDiameter")})>0,GRIT.SHROUDAIR(${input("shroudDiameter")},${input("units")}),${quoted(INSTEAD.noWheel)})`,
  );
  return {
    hours: held("hours", hours, byDay),
    vibration: held("vibration", vibration, byBoth("vibration")),
    handUntil: untilBoth("handUntil", "handVibration"),
    machineUntil: untilBoth("machineUntil", "machineVibration"),
    osha: held("osha", doseOf("oshaCriterion", "oshaExchange"), `${byBoth("osha")}&${oshaRemarks}`),
    niosh: held("niosh", doseOf("nioshCriterion", "nioshExchange"), byLimit),
    dust: held("dust", dust, byBoth("dust")),
    shroud: held("shroud", shroud, '""'),
  };
}
