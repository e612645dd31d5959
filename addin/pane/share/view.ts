/** The Share view: a copy of the workbook for partners who have no add-in, first shown and then opened. */
import { html, nothing } from "lit";
import { problem } from "../messages";
import { button } from "../parts/button";
import { keepFocus, progressView } from "../parts/progress";
import { unavailable } from "../state";
import { chooseKind, openTrouble, shareTrouble } from "./choice";
import type { ShareContext } from "./context";
import { choiceView } from "./parts/choice";
import { reportView } from "./parts/report";
import { KINDS } from "./state";
import { SHARE } from "./texts";

export function shareView(context: ShareContext) {
  return html`
    <section class="card" aria-labelledby="share-title">
      <h2 id="share-title">${SHARE.title}</h2>
      <p>${SHARE.intro}</p>
      ${kindsView(context)}
    </section>
    ${context.share.state.kind === "price" ? choiceView(context) : nothing} ${makingView(context)}
  `;
}

function kindsView({ share }: ShareContext) {
  return html`
    <fieldset class="kinds">
      <legend class="visually-hidden">${SHARE.kindOfCopy}</legend>
      ${KINDS.map(
        (kind) => html`
          <div class="kind">
            <input
              type="radio"
              name="kind"
              id="kind-${kind}"
              aria-describedby="kind-text-${kind}"
              .checked=${share.state.kind === kind}
              @change=${() => share.change((now) => chooseKind(now, kind))}
            >
            <label for="kind-${kind}">${SHARE.kinds[kind].title}</label>
            <p class="note" id="kind-text-${kind}">${SHARE.kinds[kind].text}</p>
          </div>
        `,
      )}
    </fieldset>
  `;
}

/** The two steps; the second waits for the first. */
function makingView({ pane, share, commands }: ShareContext) {
  const { made, progress } = share.state;
  const absent = unavailable(pane.store.state);
  const cannotSee = absent || shareTrouble(share.state);
  const cannotOpen = absent || openTrouble(share.state);
  const start = (id: string, stopped: string, command: () => Promise<void>) => {
    // While another command runs, this one is turned away in words.
    if (stopped && !pane.store.state.busy) pane.show(problem(stopped));
    else void command().then(() => keepFocus(id));
  };
  return html`
    <section class="card" aria-labelledby="making-title">
      <h2 id="making-title">${SHARE.happenTitle}</h2>
      <div class="row">
        ${button(SHARE.see, () => start("see-copy", cannotSee, commands.see), {
          id: "see-copy",
          main: !made,
          stopped: cannotSee,
          describedBy: "share-why",
        })}
      </div>
      ${progress ? progressView(progress, commands.cancel) : nothing}
      ${made ? reportView(made) : nothing}
      <div class="row">
        ${button(SHARE.open, () => start("open-copy", cannotOpen, commands.open), {
          id: "open-copy",
          main: made !== null,
          stopped: cannotOpen,
          describedBy: "share-why open-note",
        })}
      </div>
      <p id="share-why" class="why">${cannotOpen}</p>
      <p id="open-note" class="note">${SHARE.openNote}</p>
    </section>
  `;
}
