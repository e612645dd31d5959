/** Which button a key presses. */
import { describe, expect, it, vi } from "vitest";

/** As much of a page as the keys need: the buttons by what they are found by. */
async function pageWith(buttons: readonly string[]) {
  const { followKeys } = await import("../../../addin/pane/keys");
  const pressed: string[] = [];
  const query = (selector: string) => {
    const found = buttons.find((keys) => selector.endsWith(`fluent-button[aria-keyshortcuts="${keys}"]`));
    return found === undefined ? null : { click: () => pressed.push(found) };
  };
  vi.stubGlobal("document", { querySelector: query });
  let press: (event: unknown) => void = () => undefined;
  followKeys({ addEventListener: (_: string, listener: typeof press) => (press = listener) } as any);
  const key = (name: string, held: Record<string, boolean> = {}) => {
    const event = {
      key: name,
      ...held,
      target: { closest: () => null },
      preventDefault: vi.fn(),
      stopPropagation: vi.fn(),
    };
    press(event);
    return event;
  };
  return { pressed, key };
}

const UNDO = "Control+Shift+Backspace Meta+Shift+Backspace";
const MAIN = "Control+Enter Meta+Enter";

describe("Ctrl+Shift+Backspace", () => {
  it("undoes what was done last, on a Mac with ⌘", async () => {
    const { pressed, key } = await pageWith([UNDO, MAIN]);
    key("Backspace", { ctrlKey: true, shiftKey: true });
    key("Backspace", { metaKey: true, shiftKey: true });
    expect(pressed).toEqual([UNDO, UNDO]);
  });

  it("is left to the page where there is nothing to undo, and Backspace alone is typing", async () => {
    const { pressed, key } = await pageWith([MAIN]);
    const event = key("Backspace", { ctrlKey: true, shiftKey: true });
    expect(event.preventDefault).not.toHaveBeenCalled();
    key("Backspace");
    key("Backspace", { ctrlKey: true });
    key("Enter", { ctrlKey: true });
    expect(pressed).toEqual([MAIN]);
  });
});
