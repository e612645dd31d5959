/** Fluent buttons. Their role is stated, because not every reader of a page asks the element's internals for it. */
import "@fluentui/web-components/button/define.js";
import { html, nothing } from "lit";
import { MAIN_KEY, MAIN_KEYS, UNDO_KEY, UNDO_KEYS } from "../keys";

interface Look {
  readonly id?: string;
  /** What it is called where its words alone do not say enough. */
  readonly label?: string;
  readonly size?: "small";
  readonly appearance?: "primary" | "subtle";
  /** The view's main command, of which there is one at a time: it is the one that a key gives too. */
  readonly main?: boolean;
  /** Takes back what was done last, as a key does too. */
  readonly undoes?: boolean;
  /** The place in the element around it. */
  readonly slot?: string;
  /** Why it cannot be used at this moment: it then looks so, yet keeps the focus and says why. */
  readonly stopped?: string;
  readonly describedBy?: string;
}

/** The second click of a double click is not meant: it would run a quick command twice. */
const once = (act: () => void) => (event: MouseEvent) => {
  if (event.detail <= 1) act();
};

export const button = (words: string, act: () => void, look: Look = {}) => html`
  <fluent-button
    role="button"
    id=${look.id ?? nothing}
    slot=${look.slot ?? nothing}
    size=${look.size ?? nothing}
    appearance=${look.main ? "primary" : (look.appearance ?? nothing)}
    aria-label=${look.label ?? nothing}
    aria-disabled=${look.stopped ? "true" : nothing}
    aria-describedby=${look.describedBy ?? nothing}
    aria-keyshortcuts=${look.main ? MAIN_KEYS : look.undoes ? UNDO_KEYS : nothing}
    title=${look.undoes ? UNDO_KEY : nothing}
    @click=${once(act)}
  >${words}${look.main ? html`<span class="key" slot="end" aria-hidden="true">${MAIN_KEY}</span>` : nothing}</fluent-button>
`;

/** A button that shows a drawing and says its words. */
export const iconButton = (
  words: string,
  icon: unknown,
  act: () => void,
  look: Pick<Look, "id" | "slot"> & { readonly tabindex?: number; readonly keys?: string } = {},
) => html`
  <fluent-button
    role="button"
    id=${look.id ?? nothing}
    slot=${look.slot ?? nothing}
    tabindex=${look.tabindex ?? nothing}
    appearance="subtle"
    size="small"
    icon-only
    aria-label=${words}
    aria-keyshortcuts=${look.keys ?? nothing}
    title=${words}
    @click=${act}
  >${icon}</fluent-button>
`;
