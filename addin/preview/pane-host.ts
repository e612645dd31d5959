/**
 * Runs in the pane's frame before office.js, and gives it the host that it looks for on Windows: here, the embedded
 * spreadsheet of the page around the frame.
 */
import { installExternal } from "./host/external";

/** The client's own, without public types; its version is pinned. */
declare const OfficeExt: { OfficeTheme: { OfficeThemeManager: { _osfOfficeThemeCacheValidPeriod: number } } };

const preview = window.parent.gritPreview;
if (!preview?.host) throw new Error("This page opens only inside the preview.");

installExternal(window, preview.host, { theme: () => preview.theme });

addEventListener("load", async () => {
  await Office.onReady();
  // The client remembers its host for the tab, and would wait in vain for it in a plain page opened there later.
  sessionStorage.removeItem("hostInfoValue");
  // It also holds on to the theme for five seconds; the page's switch is to show at once.
  OfficeExt.OfficeTheme.OfficeThemeManager._osfOfficeThemeCacheValidPeriod = 0;
});
