/**
 * A formula that fills several cells, written for one of them: each range in it becomes the cell of that range in this
 * place. So it needs no array formula, and may look back at the cells that the same formula has filled before.
 */
import { parseA1Ref, stringifyA1Ref } from "@borgar/fx";
import { cellAddress, withoutSheet } from "../common/a1";
import type { Before, Extent } from "./arguments";
import { untranslatable } from "./refusals";
import { extentOf, type KnownReferences, shapeOf } from "./shape";
import { argumentsIn, closing, isOperator, isSpace, ourId, type Token } from "./tokens";

/** A place within the cells that a formula fills. */
export interface Place {
  /** Zero-based, from the first of these cells. */
  readonly row: number;
  readonly column: number;
  /** Where on the sheet the first of them is. */
  readonly from: { readonly row: number; readonly column: number };
}

/** Spreadsheet functions that answer cell by cell to ranges. */
const CELL_BY_CELL = new Set("IF IFERROR ROUND ROUNDUP ROUNDDOWN INT ABS SQRT EXP LN".split(" "));

/** The tokens for one cell. Calls of ours stay as they are: what is in them is theirs to spread. */
export function spread(tokens: readonly Token[], place: Place, known: KnownReferences): Token[] {
  const out: Token[] = [];
  for (let at = 0; at < tokens.length; at++) {
    const token = tokens[at]!;
    if (token.type === "func") {
      const end = closing(tokens, at + 1);
      out.push(...spreadCall(tokens.slice(at, end + 1), place, known));
      at = end;
    } else if (isOperator(token, "{", "#", ":", "@")) {
      throw token.value === "{" ? untranslatable("typedArray") : untranslatable("operator", { operator: token.value });
    } else if (token.type === "operator" || isSpace(token)) {
      out.push(token);
    } else {
      out.push(shapeOf([token], known).isRange ? { ...token, value: cellOf(token.value, place, known) } : token);
    }
  }
  return out;
}

function spreadCall(call: readonly Token[], place: Place, known: KnownReferences): readonly Token[] {
  const [name] = call as [Token];
  if (ourId(name) !== undefined || !shapeOf(call, known).isRange) return call;
  const inside = call.slice(2, -1);
  if (!CELL_BY_CELL.has(name.value.toUpperCase()) || argumentsIn(inside).length === 0) {
    throw untranslatable("severalCells", { name: name.value });
  }
  return [...call.slice(0, 2), ...spread(inside, place, known), ...call.slice(-1)];
}

/** A range as the sheet has it: names and columns of tables by the cells that they stand for. */
function rangeOf(reference: string, known: KnownReferences) {
  const cells = extentOf(reference) ? reference : known.cellsOf?.(reference);
  const found = cells === undefined ? undefined : parseA1Ref(cells);
  if (!found || !("range" in found) || found.context?.some((part) => part.includes(":"))) {
    throw untranslatable("unknownCells", { reference });
  }
  return { ...found, extent: extentOf(cells!)! };
}

/** How many rows and columns a reference has, one by name too. */
export const extentIn = (reference: string, known: KnownReferences): Extent => rangeOf(reference, known).extent;

/** The cell of a range in a place; a line of one cell stands in every row or column. */
function cellOf(reference: string, { row, column }: Pick<Place, "row" | "column">, known: KnownReferences): string {
  const { extent, range, ...rest } = rangeOf(reference, known);
  const [down, across] = [extent[0] > 1 ? row : 0, extent[1] > 1 ? column : 0];
  if (down >= extent[0] || across >= extent[1]) {
    throw untranslatable("tooFewCells", { reference });
  }
  const { $top = false, $left = false } = range;
  const [top, left] = [(range.top ?? 0) + down, (range.left ?? 0) + across];
  const cell = { top, left, bottom: top, right: left, $top, $left, $bottom: $top, $right: $left };
  return stringifyA1Ref({ ...rest, range: cell });
}

/**
 * How to find, in one line of cells, what stood beside the last good answer before this place: an error or a blank is
 * none. Nothing before the first. The first cell is pinned, so that the formula may be filled on.
 */
export function before(reference: string, { row, column, from }: Place, known: KnownReferences): Before | undefined {
  const count = row + column;
  if (count === 0) return undefined;
  const goesDown = row > 0;
  const pinned = (cell: string) => cell.replace(goesDown ? /\$?(\d+)$/ : /\$?([A-Z]+)(?=\$?\d+$)/, "$$$1");
  const back = (n: number) => ({ row: goesDown ? n : 0, column: goesDown ? 0 : n });
  const answer = (n: number) => cellAddress(from.row + back(n).row, from.column + back(n).column);
  const value = (n: number) => cellOf(reference, back(n), known);
  if (count === 1) return { none: `IFERROR(${answer(0)}="",TRUE)`, value: value(0) };
  const last = value(count - 1);
  const values = `${pinned(value(0))}:${withoutSheet(last)}`;
  const look = `LOOKUP(2,1/(${pinned(answer(0))}:${answer(count - 1)}<>""),${values})`;
  return { none: `ISERROR(${look})`, value: look };
}

/** The call that is all of a formula. */
export function wholeCall(tokens: readonly Token[]): Token | undefined {
  const words = tokens.filter((token) => !isSpace(token) && token.type !== "fx_prefix");
  const [name] = words;
  return name && ourId(name) !== undefined && closing(words, 1) === words.length - 1 ? name : undefined;
}
