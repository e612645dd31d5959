/**
 * Hosts pass a blank cell as null, as "" or as 0. A function called through here is called with each of them in place of
 * every blank or 0 of its ranges, and must give the same: so every test of a function is one of all three hosts.
 */
import { expect } from "vitest";
import type { CustomFunction } from "../functions/declare";

const BLANKS = [null, "", 0] as const;

const isEmpty = (cell: unknown) => cell === null || cell === "" || cell === 0;

const isBlock = (argument: unknown): argument is unknown[] => Array.isArray(argument);

const cellsOf = (argument: unknown): unknown[] =>
  isBlock(argument) ? argument.flatMap((line) => (Array.isArray(line) ? line : [])) : [];

const filled = (argument: unknown[], blank: unknown) =>
  argument.map((line) => (Array.isArray(line) ? line.map((cell) => (isEmpty(cell) ? blank : cell)) : line));

/** An answer as the spreadsheet shows it: an error that is all of it comes out thrown. */
export function shownBy(fn: (...args: any[]) => any[][], args: readonly unknown[]): any[][] {
  try {
    return fn(...args);
  } catch (failure) {
    const { Error: HostError } = (globalThis as any).CustomFunctions;
    if (failure instanceof HostError) return [[failure]];
    throw failure;
  }
}

/** An error by what it says, anything else as it is. */
const comparable = (cell: any) =>
  typeof cell === "object" && cell !== null ? { code: cell.code, message: cell.message } : cell;

/** The function as each of the hosts calls it; it throws where their answers differ. */
export function onEveryHost(fn: CustomFunction): CustomFunction {
  const call = (...args: unknown[]) => {
    const out = shownBy(fn, args);
    // The units come bare, not in a block.
    const isBare = (i: number) => fn.args[i]?.kind === "units" && isEmpty(args[i]);
    if (!args.some((argument, i) => isBare(i) || cellsOf(argument).some(isEmpty))) return out;
    const wanted = out.map((line) => line.map(comparable));
    for (const blank of BLANKS) {
      const variant = args.map((argument, i) =>
        isBlock(argument) ? filled(argument, blank) : isBare(i) ? blank : argument,
      );
      const found = shownBy(fn, variant).map((line) => line.map(comparable));
      if (JSON.stringify(found) !== JSON.stringify(wanted)) {
        expect(found, `with blank cells as ${JSON.stringify(blank)}`).toEqual(wanted);
      }
    }
    return out;
  };
  return Object.assign(call, { gives: fn.gives, args: fn.args, body: fn.body, isInTurn: fn.isInTurn });
}
