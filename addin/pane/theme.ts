/** Light or dark as the spreadsheet is; the Fluent tokens that go with it are styles (`manifest/build/theme.mjs`). */
import { themeFor } from "./background";

const DARK_WISH = "(prefers-color-scheme: dark)";

const hostGround = () => (typeof Office === "undefined" ? undefined : Office.context?.officeTheme?.bodyBackgroundColor);

function applyTheme(): void {
  document.documentElement.dataset.theme = themeFor(hostGround(), matchMedia(DARK_WISH).matches);
}

/** Applies the theme now and whenever it may have changed: the spreadsheet reports no change, so a return to the pane asks. */
export function followTheme(): void {
  applyTheme();
  addEventListener("focus", applyTheme);
  matchMedia(DARK_WISH).addEventListener("change", applyTheme);
  if (typeof Office !== "undefined") Office.onReady().then(applyTheme);
}
