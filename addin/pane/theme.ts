/** Light or dark as the spreadsheet is, and the Fluent tokens that go with it. */
import { type BrandVariants, createDarkTheme, createLightTheme } from "@fluentui/tokens";
import { setTheme } from "@fluentui/web-components/theme/set-theme.js";
import { themeFor } from "./ground";

// One accent in sixteen steps, dark to light: step 80 stands on light ground, step 100 on dark.
const ACCENT: BrandVariants = {
  10: "#06120f",
  20: "#0b1f1a",
  30: "#102b25",
  40: "#153830",
  50: "#1a453b",
  60: "#205347",
  70: "#285f53",
  80: "#2f6b5e",
  90: "#4a8c7c",
  100: "#63ab98",
  110: "#78b9a8",
  120: "#8dc6b7",
  130: "#a6d4c8",
  140: "#c0e2d9",
  150: "#d9eee9",
  160: "#eff8f5",
};

const THEMES = { light: createLightTheme(ACCENT), dark: createDarkTheme(ACCENT) };

const DARK_WISH = "(prefers-color-scheme: dark)";

const hostGround = () => (typeof Office === "undefined" ? undefined : Office.context?.officeTheme?.bodyBackgroundColor);

function applyTheme(): void {
  const theme = themeFor(hostGround(), matchMedia(DARK_WISH).matches);
  if (document.documentElement.dataset.theme === theme) return;
  document.documentElement.dataset.theme = theme;
  setTheme(THEMES[theme]);
}

/** Applies the theme now and whenever it may have changed: the spreadsheet tells no change, so a return to the pane asks. */
export function followTheme(): void {
  applyTheme();
  addEventListener("focus", applyTheme);
  matchMedia(DARK_WISH).addEventListener("change", applyTheme);
  if (typeof Office !== "undefined") Office.onReady().then(applyTheme);
}
