/** What the Share view knows. Its changes are in `choice.ts` and `made.ts`, which come with the view. */
import type { Made } from "../../share/copies";
import type { CellsFound, SheetFound } from "../../sheet";
import type { Progress } from "../cancelable";

export type { Made };

export const KINDS = ["calculating", "price"] as const;
export type Kind = (typeof KINDS)[number];

export interface ShareState {
  readonly kind: Kind;
  readonly sheets: readonly SheetFound[];
  /** Sheets that the price-only copy has as a whole. */
  readonly ticked: readonly string[];
  /** Ranges that it has. */
  readonly ranges: readonly CellsFound[];
  /** What will happen; nothing before that was asked, and after another choice. */
  readonly made: Made | null;
  /** How far the copy is that is being made. */
  readonly progress: Progress | null;
}

export const startShare = (): ShareState => ({
  kind: "calculating",
  sheets: [],
  ticked: [],
  ranges: [],
  made: null,
  progress: null,
});
