/** What a command says without a pane: which words, by which window, and what the window's own page makes of them. */
import { readFileSync } from "node:fs";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { noticeOf, showNotice } from "../../../addin/pane/command-notice";

const quiet = { turnedAway: "", message: null, question: null };
const question = { what: "3 cells aren't empty.", question: "Replace them?" };

it.each([
  ["nothing where all went well", { ...quiet, message: { kind: "done", text: "Inserted." } }, ""],
  ["nothing of a note", { ...quiet, message: { kind: "note", text: "Nothing was changed." } }, ""],
  ["an error", { ...quiet, message: { kind: "error", text: "The sheet is protected." } }, "The sheet is protected."],
  ["a question", { ...quiet, question }, "3 cells aren't empty. Replace them?"],
  ["that another command runs", { ...quiet, turnedAway: "Still inserting." }, "Still inserting."],
  [
    "the question that waits for an answer",
    { ...quiet, turnedAway: "Answer the question first.", question },
    "Answer the question first. 3 cells aren't empty. Replace them?",
  ],
])("says %s", (_, state, text) => {
  expect(noticeOf(state)).toBe(text);
});

let stored: Map<string, string>;
const close = vi.fn();
const displayDialogAsync = vi.fn((_address: string, _options: object, opened: (result: object) => void) =>
  opened({ value: { close } }),
);

beforeEach(() => {
  stored = new Map();
  vi.stubGlobal("localStorage", {
    getItem: (key: string) => stored.get(key) ?? null,
    setItem: (key: string, text: string) => stored.set(key, text),
    removeItem: (key: string) => stored.delete(key),
  });
  vi.stubGlobal("location", { href: "https://floors.example/grit/pane.html?namespace=GRITDEV#plan" });
  vi.stubGlobal("Office", { context: { ui: { displayDialogAsync } } });
});
afterEach(() => {
  vi.unstubAllGlobals();
  vi.clearAllMocks();
});

/** Runs the script of the window's page and returns what the page then says. */
function pageSays(): string {
  const notice = { textContent: "The command didn't finish." };
  const document = { getElementById: (id: string) => (id === "notice" ? notice : null) };
  new Function("document", readFileSync("manifest/pages/notice.js", "utf8"))(document);
  return notice.textContent;
}

it("opens our own page, beside the pane's and without its query, and the page shows the words once", async () => {
  await showNotice("The sheet is protected.");
  expect(displayDialogAsync.mock.calls[0]![0]).toBe("https://floors.example/grit/notice.html");
  expect(displayDialogAsync.mock.calls[0]![1]).toMatchObject({ displayInIframe: true });
  expect(pageSays()).toBe("The sheet is protected.");
  expect(pageSays()).toBe("The command didn't finish.");
});

it("opens the window all the same where the browser stores nothing", async () => {
  vi.stubGlobal("localStorage", {
    getItem: () => {
      throw new Error("denied");
    },
    setItem: () => {
      throw new Error("denied");
    },
  });
  await showNotice("The sheet is protected.");
  expect(displayDialogAsync).toHaveBeenCalledTimes(1);
  expect(pageSays()).toBe("The command didn't finish.");
});

it("closes the window before, which the user may have closed already", async () => {
  await showNotice("The sheet is protected.");
  close.mockClear();
  close.mockImplementationOnce(() => {
    throw new Error("no such dialog");
  });
  await showNotice("A cell is being edited.");
  expect(close).toHaveBeenCalledTimes(1);
  expect(displayDialogAsync).toHaveBeenCalledTimes(2);
  expect(pageSays()).toBe("A cell is being edited.");
});

it("ends all the same where no window can be opened", async () => {
  displayDialogAsync.mockImplementationOnce((_address, _options, opened) => opened({ error: { code: 12009 } }));
  await expect(showNotice("The sheet is protected.")).resolves.toBeUndefined();
});
