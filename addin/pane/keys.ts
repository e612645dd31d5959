/** The keys of the pane: for the main command of the view in sight, for the button beside a field, and for undoing. */
const isMac = typeof navigator !== "undefined" && navigator.userAgent.includes("Mac");

export const MAIN_KEY = isMac ? "⌘Enter" : "Ctrl+Enter";
/** As `aria-keyshortcuts` has them. */
export const MAIN_KEYS = "Control+Enter Meta+Enter";

export const FIELD_KEY = isMac ? "⌥Enter" : "Alt+Enter";
export const FIELD_KEYS = "Alt+Enter";

export const UNDO_KEY = isMac ? "⌘⇧⌫" : "Ctrl+Shift+Backspace";
export const UNDO_KEYS = "Control+Shift+Backspace Meta+Shift+Backspace";

/** The key presses the very button that says it has it, so no view has to know of the key. */
export function followKeys(page: HTMLElement): void {
  // Before the button that has the focus takes the key for itself.
  page.addEventListener("keydown", press, { capture: true });
}

/** Views that are out of sight keep what they last showed. */
const IN_SIGHT = ':is(footer, [role="tabpanel"]:not([hidden]))';

function buttonFor({ key, ctrlKey, metaKey, altKey, shiftKey, target }: KeyboardEvent): HTMLElement | null | undefined {
  const button = (keys: string) => `fluent-button[aria-keyshortcuts="${keys}"]`;
  if (key === "Backspace" && shiftKey && (ctrlKey || metaKey))
    return document.querySelector<HTMLElement>(button(UNDO_KEYS));
  if (key !== "Enter") return null;
  if (ctrlKey || metaKey) return document.querySelector<HTMLElement>(`${IN_SIGHT} ${button(MAIN_KEYS)}`);
  return altKey ? (target as Element).closest(".control")?.querySelector<HTMLElement>(button(FIELD_KEYS)) : null;
}

function press(event: KeyboardEvent): void {
  const button = buttonFor(event);
  if (!button) return;
  event.preventDefault();
  event.stopPropagation();
  if (!event.repeat) button.click();
}

const controlsOf = (toolbar: EventTarget | null) => [
  ...(toolbar as HTMLElement).querySelectorAll<HTMLElement>("select, fluent-button"),
];

/** Left and right arrow keys move within a toolbar, which has one tab stop: its first control, or the one in use. */
export const toolbarKeys = {
  move(event: KeyboardEvent): void {
    const by = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (by === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    const controls = controlsOf(event.currentTarget);
    // On some systems these keys would choose another option.
    event.preventDefault();
    controls[controls.indexOf(event.target as HTMLElement) + by]?.focus();
  },

  enter(event: FocusEvent): void {
    for (const control of controlsOf(event.currentTarget)) control.tabIndex = control === event.target ? 0 : -1;
  },

  leave(event: FocusEvent): void {
    if ((event.currentTarget as HTMLElement).contains(event.relatedTarget as Node | null)) return;
    for (const [at, control] of controlsOf(event.currentTarget).entries()) control.tabIndex = at === 0 ? 0 : -1;
  },
};
