/** What the making of a copy did, for its report and its note sheet. */
import type { Worded } from "../copy-texts";

/** A formula that the copy does not have, and why. */
export interface Kept {
  /** Empty for what belongs to the whole workbook. */
  readonly sheet: string;
  /** A cell, or what else had the formula. */
  readonly place: string;
  readonly formula: string;
  readonly reason: Worded;
}

export class Log {
  readonly values: Kept[] = [];
  readonly counts = new Map<string, number>();
  formulas = 0;
  /** Cells that became a value which is an error. */
  errors = 0;

  translated(functions: readonly string[]): void {
    if (functions.length > 0) this.formulas++;
    for (const name of functions) this.counts.set(name, (this.counts.get(name) ?? 0) + 1);
  }

  kept(one: Kept): void {
    this.values.push(one);
  }

  /** How often each function was made plain, by name. */
  functions(): Record<string, number> {
    return Object.fromEntries([...this.counts].sort(([a], [b]) => a.localeCompare(b)));
  }
}
