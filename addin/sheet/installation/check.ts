/** One thing that the add-in relies on, and how to try it in whatever Excel this is. */
import type { Scratch } from "./scratch";

export interface Check {
  /** What a guess in the emulated host names it by. */
  readonly id: string;
  /** What is tried. */
  readonly words: string;
  /** What is to happen; any of these. */
  readonly expects: string | readonly string[];
  /** Nobody has seen a real Excel do it. */
  readonly isGuess?: true;
  /** Tries it, and tells what happened. What Excel refuses counts as what happened, by its code. */
  readonly run: (scratch: Scratch) => Promise<string>;
}

/** Thrown by what can't be tried in this Excel, with the reason. */
export class CantTry extends Error {}

/** What can be tried nowhere by itself, with the reason. */
export const untriable = (id: string, words: string, expects: string, why: string): Check => ({
  id,
  words,
  expects,
  isGuess: true,
  run: async () => {
    throw new CantTry(why);
  },
});

export type Outcome =
  | { readonly kind: "held"; readonly got: string }
  | { readonly kind: "differs"; readonly got: string }
  | { readonly kind: "untried"; readonly why: string };

export const shown = (value: unknown): string => JSON.stringify(value) ?? "nothing";

/** The code of what Excel refused, the reason of what we did, or the words of any other error. */
export function codeOf(error: unknown): string {
  const { code, reason, message } = error as { code?: unknown; reason?: { kind: string }; message?: unknown };
  if (typeof code === "string" || typeof code === "number") return String(code);
  // Not the words of our own refusals, which may name the user's sheets.
  return reason ? `refused: ${reason.kind}` : `error: ${String(message ?? error)}`;
}
