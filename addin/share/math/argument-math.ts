/** What "show the math" says of an argument and of what comes out: values with their units, and defaults. */
import type { Outcome as Result } from "../../../functions/describe";
import type { System } from "../../../functions/units";
import { emptyAs, fallbackOf, isForTheCall, isList, isOneCell, type Parameter, type PlainFunction } from "../arguments";
import { attempt } from "./calculate";
import type { CellArgument } from "./cell-argument";
import { ARGUMENT } from "./texts";
import { unitOf } from "./units";
import { type Block, type Cell, FIRST, isBlank, isError, isWide, NotKnown, numberText } from "./values";
import { withNumbers, wordOfUnits } from "./with-numbers";

/** A function as its math needs it; the catalogue has more. */
export interface MathFunction extends PlainFunction {
  readonly summary: string;
  readonly outcome: Result;
  readonly source: string;
}

export interface MathArgument {
  readonly name: string;
  /** As the formula has it; empty where it is left out. */
  readonly given: string;
  /** What it is in this cell, with its unit. */
  readonly value: string;
}

export type Outcome =
  | { readonly kind: "value"; readonly text: string }
  | { readonly kind: "error"; readonly code: string; readonly message: string }
  | { readonly kind: "unknown"; readonly why: string };

export interface Argument extends CellArgument {
  readonly given: string;
  readonly isWhole: boolean;
  readonly why: string | undefined;
}

/** Takes a range cell by cell. */
export const stretches = (fn: MathFunction, parameter: Parameter | undefined) =>
  parameter !== undefined && !fn.noPlain && !isList(parameter) && !isForTheCall(parameter) && !isOneCell(parameter);

/** The system of units of a call; undefined where it is the user's own affair, or not known. */
export function systemOf({ params }: MathFunction, args: readonly Argument[]): System | undefined {
  if (!params.some(({ kind }) => kind === "units")) return undefined;
  const units = args.find(({ parameter }) => parameter.kind === "units")!;
  if (units.why !== undefined) return undefined;
  return wordOfUnits(args) === "metric" ? "metric" : "us";
}

const withUnit = (text: string, unit: string) =>
  unit.startsWith("money") ? `${text} (${unit})` : unit ? `${text} ${unit}` : text;

/** A percentage is only for reading; the fraction beside it has all its digits. */
const percent = (value: number) => `${Number((value * 100).toPrecision(6))}%`;

/** A cell as a reader takes it in. */
function shownCell(cell: Cell, { unit, isShare }: Result, system: System | undefined): string {
  if (isBlank(cell)) return "blank";
  if (isError(cell)) return cell.code;
  if (typeof cell === "string") return `“${cell}”`;
  if (typeof cell === "boolean") return String(cell).toUpperCase();
  return isShare ? `${numberText(cell)} (${percent(cell)})` : withUnit(numberText(cell), unitOf(unit, system));
}

export function argumentMath(
  fn: MathFunction,
  argument: Argument,
  all: readonly Argument[],
  system: System | undefined,
): MathArgument {
  const { parameter, given, block, cell, isWhole, why, address } = argument;
  const { name, optional } = parameter;
  const shown = (value: string) => ({ name, given, value });
  const fallback = () => fallbackText(fn, parameter, all, system);
  if (given === "") return shown(optional ? ARGUMENT.omitted(fallback()) : ARGUMENT.omittedRequired);
  if (why !== undefined) return shown(ARGUMENT.notKnown(why));
  if (isWhole && block) {
    const filled = block.flat().filter((one) => !isBlank(one)).length;
    return shown(ARGUMENT.cells(block.length, block[0]!.length, filled, address === given ? undefined : address));
  }
  if (cell === undefined) return shown(ARGUMENT.outside);
  if (isBlank(cell)) return shown(blankText(parameter, fallback, system));
  if (cell === 0 && parameter.blank === "left out" && emptyAs(parameter, fallbackOf(parameter)) !== "0") {
    return shown(ARGUMENT.zero(fallback()));
  }
  return shown(shownCell(cell, parameter, system));
}

function blankText(parameter: Parameter, fallback: () => string, system: System | undefined): string {
  if (parameter.blank === "left out") return ARGUMENT.blank(fallback());
  if (parameter.blank === "zero") return ARGUMENT.blank(shownCell(0, parameter, system));
  return parameter.optional ? ARGUMENT.blankRefused : ARGUMENT.blankRequired;
}

/** What counts for an argument that is left out. */
function fallbackText(
  fn: MathFunction,
  parameter: Parameter,
  all: readonly Argument[],
  system: System | undefined,
): string {
  const number = fallbackOf(parameter) ?? nestedFallback(fn, parameter, all);
  if (number !== undefined) {
    const value = number === "FALSE" ? false : Number(number);
    return ARGUMENT.fallback(shownCell(value, parameter, system));
  }
  return parameter.omitted === undefined ? ARGUMENT.noFallback : ARGUMENT.fallback(parameter.omitted);
}

/** A default that hangs on another argument: of {share:{bond:0.5|0.35|0.2}}, the one for this bond. */
function nestedFallback(fn: MathFunction, { name }: Parameter, all: readonly Argument[]): string | undefined {
  const nested = new RegExp(`\\{${name}:(\\{\\w+:[^{}]*\\})\\}`).exec(fn.plain)?.[1];
  if (!nested) return undefined;
  return attemptText(() => withNumbers({ ...fn, plain: nested }, all, FIRST, [[0]]).formula);
}

function attemptText(work: () => string | undefined): string | undefined {
  const text = attempt(work);
  return text instanceof NotKnown ? undefined : text;
}

export function outcomeOf(
  cell: Cell | undefined,
  fn: MathFunction,
  system: System | undefined,
  block: Block | NotKnown,
): Outcome {
  if (cell === undefined) return { kind: "unknown", why: block instanceof NotKnown ? block.message : "" };
  if (isError(cell)) return { kind: "error", code: cell.code, message: cell.message ?? "" };
  // A table's labels and numbers have no unit of their own.
  if (block instanceof NotKnown || !isWide(block) || !fn.plain.includes("CHOOSE({")) {
    return { kind: "value", text: shownCell(cell, fn.outcome, system) };
  }
  return { kind: "value", text: shownCell(cell, { isShare: false }, system) };
}
