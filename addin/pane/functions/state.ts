/** What the Functions view knows. */
import type { CellMath } from "../../sheet";
import type { Progress } from "../cancelable";
import type { Catalogue } from "./catalogue";
import type { Found } from "./repair";

export interface FunctionsState {
  /** Null until it is read. */
  readonly catalogue: Catalogue | null;
  readonly search: string;
  /** The math of a cell, as it was when the user asked; the selection may have moved on since. */
  readonly math: CellMath | null;
  readonly repair: RepairState;
  readonly installation: InstallationState;
}

export interface RepairState {
  readonly found: Found | null;
  readonly progress: Progress | null;
}

/** What the last check of this installation came to. */
export interface InstallationState {
  readonly report: { readonly digest: string; readonly isWell: boolean; readonly text: string } | null;
  readonly progress: Progress | null;
}

export const startFunctions = (): FunctionsState => ({
  catalogue: null,
  search: "",
  math: null,
  repair: { found: null, progress: null },
  installation: { report: null, progress: null },
});
