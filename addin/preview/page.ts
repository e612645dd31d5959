/** The page around the grid: its theme, the pane's width, and what it says when it cannot start. */
export type Theme = "light" | "dark";

const PANE_WIDTHS = [350, 320] as const;

export function element<Kind extends HTMLElement>(id: string): Kind {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no #${id}`);
  return found as Kind;
}

/** `?theme=dark` in the address, else what the reader's system asks for. */
export function startTheme(asked: URLSearchParams): Theme {
  const theme = asked.get("theme");
  if (theme === "light" || theme === "dark") return theme;
  return matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light";
}

/** Shows the theme and lets the reader switch it; `follow` hears of every change, the first included. */
export function switchTheme(button: HTMLElement, start: Theme, follow: (theme: Theme) => void): void {
  let theme = start;
  const show = () => {
    document.documentElement.dataset.theme = theme;
    button.setAttribute("aria-checked", String(theme === "dark"));
    follow(theme);
  };
  button.addEventListener("click", () => {
    theme = theme === "dark" ? "light" : "dark";
    show();
  });
  show();
}

/** The two widths that Excel gives a pane; `?pane=320` starts with the narrow one. */
export function switchPaneWidth(button: HTMLElement, asked: URLSearchParams): void {
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

export function sayThatItFailed(notice: HTMLElement, error: unknown): void {
  notice.setAttribute("role", "alert");
  notice.textContent = `The spreadsheet did not start: ${error instanceof Error ? error.message : error}`;
}
