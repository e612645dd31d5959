/**
 * The check cell: says whether the plan's numbers belong to the inputs beside them, with the add-in and
 * without it. The spreadsheet adds up every input to one figure; one of our functions hands that figure back. Where it
 * hands back another one, our functions have not been worked out since an input changed; where it shows an error, they
 * do not work here. The price and the wages are held against the spreadsheet's own arithmetic besides. Last, it says what
 * other lines found wrong with the inputs and the stages (plan-checks.ts).
 */
import type { Key } from "../../functions/plan/fields";
import { type Column, header, LIQUID_COLUMNS, MACHINE_COLUMNS, TOOL_COLUMNS } from "../../functions/plan/shelf";
import type { System } from "../../functions/units";
import type { PlanNames, ShelfUnits } from "./plan";
import { BUT, CHECK_WORDS, FIX } from "./plan-texts";
import { stageColumn } from "./stage-columns";
import type { StageColumnKey } from "./stage-row";

/** Columns of words; every other column of the shelf holds numbers. */
const WORD_KEYS = ["name", "bond", "grit", "matrix", "work"];

/** Letters of a word that count: longer names differ before that. */
const LETTERS = 24;
const PADDING = `"${" ".repeat(LETTERS)}"`;
const PLACES = `{${Array.from({ length: LETTERS }, (_, i) => i + 1).join(",")}}`;

/** Weighted by where they stand, so that two changes do not cancel out; text in a range of numbers counts nothing. */
const ofNumbers = (range: string) => `SUMPRODUCT(${range},ROW(${range})*COLUMN(${range}))`;
const ofLetters = (words: string) => `CODE(MID(${words}&${PADDING},${PLACES},1))*COLUMN(${words})`;
/** Columns of the same rows. */
const ofWords = (columns: readonly string[]) =>
  `SUMPRODUCT((${columns.map(ofLetters).join("+")})*${PLACES}*ROW(${columns[0]}))`;
/** Inputs are numbers and words in one column. A number made text would be another text in another language. */
const ofInputs = (range: string) =>
  `${ofNumbers(range)}+SUMPRODUCT(ISTEXT(${range})*${ofLetters(range)}*${PLACES}*ROW(${range}))`;
/** Passes may be ours and show an error, which is no fault of an input; SUMIF leaves errors out. */
const ofFigures = (range: string) => `SUMIF(${range},">=0")`;

/** One figure that changes with every input of the plan: its cells, what is typed into the stage table, and the shelf. */
export function inputsFigure(
  inputCells: readonly string[],
  names: PlanNames,
  units: System,
  shelfUnits: ShelfUnits,
): string {
  const stages = (key: StageColumnKey) => `${names.stages}[${stageColumn(key).title(units)}]`;
  const shelf = (kind: keyof ShelfUnits, columns: readonly Column<any>[], lacks: readonly string[] = []) => {
    const rangeOf = (column: Column<any>) => `${names[kind]}[${header(column, shelfUnits[kind])}]`;
    const words = columns.filter(({ key }) => WORD_KEYS.includes(key));
    const numbers = columns.filter(({ key }) => !WORD_KEYS.includes(key) && !lacks.includes(key));
    return [ofWords(words.map(rangeOf)), ...numbers.map((column) => ofNumbers(rangeOf(column)))];
  };
  const typed: StageColumnKey[] = names.machines ? ["work", "tool", "machineName"] : ["work", "tool"];
  return [
    ...inputCells.map(ofInputs),
    ofWords(typed.map(stages)),
    ofFigures(stages("passes")),
    ...shelf("tooling", TOOL_COLUMNS, names.toolingLacks),
    ...shelf("liquids", LIQUID_COLUMNS, names.liquidsLacks),
    ...(names.machines ? shelf("machines", MACHINE_COLUMNS, names.machinesLack) : []),
  ].join("+");
}

/** An hour of one person at that wage costs that wage: the figure comes back as it went. */
export const handedBack = (figure: string) => `GRIT.CREWCOST(1,1,${figure},0)`;

type AnswerKey = "inputsPossible" | "formulasIntact" | "rowsWhole" | "chosenForThese" | "edgesFit";

/** The cells that the answer compares. */
export interface CheckedCells {
  figure: string;
  back: string;
  price: string;
  cost: string;
  hours: string;
  setup: string;
  /** What the stages' crew costs, as an expression. */
  crewCost: string;
  /** Figures from past jobs; none where a plan isn't calibrated. */
  calibrated: readonly string[];
  /** A check: the cell of its number, which is 0 where all is fine, and that of its words. */
  answer(key: AnswerKey): { readonly code: string; readonly words: string };
  input(key: Key): string;
}

export function answerFormula({
  figure,
  back,
  price,
  cost,
  hours,
  setup,
  crewCost,
  calibrated,
  answer,
  input,
}: CheckedCells): string {
  const differs = (shown: string, worked: string) => `(ABS(${shown}-${worked})>ABS(${shown})*1E-6)`;
  const priceAgain = `MAX(${cost}/(1-${input("margin")}),${input("minimum")})`;
  const wagesAgain = `(${hours}+${input("setup")})*${input("crew")}*${input("rate")}*(1+${input("burden")})`;
  const isOff = `${differs(price, priceAgain)}+${differs(`(${crewCost}+${setup})`, wagesAgain)}>0`;
  const word = (answer: keyof typeof CHECK_WORDS) => `"${CHECK_WORDS[answer]}"`;
  const failing = (key: AnswerKey, before: string): [test: string, answer: string] => {
    const { code, words } = answer(key);
    return [`IFERROR(${code},0)<>0`, `"${before}"&${words}`];
  };
  // What is wrong with an input, a formula or a row is told before what comes of it.
  const cases: [test: string, answer: string][] = [
    failing("inputsPossible", FIX),
    [`ISERROR(${figure})`, word("badInput")],
    failing("formulasIntact", BUT),
    [`ISERROR(${back})`, word("notWorking")],
    // A spreadsheet keeps 15 digits of a number in a file, and calculates with more.
    [`ROUND(${back}-${figure},4)<>0`, word("outOfDate")],
    failing("rowsWhole", BUT),
    [`ISERROR(${isOff})`, word("badPrice")],
    [isOff, word("outOfDate")],
    ...(calibrated.length > 0
      ? [[`ISERROR(SUM(${calibrated.join(",")}))`, word("badCalibration")] as [string, string]]
      : []),
    failing("chosenForThese", BUT),
    failing("edgesFit", BUT),
  ];
  return cases.reduceRight((otherwise, [test, words]) => `IF(${test},${words},${otherwise})`, word("upToDate"));
}
