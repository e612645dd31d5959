/**
 * The add-in's custom functions in the embedded spreadsheet, treated as Excel treats them. `recordFunctions` stands in
 * for the host's `CustomFunctions` global while the shipped functions.js runs; `gridFunctions` makes of what it
 * associated, and of the shipped functions.json, functions that the engine calculates.
 */
import type { ArrayValueObject, BaseFunction, BaseValueObject, IFunctionInfo } from "@univerjs/engine-formula";
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

/** The error class with the public shape of the real runtime's. */
export class CustomFunctionError extends Error {
  constructor(
    readonly code: string,
    message?: string,
  ) {
    super(message);
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
  private readonly byCell = new Map<string, { code: string; message: string; from: string }[]>();

  /** Forgets what one function, or all, said about a cell. */
  clear(sheetId: string, row: number, column: number, from?: string) {
    const key = cellKey(sheetId, row, column);
    const others = this.byCell.get(key)?.filter((entry) => from !== undefined && entry.from !== from) ?? [];
    if (others.length > 0) this.byCell.set(key, others);
    else this.byCell.delete(key);
  }

  set(sheetId: string, row: number, column: number, entry: { code: string; message: string; from: string }) {
    const key = cellKey(sheetId, row, column);
    this.byCell.set(key, [...(this.byCell.get(key) ?? []), entry]);
  }

  /** The message behind the error a cell shows. */
  get(sheetId: string, row: number, column: number, code: string): string | undefined {
    return this.byCell.get(cellKey(sheetId, row, column))?.findLast((entry) => entry.code === code)?.message;
  }
}

const cellKey = (sheetId: string, row: number, column: number) => `${sheetId}!${row},${column}`;

export interface GridFunctionOptions {
  readonly namespace: string;
  readonly blankAs: BlankAs;
  readonly messages: ErrorMessages;
}

type Cell = number | string | boolean | null | CustomFunctionError;

/** An argument that never reaches the function: the cell shows this error instead. */
class Refused extends Error {
  constructor(readonly code: string) {
    super(code);
  }
}

const VALUE_ERROR = "#VALUE!";
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

function cellsOf(object: BaseValueObject): Cell[][] {
  if (!object.isArray()) return [[cellOf(object)]];
  const array = object as ArrayValueObject;
  const rows: Cell[][] = [];
  array.iterator((item, row, column) => {
    rows[row] ??= [];
    rows[row][column] = cellOf(item ?? null);
  });
  return rows;
}

/** An argument as Excel passes it; throws `Refused` where Excel does not call the function at all. */
function argument(
  object: BaseValueObject,
  parameter: ParameterMetadata,
  errorsPass: boolean,
  blankAs: BlankAs,
): unknown {
  if (object.isNull() && !object.isArray()) return null;
  const cells = cellsOf(object);
  const anyError = cells.flat().find((cell) => cell instanceof CustomFunctionError);
  const takesErrors = errorsPass && (parameter.type ?? "any") === "any";
  if (anyError && !takesErrors) throw new Refused(anyError.code);
  if (parameter.dimensionality === "matrix") {
    return cells.map((row) => row.map((cell) => coerce(cell, parameter.type, blankAs)));
  }
  if (cells.length !== 1 || cells[0]!.length !== 1) throw new Refused(VALUE_ERROR);
  return coerce(cells[0]![0]!, parameter.type, blankAs);
}

/** Pads what was left out with null, gathers what repeats, and puts the invocation last. */
function callArguments(
  objects: BaseValueObject[],
  parameters: readonly ParameterMetadata[],
  errorsPass: boolean,
  blankAs: BlankAs,
): unknown[] {
  const repeating = parameters.at(-1)?.repeating ? parameters.at(-1) : undefined;
  const fixed = repeating ? parameters.slice(0, -1) : parameters;
  if (!repeating && objects.length > parameters.length) throw new Refused(VALUE_ERROR);
  const given = (parameter: ParameterMetadata, i: number) => {
    const object = objects[i];
    const value = object ? argument(object, parameter, errorsPass, blankAs) : null;
    if (value === null && !object && !parameter.optional) throw new Refused(VALUE_ERROR);
    return value;
  };
  const args = fixed.map(given);
  if (!repeating) return args;
  return [...args, objects.slice(fixed.length).map((object) => argument(object, repeating, errorsPass, blankAs))];
}

/** What a function gave, as cells; one value counts as a block of one. */
const blockOf = (result: unknown): unknown[][] => (Array.isArray(result) ? result : [[result]]) as unknown[][];

const isErrorLike = (value: unknown): value is { code: string; message?: string } =>
  typeof value === "object" && value !== null && isCellError((value as { code?: unknown }).code);

/** Makes the engine's function classes and their descriptions, ready for the plugins' configuration. */
export function gridFunctions(
  modules: UniverModules,
  functions: ReadonlyMap<string, CustomFunction>,
  json: FunctionsJson,
  { namespace, blankAs, messages }: GridFunctionOptions,
) {
  const { ArrayValueObject, BaseFunction, BooleanValueObject, ErrorValueObject, NullValueObject } = modules;
  const { FunctionType, NumberValueObject, StringValueObject } = modules;
  const error = (code: string) => ErrorValueObject.create(code as never);

  const plainValue = (value: unknown): BaseValueObject => {
    if (value === null || value === undefined) return NullValueObject.create();
    if (typeof value === "number")
      return Number.isFinite(value) ? NumberValueObject.create(value) : error(NUMBER_ERROR);
    if (typeof value === "boolean") return BooleanValueObject.create(value);
    if (typeof value === "string") return StringValueObject.create(value);
    return error(isErrorLike(value) ? value.code : VALUE_ERROR);
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
        const remember = (given: unknown, rowOffset = 0, columnOffset = 0) => {
          const at = [sheetId, row + rowOffset, column + columnOffset] as const;
          messages.clear(...at, id);
          if (isErrorLike(given) && given.message)
            messages.set(...at, { code: given.code, message: given.message, from: id });
        };
        try {
          const args = callArguments(objects, metadata.parameters, errorsPass, blankAs);
          const block = blockOf(implementation(...args, { functionName: metadata.id }));
          block.forEach((cells, i) => {
            cells.forEach((cell, j) => {
              remember(cell, i, j);
            });
          });
          return toValueObject(block);
        } catch (failure) {
          remember(failure);
          if (failure instanceof Refused) return error(failure.code);
          return error(isErrorLike(failure) ? failure.code : VALUE_ERROR);
        }
      }
    };
  };

  const toValueObject = (block: unknown[][]): BaseValueObject => {
    const columnCount = block[0]?.length ?? 0;
    if (columnCount === 0) return error("#CALC!");
    if (block.length === 1 && columnCount === 1) return plainValue(block[0]![0]);
    return ArrayValueObject.create({
      calculateValueList: block.map((cells) => cells.map(plainValue)),
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
