/** How much room text takes. guess(wrapped-row-height): a host measures with the font; an average character is near enough for a preview. */
import type { IStyleData } from "@univerjs/core";

export const DEFAULT_FONT_SIZE = 11;
export const DEFAULT_ROW_HEIGHT = 20;
/** The engine's number for wrapped text. */
export const WRAP = 3;

const POINTS_IN_A_PIXEL = 0.75;
const CHARACTER_WIDTH = 0.49;
const BOLD_CHARACTER_WIDTH = 0.53;
const LINE_HEIGHT = 1.25;
const PADDING = 2;
const SIDE_PADDING = 6;

const fontPixels = (style: IStyleData) => (style.fs ?? DEFAULT_FONT_SIZE) / POINTS_IN_A_PIXEL;

const textWidth = (text: string, style: IStyleData): number =>
  text.length * fontPixels(style) * (style.bl ? BOLD_CHARACTER_WIDTH : CHARACTER_WIDTH);

/** The height of a row that shows this text in a column of this width. */
export function textHeight(text: string, style: IStyleData, columnWidth: number): number {
  const space = Math.max(1, columnWidth - SIDE_PADDING);
  const linesOf = (line: string) => Math.max(1, Math.ceil(textWidth(line, style) / space));
  const wraps = style.tb === WRAP;
  const lines = wraps ? text.split("\n").reduce((sum, line) => sum + linesOf(line), 0) : 1;
  const height = Math.ceil(lines * fontPixels(style) * LINE_HEIGHT + PADDING);
  return Math.max(DEFAULT_ROW_HEIGHT, height);
}
