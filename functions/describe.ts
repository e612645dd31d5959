/** What a declaration says, in sentences for a reader and as plain data for what runs without the functions. */
import type { Blank } from "./cell";
import type { CustomFunction, Declared, Given, Kind, Takes } from "./declare";
import type { Bound } from "./domain";
import { type System, symbolsOf, type Unit } from "./units";

/** A unit's symbols by system; the same one twice where there is only one. */
export type Symbols = Readonly<Record<System, string>>;

/** An argument as the catalogue has it. */
export interface Parameter {
  readonly name: string;
  readonly text: string;
  readonly optional: boolean;
  readonly kind: Kind;
  readonly takes: Takes;
  /** The ends of what a number may be; without any it may be each. */
  readonly bounds: readonly Bound[];
  readonly isWhole: boolean;
  /** The words it may be, each with the other words for the same. */
  readonly words: readonly (readonly string[])[];
  readonly unit?: Symbols | undefined;
  readonly isShare: boolean;
  /** Whether it may be a label such as 00, which only a maker's own scale has. */
  readonly isGrit: boolean;
  /** What counts when it is left out, where that is a number or FALSE. */
  readonly fallback?: number | boolean | undefined;
  /** The same in words; nothing where it is needed. */
  readonly omitted?: string | undefined;
  /** What a blank cell of it is, and a 0, which hosts pass for one. */
  readonly blank: Blank;
}

/** What a function gives, as the catalogue has it. */
export interface Outcome {
  readonly unit?: Symbols | undefined;
  readonly isShare: boolean;
}

const unitText = (unit: Unit): string => {
  const { us, metric } = symbolsOf(unit);
  return us === metric ? us : `${us} or ${metric}`;
};

const CELLS: Readonly<Record<Takes, string | undefined>> = {
  each: undefined,
  one: "one cell",
  list: "a range of numbers",
  "one or list": "one cell or a range of numbers",
  call: undefined,
};

/** What an argument may be, in the words of its error message. */
function allowed({ kind, domain, vocabulary, shape }: Declared): string | undefined {
  if (kind === "range") return shape;
  if (kind === "yes or no") return "TRUE or FALSE";
  return vocabulary?.allowed ?? domain?.words;
}

const joined = (parts: readonly (string | undefined)[], mark: string) => parts.filter(Boolean).join(mark);

/** "Working width of the machine, in or mm; above 0." */
function parameterText(argument: Declared): string {
  const { label, unit, kind, takes, omitted, most, note, optional, reader } = argument;
  const what = joined([label, unit && unitText(unit), kind === "range" ? undefined : CELLS[takes]], ", ");
  const total = most === undefined ? undefined : `at most ${most} in all`;
  const may = joined([allowed(argument), total, omitted && `default ${omitted}`], ", ");
  const blank = optional && reader?.blank === "refused" ? "not blank or 0" : undefined;
  return `${joined([what, may, blank, note], "; ")}.`;
}

const resultText = ({ label, unit, note }: Given): string =>
  `${joined([joined([label, unit && unitText(unit)], ", "), note], "; ")}.`;

function parameterOf(argument: Declared): Parameter {
  const { name, optional, kind, takes, domain, vocabulary, unit, isShare, isGrit, fallback, omitted, reader } =
    argument;
  return {
    name,
    text: parameterText(argument),
    optional,
    kind,
    takes,
    bounds: domain?.bounds ?? [],
    isWhole: domain?.whole ?? false,
    words: vocabulary?.alike ?? [],
    unit: unit && symbolsOf(unit),
    isShare: isShare ?? false,
    isGrit: isGrit ?? false,
    fallback,
    omitted,
    blank: reader?.blank ?? "left out",
  };
}

/** A function's arguments and result as data and in words. */
export const described = ({ args, gives, isInTurn }: CustomFunction) => ({
  params: args.map(parameterOf),
  returns: resultText(gives),
  outcome: { unit: gives.unit && symbolsOf(gives.unit), isShare: gives.isShare ?? false } satisfies Outcome,
  isInTurn,
});
