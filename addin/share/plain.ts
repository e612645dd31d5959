/** One call of ours as the spreadsheet's own functions: its plain formula with the call's arguments in it. */
import { isGritLabel, type ScaleName } from "../../functions/scale";
import {
  checked,
  emptyAs,
  fallbackOf,
  type Given,
  isForTheCall,
  isLeftOut,
  isLine,
  isList,
  isOneCell,
  isOneOrMore,
  LEFT_OUT,
  type Parameter,
  type PlainFunction,
  wordIn,
} from "./arguments";
import { untranslatable } from "./refusals";
import { nearestFormula, nearestOn, type OwnScale, type ScaleCells, sizeFormula, sizeOn } from "./scales";

interface Argument {
  readonly parameter: Parameter;
  readonly given: Given;
}

/** Spreadsheet functions that make one value of a range, so that a formula with them answers for one cell only. */
const ONE_AT_A_TIME = /SUMPRODUCT\(/;

/** Whether each answer of a function depends on those before it. */
export const looksBack = ({ isInTurn }: PlainFunction) => isInTurn;

/** A call as an expression that stands on its own: with the checks of its arguments, and without. */
export interface PlainCall {
  readonly text: string;
  readonly bare: string;
}

export function plainCall(fn: PlainFunction, given: readonly Given[], cells: ScaleCells): PlainCall {
  const { id, plain, noPlain, params } = fn;
  if (noPlain) throw untranslatable("noPlainFormula", { id, why: noPlain });
  if (given.length > params.length) {
    throw untranslatable("tooManyArguments", { id, most: params.length, given: given.length });
  }
  const args = params.map((parameter, i) => ({ parameter, given: given[i] ?? LEFT_OUT }));
  const takesLabels = args.some(({ given: { scale } }) => scale !== undefined);
  for (const arg of args) refuse(id, arg, takesLabels);
  const wide = args.filter(({ given, parameter }) => given.isRange && !isList(parameter) && !isForTheCall(parameter));
  if (wide.length > 0 && (ONE_AT_A_TIME.test(plain) || looksBack(fn))) {
    throw untranslatable("oneAtATime", { id, name: wide[0]!.parameter.name });
  }
  const ranges = args.filter((arg) => wide.includes(arg) || arg.given.isSpread);
  const forTheCall = args.filter(({ parameter }) => isForTheCall(parameter));
  const isOneTooWide = wide.some(({ parameter }) => isOneCell(parameter));
  if (isOneTooWide || !(looksBack(fn) ? fitInLine(args[0]!, ranges) : fitTogether(ranges))) {
    // Refused whatever is in the cells.
    const text = check(forTheCall, "#VALUE!", takesLabels);
    return { text, bare: text };
  }
  const forACell = args.filter(({ parameter }) => !isForTheCall(parameter) && !isList(parameter));
  const formula = filled(plain, args, cells);
  // What stands beside a blank of a list that is walked down is passed over with it.
  const blanks = looksBack(fn) ? ranges.slice(0, 1) : ranges;
  const text = check(forTheCall, stillBlank(blanks, check(forACell, formula, takesLabels)), takesLabels);
  const bare = `(${formula})`;
  return { text: text === formula ? bare : text, bare };
}

/** A range of other than two columns is no scale, whatever is in it. */
const isNoScale = ({ extent }: Given) => extent !== undefined && extent[1] !== 2;

/** What no formula could follow. */
function refuse(id: string, { parameter, given }: Argument, takesLabels: boolean): void {
  const { name } = parameter;
  if (!takesLabels && parameter.isGrit && given.kind === "text" && isGritLabel(String(given.value))) {
    throw untranslatable("gritLabel", { id, name });
  }
  if (isForTheCall(parameter) && given.isRange && !given.scale && !isNoScale(given)) {
    throw untranslatable("rangeForTheCall", { id, name });
  }
  if (isList(parameter) && !isOneOrMore(parameter) && !given.isRange) {
    throw untranslatable("noList", { id, name });
  }
}

/** The spreadsheet's own rule, as far as the references tell: a row, a column or one cell stretch to the others. */
function fitTogether(ranges: readonly Argument[]): boolean {
  const extents = ranges.flatMap(({ given }) => (given.extent ? [given.extent] : []));
  const stretch = (lengths: number[]) => new Set(lengths.filter((length) => length > 1)).size <= 1;
  return stretch(extents.map(([rows]) => rows)) && stretch(extents.map(([, columns]) => columns));
}

/** A list that is walked down is one line, and what stands beside it has its shape. */
function fitInLine({ given: list }: Argument, ranges: readonly Argument[]): boolean {
  if (!list.isSpread) return ranges.length === 0;
  return isLine(list.extent!) && ranges.every(({ given: { extent } }) => `${extent}` === `${list.extent}`);
}

/** The formula behind the checks of its arguments, from the first to the last. */
const check = (args: readonly Argument[], formula: string, takesLabels: boolean): string =>
  args.reduceRight((inner, { given, parameter }) => {
    if (!isForTheCall(parameter) || !given.isRange) {
      return checked(given, parameter, inner, takesLabels && parameter.isGrit);
    }
    return given.scale ? `IF(ISNUMBER(${given.scale.check}),${inner},${given.scale.check})` : "#VALUE!";
  }, formula);

/**
 * A row in which every range is blank or 0 stays blank; LibreOffice gives it the error of a single argument all the same,
 * and takes FALSE for 0 in a range.
 */
function stillBlank(ranges: readonly Argument[], formula: string): string {
  if (ranges.length === 0) return formula;
  const isEmpty = ({ given: { text, isRange } }: Argument) => {
    const isZero = isRange ? `(${text}=0)` : `((${text}=0)>ISLOGICAL(${text}))`;
    return `IFERROR((${text}="")+${isZero},0)`;
  };
  return `IF(${ranges.map(isEmpty).join("*")},"",${formula})`;
}

/**
 * A plain formula with the arguments in place of its marks: {area} is the argument, or what stands for it when blank;
 * {share:…} is the argument, or … when blank; {units:12|1000} is one of these, by the word that was given;
 * {grit:size} is the size of that grit, and {size:nearest} the grit of that size; {hours:rows} and {hours:columns} are how
 * many of them the argument has. In a list that is walked down, {grits:before} is what stood beside the last good answer
 * before, marked on as any other, {grits:none} whether there is none yet, and {grits:start|first|next} the first at its start.
 */
function filled(plain: string, args: readonly Argument[], cells: ScaleCells): string {
  let out = "";
  for (let at = 0; at < plain.length; ) {
    const mark = /^\{([a-zA-Z]+)(?=[:}])/.exec(plain.slice(at));
    if (!mark) {
      out += plain[at++];
      continue;
    }
    const end = endOfMark(plain, at);
    const choice = plain.slice(at + mark[0].length + 1, end);
    out += ofMark(mark[1]!, choice, args, cells);
    at = end + 1;
  }
  return out;
}

function endOfMark(plain: string, from: number): number {
  let depth = 0;
  for (let at = from; ; at++) {
    if (plain[at] === "{") depth++;
    if (plain[at] === "}" && --depth === 0) return at;
  }
}

function ofMark(name: string, chosen: string, args: readonly Argument[], cells: ScaleCells): string {
  const of = (wanted: string) => args.find(({ parameter }) => parameter.name === wanted)!;
  const { parameter, given: own } = of(name);
  if (chosen.startsWith("start|")) return filled(partsOf(chosen)[own.before ? 2 : 1]!, args, cells);
  if (chosen === "none" && own.before) return own.before.none;
  const [, isBefore, choice] = /^(before(?::|$))?(.*)$/s.exec(chosen)!;
  const given = isBefore ? lastBefore(own) : own;
  if (choice === "size" || choice === "nearest") {
    const x = argument(parameter, given);
    const { scale } = of("scale").given;
    if (scale) return choice === "size" ? sizeOnOwn(x, given, scale) : nearestOnOwn(x, scale);
    const formula = choice === "size" ? sizeFormula : nearestFormula;
    return onScale(of("scale"), (scale) => formula(x, scale, cells));
  }
  // ROWS takes no single value in LibreOffice, so of one cell nothing is asked.
  if (choice === "rows" || choice === "columns") return given.isRange ? `${choice.toUpperCase()}(${given.text})` : "1";
  if (parameter.words.length > 0 && choice) return byWord({ parameter, given }, choice.split("|"));
  return argument(parameter, given, choice ? filled(choice, args, cells) : undefined);
}

/** Labels are looked up as they are written, numbers between those of the scale. */
function sizeOnOwn(x: string, given: Given, scale: OwnScale): string {
  const labeled = `INDEX(${scale.labelSizes},MATCH(TRIM(${x}),${scale.labels},0))`;
  if (given.kind === "text") return labeled;
  const line = sizeOn(x, scale.column, scale.finest);
  return given.kind === "number" || given.isNumber ? line : `IF(ISTEXT(${x}),${labeled},${line})`;
}

/** Among labels no number tells which grit is the nearest. */
const nearestOnOwn = (x: string, { column, labels }: OwnScale) =>
  `IF(SUMPRODUCT((${labels}<>"")*1)>0,#N/A,${nearestOn(x, column)})`;

/** What stood in this argument beside the last good answer; what is one for all stands there too. */
function lastBefore(given: Given): Given {
  if (!given.before) return given;
  const { value } = given.before;
  return { ...given, text: value, bare: value };
}

/** Cut at the strokes that are in no mark. */
function partsOf(choice: string): string[] {
  const parts = [""];
  let depth = 0;
  for (const letter of choice) {
    if (letter === "{") depth++;
    if (letter === "}") depth--;
    if (letter === "|" && depth === 0) parts.push("");
    else parts[parts.length - 1] += letter;
  }
  return parts;
}

/** The argument, or what stands for it where it is left out, blank or 0. */
function argument(parameter: Parameter, given: Given, fallback = fallbackOf(parameter)): string {
  if (isLeftOut(given, parameter)) return fallback ?? '""';
  if (given.value === "") return "0";
  const x = given.isNumber ? (given.bare ?? given.text) : given.text;
  if (given.kind !== "expression") return x;
  if (parameter.words.length > 0) return `IF(${x}=0,"",${x})`;
  const empty = emptyAs(parameter, fallback);
  if (empty === undefined) return x;
  const isNoSpecialZero = empty === "0" || empty === "FALSE";
  if (given.isNumber) return isNoSpecialZero ? x : `IF(${x}=0,${empty},${x})`;
  return isNoSpecialZero ? `IF(${x}="",${empty},${x})` : `IF((${x}="")+(${x}=0),${empty},${x})`;
}

/** One of these, by the word that was given; the first where it is blank. */
function byWord({ parameter, given }: Argument, choices: readonly string[]): string {
  const { words } = parameter;
  if (isLeftOut(given, parameter)) return choices[0]!;
  if (given.kind !== "expression") {
    const at = words.findIndex((same) => same.includes(wordIn(given.value)));
    // A word that may not be is refused by its check, and the formula is never reached.
    return choices[Math.max(at, 0)]!;
  }
  const is = (same: readonly string[]) => {
    const tests = same.map((word) => `TRIM(${given.text})="${word}"`);
    return tests.length > 1 ? tests.map((test) => `(${test})`).join("+") : tests[0]!;
  };
  const others = choices
    .slice(1)
    .reduceRight((rest, choice, i) => `IF(${is(words[i + 1]!)},${choice},${rest})`, choices[0]!);
  return choices.every((choice) => choice === choices[0]) ? choices[0]! : others;
}

const onScale = ({ parameter, given }: Argument, formula: (scale: ScaleName) => string): string =>
  byWord(
    { parameter, given },
    parameter.words.map(([word]) => formula(word as ScaleName)),
  );
