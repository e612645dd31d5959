/** How far long work is, and the way out. */
import { html } from "lit";
import type { Progress } from "../cancelable";
import { FRAME } from "../texts";
import { button } from "./button";

export const progressView = ({ doing, done, of }: Progress, cancel: () => void) => html`
  <div class="progress">
    <label>
      ${FRAME.progress(doing, done, of)}
      <progress max=${of} .value=${done}></progress>
    </label>
    ${button(FRAME.cancel, cancel, { id: "cancel", size: "small" })}
  </div>
`;

/** The focus goes back to where the command was given, if it went with the button that cancels. */
export function keepFocus(id: string): void {
  if (document.activeElement === document.body) document.getElementById(id)?.focus();
}
