/** Whether the spreadsheet around the pane is light or dark. */
export type ThemeName = "light" | "dark";

/** Nearer to black than to white by the eye's weights of red, green and blue (Rec. 601); undefined for no color. */
export function isDark(color: string): boolean | undefined {
  const match = /^#?([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})(?:[0-9a-f]{2})?$/i.exec(color);
  if (!match) return undefined;
  const [red = 0, green = 0, blue = 0] = match.slice(1, 4).map((byte) => Number.parseInt(byte, 16));
  return 0.299 * red + 0.587 * green + 0.114 * blue < 128;
}

/** The spreadsheet's own ground decides; where it tells none, the system's wish does. */
export function themeFor(ground: string | undefined, systemIsDark: boolean): ThemeName {
  return (isDark(ground ?? "") ?? systemIsDark) ? "dark" : "light";
}
