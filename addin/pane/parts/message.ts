/** What the last command has to say, and the question it may have. */
import "@fluentui/web-components/message-bar/define.js";
import { html, nothing } from "lit";
import type { Pane } from "../commands";
import { type Message, type Question, undoableBesides } from "../messages";
import { FRAME } from "../texts";
import { button, iconButton } from "./button";
import { ICONS } from "./icons";

const INTENTS = { done: "success", note: "info", error: "error" } as const;

/** Two live regions that stay in the page, because only then is what appears in them read out. */
export function messages(pane: Pane) {
  const { message, announcement, question, busy, turnedAway } = pane.store.state;
  const isError = message?.kind === "error";
  return html`
    <div role="status" class="live">
      ${busy || turnedAway ? html`<p class="busy">${turnedAway || busy?.busy}</p>` : nothing}
      ${message && !isError ? bar(message, pane) : nothing}
    </div>
    <div role="status" class="visually-hidden">${announcement}</div>
    <div role="alert" class="live">${message && isError ? bar(message, pane) : nothing}</div>
    ${question ? dialog(question, pane) : undoLast(pane)}
  `;
}

function bar({ kind, text, inserted }: Message, pane: Pane) {
  return html`
    <fluent-message-bar role="group" aria-label=${FRAME.message} intent=${INTENTS[kind]} layout=${inserted ? "multiline" : nothing}>
      <span class="message">${text}</span>
      ${inserted ? button(FRAME.undo, () => pane.undo(inserted), { slot: "actions", size: "small", undoes: true }) : nothing}
      ${iconButton(FRAME.dismiss, ICONS.remove, () => pane.show(null), { slot: "dismiss" })}
    </fluent-message-bar>
  `;
}

/** Stays when another message takes the place of the one that offered it. */
function undoLast(pane: Pane) {
  const last = undoableBesides(pane.store.state);
  if (!last) return nothing;
  return html`
    <div class="undo-last">
      ${button(FRAME.undoLast(last.what), () => pane.undo(last), { size: "small", undoes: true })}
    </div>
  `;
}

function dialog({ what, question }: Question, pane: Pane) {
  const onKey = (event: KeyboardEvent) => {
    if (event.key === "Escape") pane.answer(false);
  };
  return html`
    <div role="alertdialog" aria-labelledby="question" aria-describedby="question-why" class="question" @keydown=${onKey}>
      <p id="question-why">${what}</p>
      <p id="question">${question}</p>
      <div class="row">
        ${button(FRAME.yes, () => pane.answer(true))} ${button(FRAME.no, () => pane.answer(false), { id: "answer-no" })}
      </div>
    </div>
  `;
}
