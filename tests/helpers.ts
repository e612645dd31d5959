/** What the tests of functions share. */
import { expect, it } from "vitest";
import type { CustomFunction } from "../functions/declare";
import { onEveryHost, shownBy } from "./blanks";

/**
 * Calls a custom function with bare values or ranges (arrays of rows), as every host passes them; a one-cell answer comes
 * out bare.
 */
export function ask(fn: CustomFunction | ((...args: any[]) => any[][]), ...args: unknown[]): any {
  const answer = shownBy("args" in fn ? onEveryHost(fn) : fn, args.map(asTheHostPasses));
  return answer.length === 1 && answer[0]!.length === 1 ? answer[0]![0] : answer;
}

/** The host passes every argument as a block, but the units word bare and what is left out not at all. */
function asTheHostPasses(argument: unknown): unknown {
  const bare = argument === undefined || argument === "us" || argument === "metric";
  return bare || Array.isArray(argument) ? argument : [[argument]];
}

export const column = (...values: unknown[]): unknown[][] => values.map((value) => [value]);

export const row = (...values: unknown[]): unknown[][] => [values];

/** Matches an error cell with this code and message. */
export const error = (code: string, message: string) => expect.objectContaining({ code, message });

export const valueError = (message: string) => error("#VALUE!", message);

export function expectClose(actual: unknown, expected: number, relative = 1e-12): void {
  expect(actual).toBeTypeOf("number");
  expect(Math.abs((actual as number) - expected), `${actual} beside ${expected}`).toBeLessThanOrEqual(
    relative * Math.abs(expected),
  );
}

type Source = `${"published" | "library" | "hand" | "identity" | "common practice"}: ${string}`;

/** A check against a value from outside our code; where it comes from is required and stands in the test's name. */
export function reference(what: string, source: Source, check: () => void): void {
  it(`${what} [${source}]`, check);
}

/** A block of cells, as wide in every row, with no fault in any of them. */
export function expectSound(out: unknown, faultOf: (cell: unknown) => string | undefined): void {
  if (!Array.isArray(out) || out.length === 0) throw new Error("no block of cells");
  const width = (out[0] as unknown[]).length;
  for (const line of out as unknown[][]) {
    if (!Array.isArray(line) || line.length === 0 || line.length !== width) throw new Error("a ragged block");
    for (const cell of line) {
      const fault = faultOf(cell);
      if (fault) throw new Error(fault);
    }
  }
}
