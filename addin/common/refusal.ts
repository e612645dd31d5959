/** What stops a command, in words for the user. */
export class Refusal extends Error {}

/** What was to be undone is not in the workbook any more. */
export class Gone extends Refusal {}

/** A command that goes on only if the user says yes to this. */
export class NeedsAnswer extends Refusal {
  constructor(
    message: string,
    readonly question: string,
  ) {
    super(message);
  }
}

/**
 * What the user has said yes to: the message of a `NeedsAnswer`, so that a yes counts only for what was asked, should
 * the selection or the cells have changed in the meantime. `true` is a yes to whatever would be asked.
 */
export type Consent = string | boolean;

export const isAgreed = (agreed: Consent, message: string) => agreed === true || agreed === message;
