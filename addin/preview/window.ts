/** What the preview's scripts share: they are bundled apart, and meet in the page's window. */
import type { Host } from "./host/host";

export type Theme = "light" | "dark";

export interface GritPreview {
  theme: Theme;
  /** Calls back with the theme now and whenever it changes. */
  followTheme(follow: (theme: Theme) => void): void;
  /** Answers the pane's requests; there as soon as the workbook is. */
  host: Promise<Host>;
  provideHost(host: Host): void;
  /** Settles when the grid is drawn. */
  ready?: Promise<void>;
}

declare global {
  interface Window {
    gritPreview?: GritPreview;
  }
}

/** The preview of this window, or for the pane of the window around its frame. */
export function previewOf(page: Window): GritPreview {
  if (!page.gritPreview) throw new Error("This opens only inside the preview.");
  return page.gritPreview;
}

export function element<Kind extends HTMLElement>(id: string): Kind {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no #${id}`);
  return found as Kind;
}
