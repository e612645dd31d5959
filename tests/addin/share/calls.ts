/** Random calls of a function: arguments of every kind, good and bad, as cells, literals, expressions and left out. */
import fc from "fast-check";
import {
  type Catalogued,
  isForTheCall,
  isList,
  isOneCell,
  isUnits,
  listed as listedNumber,
  mayBeOneCell,
  type Parameter,
  valid,
} from "../../catalogue";
import { type Block, type Cell, ERRORS, isError, rangeOf } from "./engine";

export interface Call {
  readonly formula: string;
  readonly blocks: Block[];
  /** The arguments as the host passes them. */
  readonly passed: unknown[];
}

interface Chosen {
  readonly cells: Cell[][];
  readonly form: "cell" | "literal" | "expression" | "left out";
}

const isSingle = (parameter: Parameter) => isForTheCall(parameter) || isOneCell(parameter);

const error = fc.constantFrom(...ERRORS).map((code): Cell => ({ code }));
const odd = fc.oneof(fc.constantFrom<Cell>(null, null, "", "much", "5", true, false, -1, 0, 1, 1.5, 2, 12000), error);
const oddWord = fc.oneof(fc.constantFrom<Cell>(null, "", " Resin ", "METRIC", "furlong", 5, true), error);

/** A value for a parameter: mostly one it may be, at times any other. */
function cellFor(parameter: Parameter): fc.Arbitrary<Cell> {
  const good = valid(parameter) as fc.Arbitrary<Cell>;
  const bad = parameter.words.length > 0 ? oddWord : parameter.isWhole ? fc.oneof(odd, fc.constant(3e9)) : odd;
  return fc.oneof({ weight: 8, arbitrary: good }, { weight: 1, arbitrary: bad });
}

const column = (cell: fc.Arbitrary<Cell>, rows: number) =>
  fc.array(
    cell.map((value) => [value]),
    { minLength: rows, maxLength: rows },
  );

const JOBS = 6;

/** A cell of a list: mostly a good number, now and then a blank, at times any other. */
function listed(parameter: Parameter): fc.Arbitrary<Cell> {
  return fc.oneof(
    { weight: 20, arbitrary: listedNumber(parameter, JOBS) as fc.Arbitrary<Cell> },
    { weight: 3, arbitrary: fc.constantFrom<Cell>(null, 0) },
    { weight: 1, arbitrary: odd },
  );
}

/** How many rows and columns a range argument has. */
export type Extent = readonly [rows: number, columns: number];

function chosen(parameter: Parameter, extents: readonly Extent[]): fc.Arbitrary<Chosen> {
  const list = column(listed(parameter), JOBS).map((cells): Chosen => ({ cells, form: "cell" }));
  if (isList(parameter) && !mayBeOneCell(parameter)) return list;
  const cell = isList(parameter) ? listed(parameter) : cellFor(parameter);
  const forms: Chosen["form"][] = ["cell", "cell", "cell", "cell", "literal", "literal", "expression", "left out"];
  const single = fc.record({ cells: cell.map((value) => [[value]]), form: fc.constantFrom(...forms) });
  if (isList(parameter)) return fc.oneof({ weight: 1, arbitrary: single }, { weight: 3, arbitrary: list });
  if (extents.length === 0 || isSingle(parameter)) return single;
  const range = fc
    .constantFrom(...extents)
    .chain(([rows, columns]) =>
      fc
        .array(fc.array(cell, { minLength: columns, maxLength: columns }), { minLength: rows, maxLength: rows })
        .map((cells): Chosen => ({ cells, form: "cell" })),
    );
  return fc.oneof(single, range);
}

/** Extents of ranges that stretch to one another; the arguments of a call have those of one of these lists. */
export const EXTENTS: readonly (readonly Extent[])[] = [
  [[4, 1]],
  [[1, 3]],
  [
    [4, 1],
    [1, 3],
  ],
  [
    [4, 3],
    [4, 1],
  ],
];

/** Whether a function answers cell by cell; for the others a range is a list that they take as a whole, or refused. */
export const isStretched = ({ params }: Catalogued) =>
  params.some((parameter) => !isList(parameter) && !isOneCell(parameter));

/** Random arguments of one call; with extents, some of them are ranges of these sizes. */
export const randomArguments = (entry: Catalogued, extents: readonly Extent[] = []): fc.Arbitrary<Chosen[]> =>
  fc.tuple(...entry.params.map((parameter) => chosen(parameter, extents)));

function literal(cell: Cell): string {
  if (cell === null) return "";
  if (typeof cell === "string") return `"${cell.replaceAll('"', '""')}"`;
  return isError(cell) ? cell.code : String(cell).toUpperCase();
}

/** The formula of a call whose cells start in this row and column, side by side. */
export function callOf(entry: Catalogued, args: readonly Chosen[], row: number, column: number): Call {
  const blocks: Block[] = [];
  const passed: unknown[] = [];
  let at = column;
  const parts = args.map(({ cells, form }, i) => {
    const parameter = entry.params[i]!;
    const one = cells[0]![0]!;
    // A blank is no literal: the place between the commas stays empty.
    const isLeftOut = (form === "left out" && parameter.optional) || (form === "literal" && one === null);
    const value = isLeftOut ? null : one;
    passed.push(isUnits(parameter) ? value : isLeftOut ? null : cells);
    if (isLeftOut) return "";
    if (form === "literal") return literal(one);
    const block = { cells, row, column: at, isList: isList(parameter) };
    blocks.push(block);
    at += cells[0]!.length;
    const reference = rangeOf(block);
    return form === "expression" && typeof one === "number" ? `${reference} * 1` : reference;
  });
  return { formula: `=GRIT.${entry.id}(${parts.join(",")})`, blocks, passed };
}
