/** Small line drawings for buttons; the buttons themselves carry the words. */
import { svg } from "lit";

const icon = (path: string) => svg`
  <svg viewBox="0 0 20 20" width="20" height="20" aria-hidden="true" focusable="false">
    <path d=${path} fill="none" stroke="currentColor" stroke-width="1.5" stroke-linecap="round" stroke-linejoin="round" />
  </svg>`;

export const ICONS = {
  up: icon("M10 16V4M5 9l5-5 5 5"),
  down: icon("M10 4v12M5 11l5 5 5-5"),
  remove: icon("M5 5l10 10M15 5L5 15"),
  // A cell with an arrow coming out of it.
  takeFromCell: icon("M3 8V4h14v12H3v-4M3 10h9M9 7l3 3-3 3"),
  unlink: icon("M8 6H6a4 4 0 0 0 0 8h2M12 6h2a4 4 0 0 1 0 8h-2M4 3l12 14"),
};
