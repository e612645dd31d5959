/** How far long work is, and the way out. */
import { html } from "lit";
import { type Progress, progressWords } from "../jobs/state";
import { button } from "./button";

export const progressView = (progress: Progress, cancel: () => void) => html`
  <div class="progress">
    <label for="progress">${progressWords(progress)}</label>
    <progress id="progress" max=${progress.of} .value=${progress.done}></progress>
    ${button("Cancel", cancel, { id: "cancel", size: "small" })}
  </div>
`;

/** The focus goes back to where the command was given, if it went with the button that cancels. */
export function keepFocus(id: string): void {
  if (document.activeElement === document.body) document.getElementById(id)?.focus();
}
