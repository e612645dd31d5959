/** What stops a command, in words for the user. */
export class Refusal extends Error {}

/** A command that goes on only if the user says yes to this. */
export class NeedsAnswer extends Refusal {
  constructor(
    message: string,
    readonly question: string,
  ) {
    super(message);
  }
}
