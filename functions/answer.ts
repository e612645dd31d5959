/** What a function answers: a result as a cell can hold it, or the failure that becomes an error in the cell. */

/** What `CustomFunctions.Error` looks like; the host owns the class, so it is only described here. */
export interface HostError {
  code: string;
  message?: string;
}

declare const CustomFunctions: { Error: new (code: string, message?: string) => HostError };

/**
 * Thrown by arithmetic that has no answer; `answer` and `each` turn it into an error in the cell. Not an Error: what those
 * record of where they were made takes longer than all the rest of a bad cell, and a column may hold thousands.
 */
export class CellFailure {
  constructor(
    readonly code: string,
    readonly message: string,
  ) {}
}

/** `#VALUE!`: an argument of the wrong kind, out of its domain, or missing. */
export const badValue = (message: string) => new CellFailure("#VALUE!", message);
/** `#N/A`: a look-up found nothing. */
export const notFound = (message: string) => new CellFailure("#N/A", message);
/** `#NUM!`: each argument is fine, yet there is no finite answer. */
export const noAnswer = (message: string) => new CellFailure("#NUM!", message);

export type Result = number | string | boolean;

/** A result as a cell can hold it: no number without an end, and no -0. */
export function finite(result: number): number;
export function finite(result: Result): Result;
export function finite(result: Result): Result {
  if (typeof result !== "number") return result;
  if (!Number.isFinite(result)) throw noAnswer("the answer is too large for a number");
  return result + 0;
}

export const hostError = (failure: CellFailure) => new CustomFunctions.Error(failure.code, failure.message);

/** An error as a host takes it from a function; what else is in a cell is a plain value. */
export const isHostError = (cell: unknown): boolean => typeof cell === "object" && cell !== null;

/** Runs a whole function; a failure anywhere in it becomes one error cell. */
export function answer(compute: () => any[][]): any[][] {
  try {
    return compute();
  } catch (failure) {
    if (failure instanceof CellFailure) return [[hostError(failure)]];
    throw failure;
  }
}
