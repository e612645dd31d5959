/**
 * Runs in the pane's frame before office.js, and gives it the host that it looks for on Windows: here, the embedded
 * spreadsheet of the page around the frame. The pane may be ready before the spreadsheet: then its requests wait.
 */
import { type AnsweringHost, installExternal } from "./host/external";
import { previewOf } from "./window";

/** The client's own, without public types; its version is pinned. */
declare const OfficeExt: { OfficeTheme: { OfficeThemeManager: { _osfOfficeThemeCacheValidPeriod: number } } };

const preview = previewOf(window.parent);

const hostToCome: AnsweringHost = {
  process: async (batch) => (await preview.host).process(batch),
  file: async () => (await preview.host).file(),
  onMessages: (listener) => {
    const listening = preview.host.then((host) => host.onMessages(listener));
    return () => listening.then((stop) => stop());
  },
};

installExternal(window, hostToCome, { theme: () => preview.theme });

addEventListener("load", async () => {
  await Office.onReady();
  await preview.host;
  document.documentElement.dataset.demo = "ready";
  // The client remembers its host for the tab, and would wait in vain for it in a plain page opened there later.
  sessionStorage.removeItem("hostInfoValue");
  // It also holds on to the theme for five seconds; the page's switch is to show at once.
  OfficeExt.OfficeTheme.OfficeThemeManager._osfOfficeThemeCacheValidPeriod = 0;
});
