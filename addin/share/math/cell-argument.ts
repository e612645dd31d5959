import type { Parameter } from "../arguments";
import type { Block, Cell } from "./values";

/** An argument in one cell of a call's answer. */
export interface CellArgument {
  readonly parameter: Parameter;
  /** Its text in the formula; empty where it is left out. */
  readonly text: string;
  /** All its cells; undefined where they are not known. */
  readonly block: Block | undefined;
  /** The one that counts here. */
  readonly cell: Cell | undefined;
  /** Where a list stands. */
  readonly address: string | undefined;
}
