/**
 * Good arguments of every function, as many rows as are asked for: as typed columns for a bare loop, and as the blocks that
 * the host passes. In US units and mesh grits, with nothing left out: the most that a call can have to read.
 */
import fc from "fast-check";
import { shownBy } from "../blanks";
import {
  CATALOGUE,
  type Catalogued,
  isList,
  isScale,
  isUnits,
  listed,
  type Parameter,
  isOneCell as takesOneCell,
  valid,
} from "../catalogue";
import { hasLoop, isSingle } from "./loops";

export type Column = Float64Array | string[] | boolean[];

export interface Rows {
  readonly entry: Catalogued;
  /** One column a parameter, without scale and units; a single cell where the function takes no more. */
  readonly columns: readonly Column[];
  /** What the function is called with. */
  readonly args: readonly unknown[];
}

export const LOOPED: readonly Catalogued[] = CATALOGUE.filter(hasLoop);

/** Rows that differ; beyond them they begin again. */
const DIFFERENT = 1000;

/** The loop is for one cell where the function takes no more, or where it says so. */
const isOneCell = (parameter: Parameter, entry: Catalogued) => takesOneCell(parameter) || isSingle(entry, parameter);

export const takesLists = ({ params }: Catalogued) => params.some(isList);

/** A cell as a parameter takes it; bonds by one name and in small letters, which a bare loop need not sort out. */
function cell(parameter: Parameter): fc.Arbitrary<unknown> {
  if (isUnits(parameter)) return fc.constant("us");
  if (isScale(parameter)) return fc.constant("mesh");
  if (parameter.kind === "word") return fc.constantFrom(...parameter.words.map(([usual]) => usual));
  if (isList(parameter)) return listed(parameter, 1);
  return valid(parameter);
}

const isError = (answer: unknown) => typeof answer === "object";

/** Different good rows of a function: of such as stand for themselves, only those with an answer. */
function differentRows(entry: Catalogued): unknown[][] {
  const row: fc.Arbitrary<unknown[]> = fc.tuple(...entry.params.map(cell));
  const answerOf = (values: unknown[]) =>
    shownBy(
      entry.shipped,
      values.map((value, i) => (isUnits(entry.params[i]!) ? value : [[value]])),
    )[0]![0];
  // A row of nothing but 0 is a blank one.
  const isRow = (values: unknown[]) =>
    !isError(answerOf(values)) && values.some((value) => typeof value !== "string" && value !== 0);
  return fc.sample(takesLists(entry) ? row : row.filter(isRow), DIFFERENT);
}

function column(values: readonly unknown[]): Column {
  return typeof values[0] === "number" ? Float64Array.from(values as number[]) : (values as string[] | boolean[]);
}

/** As the host's messages bring it: parsed from JSON. */
const asParsed = (block: unknown[][]): unknown[][] => JSON.parse(JSON.stringify(block));

export function rowsOf(entry: Catalogued, count: number): Rows {
  const different = differentRows(entry);
  const columns: Column[] = [];
  const args = entry.params.map((parameter, k) => {
    if (isUnits(parameter)) return "us";
    if (isScale(parameter)) return [["mesh"]];
    const length = isOneCell(parameter, entry) ? 1 : count;
    const values = Array.from({ length }, (_, i) => different[i % DIFFERENT]![k]);
    // Hours of one day: however many rows there are, they must fit into it.
    const fitting = parameter.declared.most !== undefined ? values.map((hours) => (hours as number) / count) : values;
    columns.push(column(fitting));
    return asParsed(fitting.map((value) => [value]));
  });
  return { entry, columns, args };
}

/** Where a loop puts its answers, for what the function answers. */
export function roomFor(answer: readonly unknown[][]): Column {
  const kind = typeof answer[0]!.at(-1);
  return kind === "number"
    ? new Float64Array(answer.length)
    : new Array(answer.length).fill(kind === "string" ? "" : false);
}
