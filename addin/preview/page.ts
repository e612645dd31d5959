/**
 * The page around the grid, which is there long before the grid: the theme, the pane's width, and the pane itself, whose
 * requests wait until there is a host to answer them.
 */
import type { Host } from "./host/host";
import { element, type GritPreview, type Theme } from "./window";

const PANE_WIDTHS = [350, 320] as const;

/** What the address asks for: `?theme=dark`, `?pane=320`. */
const asked = new URLSearchParams(location.search);
const pane = element<HTMLIFrameElement>("pane");

const followers: ((theme: Theme) => void)[] = [];

const preview: GritPreview = {
  theme: startTheme(),
  followTheme: (follow) => {
    followers.push(follow);
    follow(preview.theme);
  },
  ...hostToCome(),
};

window.gritPreview = preview;
preview.followTheme(showTheme);
element("theme").addEventListener("click", switchTheme);
switchPaneWidth(element("pane-width"));
pane.src = "pane.html";

function hostToCome(): Pick<GritPreview, "host" | "provideHost"> {
  let provideHost: GritPreview["provideHost"] = () => {};
  const host = new Promise<Host>((resolve) => {
    provideHost = resolve;
  });
  return { host, provideHost };
}

function startTheme(): Theme {
  const theme = asked.get("theme");
  if (theme === "light" || theme === "dark") return theme;
  return matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light";
}

function showTheme(theme: Theme): void {
  document.documentElement.dataset.theme = theme;
  element("theme").setAttribute("aria-checked", String(theme === "dark"));
  // As in Excel, a pane gets no event when the theme changes: it looks when it gets the focus.
  pane.contentWindow?.dispatchEvent(new Event("focus"));
}

function switchTheme(): void {
  preview.theme = preview.theme === "dark" ? "light" : "dark";
  for (const follow of followers) follow(preview.theme);
}

/** The two widths that Excel gives a pane. */
function switchPaneWidth(button: HTMLElement): void {
  let current = asked.get("pane") === "320" ? 1 : 0;
  const show = () => {
    const width = PANE_WIDTHS[current];
    document.documentElement.style.setProperty("--pane-width", `${width}px`);
    button.textContent = `Pane ${width} px`;
  };
  button.addEventListener("click", () => {
    current = 1 - current;
    show();
  });
  show();
}
