/**
 * What a command of the ribbon or of a cell's menu couldn't do by itself. The pane may be closed then, and can't open
 * itself everywhere, so a small window says it: Excel opens one for a command too. The pane keeps message and question.
 */

/** Where the window's page (manifest/pages/notice.js) looks for the words. */
const KEY = "gritledger-notice";
/** Of the screen, in percent. */
const SIZE = { height: 30, width: 30 };

interface Said {
  readonly turnedAway: string;
  readonly message: { readonly kind: string; readonly text: string } | null;
  readonly question: { readonly what: string; readonly question: string } | null;
}

/** What must be read now; empty when the command did its work. */
export function noticeOf({ turnedAway, message, question }: Said): string {
  if (question) return [turnedAway, question.what, question.question].filter(Boolean).join(" ");
  return turnedAway || (message?.kind === "error" ? message.text : "");
}

/** The window of the last notice: Excel opens one at a time. */
let last: Office.Dialog | undefined;

function closeLast(): void {
  try {
    last?.close();
  } catch {
    // The user has closed it.
  }
  last = undefined;
}

/** Resolves when the window is there, or can't be: the pane still has the words. */
export function showNotice(text: string): Promise<void> {
  try {
    localStorage.setItem(KEY, text);
  } catch {
    // Storage may be switched off; the window then says only that something happened.
  }
  closeLast();
  const address = new URL("notice.html", location.href).href;
  return new Promise((resolve) => {
    // In a frame, since Excel on the web opened no window of its own for a shared runtime (Excel-Custom-Functions#275).
    Office.context.ui.displayDialogAsync(address, { ...SIZE, displayInIframe: true }, ({ value }) => {
      last = value;
      resolve();
    });
  });
}
