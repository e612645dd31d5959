/** A view with its commands, as the frame around it knows it. */
import type { TemplateResult } from "lit";
import type { State } from "./state";

/** How a view keeps up with what it shows, from the workbook or from elsewhere. */
export interface Reads {
  readonly needsWorkbook: boolean;
  readonly isToRead: (state: State) => boolean;
  readonly read: () => Promise<void>;
}

export interface Feature extends Reads {
  page(): TemplateResult;
  /** What stays in sight at the end of the pane. */
  footer?(): TemplateResult;
}
