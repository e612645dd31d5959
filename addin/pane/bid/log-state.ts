/** What the log's card knows. Its changes are in `log-entry.ts`, which comes with the card. */
import type { LogKey } from "../../../functions/log/fields";
import type { ForemansList, Logged } from "../../sheet";

export interface LogState {
  /** Undefined until it was read; null where the workbook has no plan. */
  readonly logged: Logged | null | undefined;
  /** What the fields hold, as typed. */
  readonly typed: Readonly<Partial<Record<LogKey, string>>>;
  /** Whether the user has asked to add the line, and is told what is wrong with it. */
  readonly asked: boolean;
  /** What was billed, as typed; undefined for the price it was sold at. */
  readonly billed: string | undefined;
  /** A list of lines kept elsewhere, as it was read. */
  readonly list: ForemansList | null;
}

export const startLog = (): LogState => ({ logged: undefined, typed: {}, asked: false, billed: undefined, list: null });
