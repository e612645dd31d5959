/**
 * Shows what the pane left for this window (addin/pane/command-notice.ts). It comes through the browser's storage, not
 * the address, so that nobody can make a link that puts words into this page.
 */
const KEY = "gritledger-notice";

try {
  const text = localStorage.getItem(KEY);
  if (text) document.getElementById("notice").textContent = text;
  localStorage.removeItem(KEY);
} catch {
  // Storage may be switched off; the page's own words stay.
}
