/**
 * The add-in's custom functions in the embedded spreadsheet, treated as Excel treats them. `recordFunctions` stands in
 * for the host's `CustomFunctions` global while the shipped functions.js runs; `gridFunctions` makes of what it
 * associated, and of the shipped functions.json, functions that the engine calculates.
 */
import type { ArrayValueObject, BaseFunction, BaseValueObject, IFunctionInfo } from "@univerjs/engine-formula";
import { COLUMNS } from "./a1";
import { type Columns, columnsOf, type Plain } from "./columns";
import { isCellError } from "./entry";
import type { UniverModules } from "./modules";

export type CustomFunction = (...args: any[]) => unknown;

export interface ParameterMetadata {
  readonly name: string;
  readonly description?: string;
  readonly type?: string;
  readonly dimensionality?: string;
  readonly optional?: boolean;
  readonly repeating?: boolean;
}

export interface FunctionMetadata {
  readonly id: string;
  readonly name?: string;
  readonly description?: string;
  readonly parameters: readonly ParameterMetadata[];
  readonly options?: { readonly allowErrorForDataTypeAny?: boolean };
}

/** The shipped functions.json. */
export interface FunctionsJson {
  readonly allowErrorForDataTypeAny?: boolean;
  readonly functions: readonly FunctionMetadata[];
}

/** How a blank cell reaches a function: hosts differ. */
export type BlankAs = 0 | null | "";

/** The test mode: a function that gets blank cells is called in each way, and must answer alike. */
export const EACH_BLANK = "each";

/** The error class with the public shape of the real runtime's. */
export class CustomFunctionError extends Error {
  /** An error cell as an argument has its code under both names. */
  readonly basicValue: string;

  constructor(
    readonly code: string,
    message?: string,
  ) {
    super(message);
    this.basicValue = code;
  }
}

const ERROR_CODES = {
  invalidValue: "#VALUE!",
  notAvailable: "#N/A",
  divisionByZero: "#DIV/0!",
  invalidNumber: "#NUM!",
  nullReference: "#NULL!",
  invalidName: "#NAME?",
  invalidReference: "#REF!",
} as const;

export function recordFunctions() {
  const functions = new Map<string, CustomFunction>();
  const associate = (id: string, implementation: CustomFunction) => functions.set(id.toUpperCase(), implementation);
  return { functions, global: { associate, Error: CustomFunctionError, ErrorCode: ERROR_CODES } };
}

/** The messages of the errors that functions gave, by cell: Excel shows them in the cell's error card. */
export class ErrorMessages {
  private readonly bySheet = new Map<string, Map<number, { code: string; message: string; from: string }[]>>();

  /** Forgets what one function, or all, said about a cell. */
  clear(sheetId: string, row: number, column: number, from?: string) {
    const cells = this.bySheet.get(sheetId);
    const known = cells?.get(cellKey(row, column));
    if (!cells || !known) return;
    const others = known.filter((entry) => from !== undefined && entry.from !== from);
    if (others.length > 0) cells.set(cellKey(row, column), others);
    else cells.delete(cellKey(row, column));
  }

  set(sheetId: string, row: number, column: number, entry: { code: string; message: string; from: string }) {
    const cells = this.bySheet.get(sheetId) ?? new Map();
    this.bySheet.set(sheetId, cells);
    cells.set(cellKey(row, column), [...(cells.get(cellKey(row, column)) ?? []), entry]);
  }

  /** The message behind the error a cell shows. */
  get(sheetId: string, row: number, column: number, code: string): string | undefined {
    const entries = this.bySheet.get(sheetId)?.get(cellKey(row, column));
    return entries?.findLast((entry) => entry.code === code)?.message;
  }
}

const cellKey = (row: number, column: number) => row * COLUMNS + column;

export interface GridFunctionOptions {
  readonly namespace: string;
  readonly blankAs: BlankAs | typeof EACH_BLANK;
  readonly messages: ErrorMessages;
  /** Told where a function's answer depends on how blank cells are passed. */
  readonly onDisagreement?: (what: string) => void;
}

type Cell = number | string | boolean | null | CustomFunctionError;

/** An argument that never reaches the function: the cell shows this error instead. */
class Refused extends Error {
  constructor(readonly code: string) {
    super(code);
  }
}

const VALUE_ERROR = "#VALUE!";
/** Errors of a function that the client shows; any other comes out as #VALUE!. */
const SHOWN_CODES = ["#N/A", "#DIV/0!", VALUE_ERROR, "#NUM!", "#NULL!"];
/** Errors whose message it sends on where a function returns them; of a thrown one it sends every message. */
const TOLD_WHEN_RETURNED = [VALUE_ERROR, "#N/A"];
const NUMBER_ERROR = "#NUM!";

function toNumber(cell: Cell): number {
  if (cell === null) return 0;
  if (typeof cell === "number") return cell;
  if (typeof cell === "boolean") return Number(cell);
  const number = typeof cell === "string" && cell.trim() !== "" ? Number(cell) : Number.NaN;
  if (Number.isNaN(number)) throw new Refused(VALUE_ERROR);
  return number;
}

function toText(cell: Cell): string {
  if (cell === null) return "";
  return typeof cell === "boolean" ? String(cell).toUpperCase() : String(cell);
}

function toBoolean(cell: Cell): boolean {
  if (cell === null) return false;
  if (typeof cell !== "string") return Boolean(cell);
  if (/^(true|false)$/i.test(cell)) return cell.toLowerCase() === "true";
  throw new Refused(VALUE_ERROR);
}

/** One cell as a parameter of this type takes it. */
function coerce(cell: Cell, type: string | undefined, blankAs: BlankAs): unknown {
  if (cell instanceof CustomFunctionError) return cell;
  if (type === "number") return toNumber(cell);
  if (type === "string") return toText(cell);
  if (type === "boolean") return toBoolean(cell);
  return cell === null ? blankAs : cell;
}

function cellOf(object: BaseValueObject | null): Cell {
  if (!object || object.isNull()) return null;
  if (object.isError()) return new CustomFunctionError(String(object.getValue()));
  return object.getValue() as Cell;
}

/** The cells of an argument as `pass` lets them through. */
function cellsOf(object: BaseValueObject, { plainColumn }: Columns, pass: (cell: Cell) => unknown): unknown[][] {
  if (!object.isArray()) return [[pass(cellOf(object))]];
  const column = plainColumn(object);
  if (column) return column.map((plain) => [pass(typeof plain === "object" ? cellOf(plain) : plain)]);
  const array = object as ArrayValueObject;
  const rows: unknown[][] = [];
  array.iterator((item, row, column) => {
    rows[row] ??= [];
    rows[row][column] = pass(cellOf(item ?? null));
  });
  return rows;
}

/** How arguments are passed: whether error cells are, what a blank cell is, and the engine's columns. */
interface Passing {
  readonly errorsPass: boolean;
  readonly blankAs: BlankAs;
  readonly columns: Columns;
}

/** An argument as Excel passes it; throws `Refused` where Excel does not call the function at all. */
function argument(
  object: BaseValueObject,
  parameter: ParameterMetadata,
  { errorsPass, blankAs, columns }: Passing,
): unknown {
  if (object.isNull() && !object.isArray()) return null;
  const takesErrors = errorsPass && (parameter.type ?? "any") === "any";
  const cells = cellsOf(object, columns, (cell) => {
    if (cell instanceof CustomFunctionError && !takesErrors) throw new Refused(cell.code);
    return parameter.dimensionality === "matrix" ? coerce(cell, parameter.type, blankAs) : cell;
  });
  if (parameter.dimensionality === "matrix") return cells;
  if (cells.length !== 1 || cells[0]!.length !== 1) throw new Refused(VALUE_ERROR);
  return coerce(cells[0]![0] as Cell, parameter.type, blankAs);
}

/** Pads what was left out with null, gathers what repeats, and puts the invocation last. */
function callArguments(
  objects: BaseValueObject[],
  parameters: readonly ParameterMetadata[],
  passing: Passing,
): unknown[] {
  const repeating = parameters.at(-1)?.repeating ? parameters.at(-1) : undefined;
  const fixed = repeating ? parameters.slice(0, -1) : parameters;
  if (!repeating && objects.length > parameters.length) throw new Refused(VALUE_ERROR);
  const given = (parameter: ParameterMetadata, i: number) => {
    const object = objects[i];
    const value = object ? argument(object, parameter, passing) : null;
    if (value === null && !object && !parameter.optional) throw new Refused(VALUE_ERROR);
    return value;
  };
  const args = fixed.map(given);
  if (!repeating) return args;
  return [...args, objects.slice(fixed.length).map((object) => argument(object, repeating, passing))];
}

/** What a function gave, as cells; one value counts as a block of one. */
const blockOf = (result: unknown): unknown[][] => (Array.isArray(result) ? result : [[result]]) as unknown[][];

const isErrorLike = (value: unknown): value is { code: string; message?: string } =>
  typeof value === "object" && value !== null && isCellError((value as { code?: unknown }).code);

const shownCode = (code: string) => (SHOWN_CODES.includes(code) ? code : VALUE_ERROR);

/** What a function gave, or what it threw. */
type Answer = { readonly block: unknown[][] } | { readonly failure: unknown };

const asTold = (cell: unknown) => (isErrorLike(cell) ? { code: cell.code, message: cell.message } : cell);
const answerAsTold = (answer: Answer) =>
  "failure" in answer ? asTold(answer.failure) : answer.block.map((line) => line.map(asTold));
const isDeepEqual = (one: unknown, other: unknown) => JSON.stringify(one) === JSON.stringify(other);

/** What is left out is no blank cell. */
function hasBlank(object: BaseValueObject): boolean {
  if (!object.isArray()) return false;
  let found = false;
  (object as ArrayValueObject).iterator((item) => {
    found ||= !item || item.isNull();
  });
  return found;
}

/** Makes the engine's function classes and their descriptions, ready for the plugins' configuration. */
export function gridFunctions(
  modules: UniverModules,
  functions: ReadonlyMap<string, CustomFunction>,
  json: FunctionsJson,
  { namespace, blankAs, messages, onDisagreement }: GridFunctionOptions,
) {
  const { ArrayValueObject, BaseFunction, ErrorValueObject, FunctionType } = modules;
  const columns = columnsOf(modules);
  const error = (code: string) => ErrorValueObject.create(code as never);

  const plainOf = (value: unknown): Plain => {
    if (value === null || value === undefined) return null;
    if (typeof value === "number") return Number.isFinite(value) ? value : error(NUMBER_ERROR);
    if (typeof value === "boolean" || typeof value === "string") return value;
    return error(isErrorLike(value) ? shownCode(value.code) : VALUE_ERROR);
  };

  const classOf = (metadata: FunctionMetadata, implementation: CustomFunction) => {
    const errorsPass = metadata.options?.allowErrorForDataTypeAny ?? json.allowErrorForDataTypeAny ?? false;
    return class GridFunction extends BaseFunction {
      override minParams = 0;
      override maxParams = 255;

      override calculate(...objects: BaseValueObject[]) {
        const sheetId = this.subUnitId ?? "";
        const { row, column } = this;
        const { id } = metadata;
        const remember = (given: unknown, isThrown: boolean, rowOffset = 0, columnOffset = 0) => {
          const at = [sheetId, row + rowOffset, column + columnOffset] as const;
          messages.clear(...at, id);
          if (!isErrorLike(given) || !given.message) return;
          if (!isThrown && !TOLD_WHEN_RETURNED.includes(given.code)) return;
          messages.set(...at, { code: shownCode(given.code), message: given.message, from: id });
        };
        const call = (as: BlankAs): Answer => {
          try {
            const args = callArguments(objects, metadata.parameters, { errorsPass, blankAs: as, columns });
            return { block: blockOf(implementation(...args, { functionName: id })) };
          } catch (failure) {
            return { failure };
          }
        };
        const answer = call(blankAs === EACH_BLANK ? null : blankAs);
        if (blankAs === EACH_BLANK && objects.some(hasBlank)) {
          const others = (["", 0] as const).filter((as) => !isDeepEqual(answerAsTold(call(as)), answerAsTold(answer)));
          if (others.length > 0)
            onDisagreement?.(`${id} answers otherwise to blank cells as ${JSON.stringify(others)}`);
        }
        if ("failure" in answer) {
          const { failure } = answer;
          remember(failure, true);
          if (failure instanceof Refused) return error(failure.code);
          return error(isErrorLike(failure) ? shownCode(failure.code) : VALUE_ERROR);
        }
        answer.block.forEach((cells, i) => {
          cells.forEach((cell, j) => {
            remember(cell, false, i, j);
          });
        });
        return toValueObject(answer.block);
      }
    };
  };

  const toValueObject = (block: unknown[][]): BaseValueObject => {
    const columnCount = block[0]?.length ?? 0;
    if (columnCount === 0) return error("#CALC!");
    if (block.length === 1 && columnCount === 1) return columns.wrap(plainOf(block[0]![0]));
    if (columnCount === 1) return new columns.PlainColumn(block.map(([value]) => plainOf(value)));
    return ArrayValueObject.create({
      calculateValueList: block.map((cells) => cells.map((value) => columns.wrap(plainOf(value)))),
      rowCount: block.length,
      columnCount,
      unitId: "",
      sheetId: "",
      row: -1,
      column: -1,
    });
  };

  const describe = (metadata: FunctionMetadata): IFunctionInfo => ({
    functionName: `${namespace}.${metadata.id}`,
    functionType: FunctionType.User,
    description: metadata.description ?? "",
    abstract: metadata.description ?? "",
    functionParameter: metadata.parameters.map((parameter) => ({
      name: parameter.name,
      detail: parameter.description ?? "",
      example: "",
      require: parameter.optional ? 0 : 1,
      repeat: parameter.repeating ? 1 : 0,
    })),
  });

  const known = json.functions.filter(({ id }) => functions.has(id.toUpperCase()));
  return {
    function: known.map((metadata): [new (name: string) => BaseFunction, string] => [
      classOf(metadata, functions.get(metadata.id.toUpperCase())!),
      `${namespace}.${metadata.id}`,
    ]),
    description: known.map(describe),
  };
}
