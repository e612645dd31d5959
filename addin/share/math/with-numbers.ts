/** The plain formula of a call with the numbers of one cell in it, as short as they allow. */
import { type AstExpression, parse } from "@borgar/fx";
import { MESH, type Scale, scaleOf, sizeOf } from "../../../functions/scale";
import { type Given, isList, LEFT_OUT, type Parameter, type PlainFunction, wordIn } from "../arguments";
import { looksBack, plainCall } from "../plain";
import { tokensOf } from "../tokens";
import type { Sources } from "./calculate";
import type { CellArgument } from "./cell-argument";
import { written } from "./formula-text";
import { nearestMath, sizeMath } from "./grit-sizes";
import { simplified } from "./simplify";
import { NO_FORMULA, NOTE, notKnown } from "./texts";
import { type Block, type Cell, cellAt, columnText, isBlank, isError, literal, numberText, type Place } from "./values";
import { stepTo } from "./walk";

export interface Shown {
  readonly formula?: string | undefined;
  /** Why there is no formula. */
  readonly why?: string | undefined;
  readonly notes: readonly string[];
}

/** More pairs than these are not copied into a formula. */
const MOST_PAIRS = 8;

/** How many past jobs count, as the plain formulas of lists say it. */
const COUNT_OF_PAIRS = "SUM(IFERROR(1+0*LN({actual}/{estimated}),0))";
/** What they are about: a job with a 0 has none, and is passed over. */
const RATIO = "LN({actual}/{estimated})";
/** How they say that the answer is a table. */
const TABLE = "CHOOSE({";
/** Passes an error on where a verdict needs no size; here there is none. */
const PASSED_ON = /\b0\*\{\w+:size\}(?:\/\{\w+:size\})?\+/g;
const LOOKED_UP = /\{(\w+):(size|nearest)\}/g;

/** A shorter way to the same, where one argument is what it mostly is. */
const ROTARY = "2*PI()*{toolRadius}/{units:12|1000}*ABS({headRpm})/{units:1|60}";

const isRotary = (id: string, args: readonly CellArgument[]) => {
  const carrier = args.find(({ parameter }) => parameter.name === "carrierRpm");
  return (
    id === "SLIDESPEED" && carrier !== undefined && (carrier.text === "" || carrier.cell === null || carrier.cell === 0)
  );
};

/** The plain formula at a place of the answer, of which all cells are known or only this one. */
export function withNumbers(fn: PlainFunction, args: readonly CellArgument[], place: Place, answer: Block): Shown {
  if (fn.noPlain) return { why: NO_FORMULA.none(fn.noPlain), notes: [] };
  return looksBack(fn) ? ofWalk(fn, args, place, answer) : ofCell(fn, args, place, cellAt(answer, place)!);
}

function ofWalk(fn: PlainFunction, args: readonly CellArgument[], place: Place, answer: Block): Shown {
  if (isBlank(cellAt(answer, place)!)) return { why: NO_FORMULA.blankInList, notes: [] };
  const step = stepTo(fn, args, place, answer);
  if (!step) return { why: NO_FORMULA.firstInList, notes: [] };
  const { formula, why, notes } = ofCell(step.fn, step.args, place, cellAt(answer, place)!);
  return { formula, why, notes: [NOTE.stepFrom(step.from), ...notes] };
}

function ofCell(fn: PlainFunction, args: readonly CellArgument[], place: Place, result: Cell): Shown {
  const lists = args.filter(({ parameter }) => isList(parameter));
  if (lists.length > 0 && isBlank(result)) return { why: NO_FORMULA.skippedJob, notes: [] };
  const looked = lookUps(fn, args);
  if ("why" in looked) return { why: looked.why, notes: [] };
  const isTable = fn.plain.includes(TABLE);
  const list = listsOf(lists, place, { isTable, isRatio: fn.plain.includes(RATIO) });
  const plain = isRotary(fn.id, args) ? ROTARY : looked.plain;
  const counted = list.isCopied ? plain.replaceAll(COUNT_OF_PAIRS, String(list.pairs)) : plain;
  const { bare } = plainCall(
    { ...fn, plain: counted },
    args.map((argument) => given(argument)),
    () => "",
  );
  const known = new Map(lists.map(({ parameter }, i) => [standIn(parameter), list.blocks[i]!]));
  const whole = simplified(parse(tokensOf(bare)) as AstExpression, sourcesOf(known), list.place);
  if (isTable && whole.type === "Literal" && typeof whole.value === "string") {
    return { why: NO_FORMULA.label, notes: [] };
  }
  const formula = written(whole, (reference, isInList) => {
    const at = lists.findIndex(({ parameter }) => standIn(parameter) === reference);
    if (at >= 0) return isInList ? list.texts[at]! : numberOrText(lists[at]!.cell);
    return args.find(({ parameter }) => standIn(parameter) === reference)?.text ?? reference;
  });
  return { formula, notes: [...looked.notes, ...list.notes, ...notesOn(formula)] };
}

const A_HAIR = "*(1-1E-9)";
const LONG = 400;

function notesOn(formula: string): string[] {
  return [...(formula.includes(A_HAIR) ? [NOTE.hair(A_HAIR)] : []), ...(formula.length > LONG ? [NOTE.long] : [])];
}

const numberOrText = (cell: Cell | undefined) => (cell === undefined ? "…" : literal(cell));

/** A name that stands in the formula for what is put in last. */
const standIn = ({ name }: Parameter) => `given_${name}`;

function given({ parameter, text, block, cell }: CellArgument): Given {
  const shape = { isRange: false, isNumber: false };
  if (text === "") return LEFT_OUT;
  if (isList(parameter)) return { text: standIn(parameter), kind: "expression", ...shape, isRange: true };
  // A scale is looked up before.
  if (parameter.kind === "scale") return LEFT_OUT;
  if (block === undefined || cell === undefined || isError(cell)) {
    return { text: standIn(parameter), kind: "expression", isRange: false, isNumber: true };
  }
  if (isBlank(cell)) return parameter.blank === "zero" ? { text: "0", kind: "number", value: 0, ...shape } : LEFT_OUT;
  if (typeof cell === "number") {
    const written = numberText(cell);
    return { text: cell < 0 ? `(${written})` : written, kind: "number", value: cell, ...shape };
  }
  if (typeof cell === "string") return { text: literal(cell), kind: "text", value: cell, ...shape };
  return { text: literal(cell), kind: "logical", ...shape };
}

/** The formula with the sizes in it that a person would look up, and where they come from. */
function lookUps(
  { plain }: PlainFunction,
  args: readonly CellArgument[],
): { plain: string; notes: string[] } | { why: string } {
  const notes: string[] = [];
  const isAll = /^\{\w+:(size|nearest)\}$/.test(plain);
  let why: string | undefined;
  const filled = plain.replace(PASSED_ON, "").replace(LOOKED_UP, (_, name: string, kind: string) => {
    const { cell } = args.find(({ parameter }) => parameter.name === name)!;
    const scale = scaleIn(args);
    if (typeof cell !== "number" || !scale) {
      why = NO_FORMULA.notKnown(typeof cell === "number" ? "scale" : name);
      return "";
    }
    const found = (kind === "size" ? sizeMath : nearestMath)(cell, scale);
    if (!notes.includes(found.note)) notes.push(found.note);
    return isAll ? found.formula : numberText(sizeOf(cell, scale));
  });
  return why === undefined ? { plain: filled, notes } : { why };
}

function scaleIn(args: readonly CellArgument[]): Scale | undefined {
  const argument = args.find(({ parameter }) => parameter.kind === "scale");
  if (!argument || argument.text === "") return MESH;
  return argument.block && scaleOf(argument.block as unknown[][]);
}

interface Lists {
  /** What stands for each list in the formula. */
  readonly texts: readonly string[];
  readonly blocks: readonly Block[];
  readonly place: Place;
  readonly pairs: number;
  readonly isCopied: boolean;
  readonly notes: readonly string[];
}

/** Lists of past jobs: those few that count are copied into the formula, of many it has the addresses. */
function listsOf(
  lists: readonly CellArgument[],
  place: Place,
  { isTable, isRatio }: { isTable: boolean; isRatio: boolean },
): Lists {
  const texts = lists.map(({ text, address }) => address ?? text);
  if (lists.length === 0) return { texts, blocks: [], place, pairs: 0, isCopied: false, notes: [] };
  const blocks = lists.map(({ block }) => block);
  if (!blocks.every((block) => block !== undefined)) throw notKnown("listCells", { lists: texts });
  const columns = blocks.map((block) => block.flat());
  const counts = columns[0]!.map((_, i) =>
    columns.every((cells) => typeof cells[i] === "number" && (cells[i] !== 0 || !isRatio)),
  );
  const pairs = counts.filter(Boolean).length;
  const rows = counts.length;
  if (pairs === 0) throw notKnown("noFullRow");
  if (pairs > MOST_PAIRS) {
    return { texts, blocks, place, pairs, isCopied: false, notes: [NOTE.tooManyRows(pairs, rows)] };
  }
  const kept = columns.map((cells) => cells.filter((_, i) => counts[i]));
  const width = blocks[0]![0]!.length;
  // A table of answers has places of its own; one answer a job is found by the jobs before it.
  const before = counts.slice(0, place.row * width + place.column).filter(Boolean).length;
  return {
    texts: kept.map(columnText),
    blocks: kept.map((cells) => cells.map((cell) => [cell])),
    place: isTable ? place : { row: before, column: 0 },
    pairs,
    isCopied: true,
    notes: pairs < rows ? [NOTE.skippedRows(pairs, rows, isRatio)] : [],
  };
}

const sourcesOf = (known: ReadonlyMap<string, Block>): Sources => ({
  reference(name) {
    const block = known.get(name);
    if (!block) throw notKnown("reference", { why: name });
    return block;
  },
  picked(name) {
    throw notKnown("reference", { why: name });
  },
  ours: () => undefined,
  doubtful: (look) => look(),
});

export const wordOfUnits = (args: readonly CellArgument[]) => {
  const units = args.find(({ parameter }) => parameter.kind === "units");
  return units?.cell === undefined ? undefined : wordIn(units.cell as string);
};
