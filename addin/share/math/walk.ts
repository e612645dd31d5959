/**
 * A formula that walks down a list: in each cell it looks at what stood beside the last good answer before. With that
 * known, it is a formula of this cell alone.
 */
import type { PlainFunction } from "../arguments";
import type { CellArgument } from "./cell-argument";
import { type Block, type Cell, cellAt, isBlank, isError, type Place } from "./values";

export interface Step {
  readonly fn: PlainFunction;
  readonly args: readonly CellArgument[];
  /** What it is called in the list that it follows. */
  readonly from: string;
}

/** The step to this place; undefined for the first. */
export function stepTo(
  { plain, params, ...fn }: PlainFunction,
  args: readonly CellArgument[],
  place: Place,
  answer: Block,
): Step | undefined {
  const before = lastGood(answer, place);
  if (!before) return undefined;
  const named = (name: string) => `${name}Before`;
  const earlier = args.map((arg): CellArgument => {
    const parameter = { ...arg.parameter, name: named(arg.parameter.name) };
    return { ...arg, parameter, cell: arg.block && cellAt(arg.block, before) };
  });
  const [list] = earlier;
  return {
    fn: {
      ...fn,
      isInTurn: false,
      plain: nextOf(plain)
        .replace(/\{(\w+):before(?=[:}])/g, (_, name: string) => `{${named(name)}`)
        // There is one before.
        .replace(/\{\w+:none\}/g, "FALSE"),
      params: [...params, ...earlier.map(({ parameter }) => parameter)],
    },
    args: [...args, ...earlier],
    from: list?.cell === undefined ? "" : String(list.cell),
  };
}

/** The place of the last answer that is neither blank nor an error. */
function lastGood(answer: Block, { row, column }: Place): Place | undefined {
  const places = answer.flatMap((line, r) => line.map((cell, c) => ({ cell, row: r, column: c })));
  const isGood = (cell: Cell) => !isBlank(cell) && !isError(cell);
  return places.findLast((place) => place.row + place.column < row + column && isGood(place.cell));
}

/** The last part of {list:start|first|next}, which may have marks in it. */
function nextOf(plain: string): string {
  let depth = 0;
  let from = 0;
  for (const [at, letter] of [...plain].entries()) {
    if (letter === "{") depth++;
    if (letter === "}") depth--;
    if (letter === "|" && depth === 1) from = at + 1;
  }
  return plain.slice(from, -1);
}
