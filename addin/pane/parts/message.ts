/** What the last command has to say, and the question it may have. */
import "@fluentui/web-components/message-bar/define.js";
import { html, nothing } from "lit";
import type { Commands } from "../actions";
import { undoableBesides } from "../messages";
import type { Message, Question, State } from "../state";
import { button, iconButton } from "./button";
import { ICONS } from "./icons";

const INTENTS = { done: "success", note: "info", error: "error" } as const;

/** Two live regions that stay in the page, because only then is what appears in them read out. */
export function messages(state: State, commands: Commands) {
  const { message, announcement, question, busy, turnedAway } = state;
  const isError = message?.kind === "error";
  return html`
    <div role="status" class="live">
      ${busy || turnedAway ? html`<p class="busy">${turnedAway || busy}</p>` : nothing}
      ${message && !isError ? bar(message, commands) : nothing}
    </div>
    <div role="status" class="visually-hidden">${announcement}</div>
    <div role="alert" class="live">${message && isError ? bar(message, commands) : nothing}</div>
    ${question ? dialog(question, commands) : undoLast(state, commands)}
  `;
}

function bar(message: Message, commands: Commands) {
  const { inserted } = message;
  return html`
    <fluent-message-bar role="group" aria-label="Message" intent=${INTENTS[message.kind]} layout=${inserted ? "multiline" : nothing}>
      <span class="message">${message.text}</span>
      ${inserted ? button("Undo", () => commands.undo(inserted), { slot: "actions", size: "small" }) : nothing}
      ${iconButton("Dismiss the message", ICONS.remove, commands.dismiss, { slot: "dismiss" })}
    </fluent-message-bar>
  `;
}

/** Stays when another message takes the place of the one that offered it. */
function undoLast(state: State, commands: Commands) {
  const last = undoableBesides(state);
  if (!last) return nothing;
  return html`
    <div class="undo-last">
      ${button(`Undo: ${last.what}`, () => commands.undo(last), { size: "small" })}
    </div>
  `;
}

function dialog({ what, question }: Question, commands: Commands) {
  const onKey = (event: KeyboardEvent) => {
    if (event.key === "Escape") commands.answer(false);
  };
  return html`
    <div role="alertdialog" aria-labelledby="question" aria-describedby="question-why" class="question" @keydown=${onKey}>
      <p id="question-why">${what}</p>
      <p id="question">${question}</p>
      <div class="row">
        ${button("Yes", () => commands.answer(true))} ${button("No", () => commands.answer(false), { id: "answer-no" })}
      </div>
    </div>
  `;
}
