/**
 * What stops a command: a typed reason, and the words for it. Code compares kinds and facts, never words, so the texts of
 * one area stand together in one table, where they can be read through and translated.
 *
 *   const refuse = refusalsOf({
 *     sheetProtected: () => "This sheet is protected. Unprotect it or use a new sheet.",
 *     tableInTheWay: ({ table, at }: { table: string; at: string }) => `The table ${table} overlaps ${at}. …`,
 *   });
 *   throw refuse("tableInTheWay", { table: "Quotes", at: "Sheet1!B4:F9" });
 */
type Fact = string | number | boolean | null | undefined | readonly Fact[] | { readonly [name: string]: Fact };

export interface Reason {
  readonly kind: string;
  /** What its words are made of, as plain values. */
  readonly facts: { readonly [name: string]: Fact };
}

/** What stops a command, in words for the user. */
export class Refusal extends Error {
  constructor(
    message: string,
    readonly reason?: Reason,
  ) {
    super(message);
  }
}

/** What was to be undone is not in the workbook any more. */
export class Gone extends Refusal {}

/** A command that goes on only if the user says yes to this. */
export class NeedsAnswer extends Refusal {
  constructor(
    message: string,
    readonly question: string,
    readonly asked: Reason,
  ) {
    super(message, asked);
  }
}

/**
 * What the user has said yes to: what a `NeedsAnswer` asked, so that a yes counts only for that, should the selection or
 * the cells have changed in the meantime. `true` is a yes to whatever would be asked.
 */
export type Consent = Reason | boolean;

export const isAgreed = (agreed: Consent, asked: Reason): boolean =>
  typeof agreed === "boolean" ? agreed : agreed.kind === asked.kind && isSame(agreed.facts, asked.facts);

/** Stops a command with its question, unless the user has said yes to just that. */
export function needYes(agreed: Consent, question: NeedsAnswer): void {
  if (!isAgreed(agreed, question.asked)) throw question;
}

type Words<Text> = Readonly<Record<string, (facts: any) => Text>>;
/** No facts where the words need none. */
type Needs<Text extends Words<unknown>, Kind extends keyof Text> = Parameters<Text[Kind]>;

type Made<Stop> = new (message: string, reason: Reason) => Stop;

/** Makes the refusals of one area from the table of their words; or another kind of error. */
export function refusalsOf<Texts extends Words<string>, Stop extends Error = Refusal>(
  texts: Texts,
  Kind: Made<Stop> = Refusal as unknown as Made<Stop>,
) {
  return <K extends keyof Texts & string>(kind: K, ...[facts = {}]: Needs<Texts, K>): Stop =>
    new Kind(texts[kind]!(facts), { kind, facts });
}

/** Makes the questions of one area from the table of their words: what is at stake, and what to answer yes to. */
export function questionsOf<Texts extends Words<readonly [what: string, question: string]>>(texts: Texts) {
  return <K extends keyof Texts & string>(kind: K, ...[facts = {}]: Needs<Texts, K>): NeedsAnswer =>
    new NeedsAnswer(...texts[kind]!(facts), { kind, facts });
}

function isSame(a: Fact, b: Fact): boolean {
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return a === b;
  const [left, right] = [Object.entries(a), Object.entries(b)];
  return (
    left.length === right.length && left.every(([key, fact]) => key in b && isSame(fact, (b as Reason["facts"])[key]))
  );
}
