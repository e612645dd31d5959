/** The theme's tokens as styles, so that the pane need not carry what works them out. */
import { createDarkTheme, createLightTheme } from "@fluentui/tokens";

/** One accent in sixteen steps, dark to light: step 80 stands on light ground, step 100 on dark. */
const ACCENT = {
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

/** A block for all tokens in the light, and one for those that are others in the dark. */
export function themeStyles() {
  const light = createLightTheme(ACCENT);
  const dark = Object.entries(createDarkTheme(ACCENT)).filter(([token, value]) => light[token] !== value);
  const block = (selector, tokens) =>
    `${selector}{${tokens.map(([token, value]) => `--${token}:${value}`).join(";")}}\n`;
  return block(":root", Object.entries(light)) + block(':root[data-theme="dark"]', dark);
}
