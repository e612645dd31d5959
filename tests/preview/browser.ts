/**
 * Drives the built preview in a real browser: serves dist/, opens the page, and gives tests what they ask of a
 * spreadsheet. Whatever the page logs as an error, is refused by its content policy, or asks of another origin is kept in
 * `problems`, which `close` insists is empty.
 */
import { existsSync, mkdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { isDeepStrictEqual } from "node:util";
import type axe from "axe-core";
import { type Browser, type BrowserContext, chromium, type Frame, type FrameLocator, type Page } from "playwright-core";
import { expect } from "vitest";
import { serve } from "../../manifest/build/serve.mjs";
import { type Found, find, putBack } from "./put-back";

export const DIST = fileURLToPath(new URL("../../dist", import.meta.url));
const SHOTS = process.env.SHOTS ?? "/tmp/gritledger-shots";
const CHROMIUM = process.env.CHROMIUM ?? "/usr/bin/chromium";
const FLAGS = [
  "--no-sandbox",
  "--disable-gpu",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** What in a document breaks the rules of accessibility. */
export async function violationsIn(frame: Frame, context: axe.ElementContext = { include: [["html"]] }) {
  // The checker is half a megabyte of script: once in a document is enough.
  if (!(await frame.evaluate("'axe' in window"))) await frame.evaluate(AXE);
  const options = { iframes: false, resultTypes: ["violations"] };
  const { violations } = await frame.evaluate<axe.AxeResults>(
    `axe.run(${JSON.stringify(context)}, ${JSON.stringify(options)})`,
  );
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`);
}

/** What the grid is drawn on, and what takes the keyboard. */
export const GRID = "canvas[id^=univer-sheet-main-canvas]";

/** As fast as anyone types. */
const KEY_MS = 10;
const SUGGESTIONS_MS = 150;
const FADE_MS = 300;

export interface PreviewOptions {
  theme?: "light" | "dark";
  width?: number;
  height?: number;
  paneWidth?: 320 | 350;
  /** What else stands in the page's address. */
  query?: Record<string, string>;
  /** A page that no test has used: for the first run, for pictures and for what is attacked. */
  fresh?: boolean;
}

export type Preview = Awaited<ReturnType<typeof openFresh>>;

export type CellValue = string | number | boolean;

/** Waits for what the page shows only after it has calculated and drawn. */
export const eventually = <Read>(read: () => Read, message?: string) => expect.poll(read, { timeout: 15_000, message });

let browser: Browser | undefined;

/** Problems of the previews that nobody has closed yet. */
const unseen = new Set<string[]>();

function expectNone(problems: string[]): void {
  expect(problems, "errors, policy violations and outside requests").toEqual([]);
}

/**
 * For afterAll of a test file: also a preview that no test closed must have had no problem. The browser and its page
 * stay for the worker's next file; they end with the worker.
 */
export function expectNoProblems(): void {
  // Taken out, so that the next file isn't blamed for them.
  expectNone([...unseen].flatMap((problems) => problems.splice(0)));
}

/** For who measures or starts over: nothing stays open. */
export async function closeBrowser(): Promise<void> {
  const last = kept;
  kept = undefined;
  await last?.preview.close();
  await browser?.close();
  browser = undefined;
  expectNoProblems();
}

/** A browser that nothing has been opened in yet; whoever starts it closes it. */
export const startBrowser = (): Promise<Browser> => chromium.launch({ executablePath: CHROMIUM, args: FLAGS });

export async function theBrowser(): Promise<Browser> {
  browser ??= await startBrowser();
  return browser;
}

/** A page that tests take turns with, how its workbook was at first, and how the last of them had it shown. */
interface Kept {
  readonly preview: Preview;
  readonly found: Found;
  readonly shown: PreviewOptions;
}

let kept: Kept | undefined;

/**
 * A preview with the demo workbook in it: most tests get the page that the one before gave back, with the workbook put
 * back, the pane started anew and nothing remembered. To open a page takes several times as long.
 */
export async function openPreview(options: PreviewOptions = {}): Promise<Preview> {
  if (options.fresh || options.query) return openFresh(options);
  const last = kept;
  kept = undefined;
  if (last && (await isAsFound(last, options))) return lend(last.preview, last.found, options);
  await last?.preview.close();
  const preview = await openFresh(options);
  return lend(preview, await preview.excel(find), options);
}

/** A preview whose `close` gives it back, unless it had a problem. */
function lend(preview: Preview, found: Found, shown: PreviewOptions): Preview {
  const close = async () => {
    if (preview.problems.length > 0) return preview.close();
    kept = { preview, found, shown };
  };
  return { ...preview, close };
}

const themeOf = ({ theme = "light" }: PreviewOptions) => theme;
const paneWidthOf = ({ paneWidth = 350 }: PreviewOptions) => paneWidth;
const sizeOf = ({ width = 1400, height = 900 }: PreviewOptions) => ({ width, height });

/** Makes a used page as good as new; false where that did not work, so that another is opened. */
async function isAsFound({ preview, found, shown }: Kept, asked: PreviewOptions): Promise<boolean> {
  const { page, pane, frame, excel } = preview;
  await page.unrouteAll({ behavior: "wait" });
  await page.setViewportSize(sizeOf(asked));
  if (themeOf(asked) !== themeOf(shown)) await page.getByRole("switch", { name: "Dark" }).click();
  if (paneWidthOf(asked) !== paneWidthOf(shown)) await page.locator("#pane-width").click();
  await excel(putBack, found);
  // As it goes, the pane would keep its draft once more.
  const forget = "Storage.prototype.setItem = () => undefined; localStorage.clear(); sessionStorage.clear()";
  await frame().evaluate(forget);
  await frame().goto(frame().url());
  await pane().locator("#insert").waitFor();
  await frame().evaluate("Office.onReady().then(() => undefined)");
  return isDeepStrictEqual(await excel(find), found);
}

async function openFresh(options: PreviewOptions = {}) {
  if (!existsSync(join(DIST, "preview/index.html")))
    throw new Error("there is no dist/preview: run npm run build first");
  const { theme, paneWidth, query = {} } = options;
  const served = await serve({ port: 0, directory: DIST });
  const context = await (await theBrowser()).newContext({ viewport: sizeOf(options) });
  const problems = await watch(context, served.url);
  unseen.add(problems);
  const page = await context.newPage();
  const asked = new URLSearchParams({ blanks: "each", ...query });
  if (theme) asked.set("theme", theme);
  if (paneWidth) asked.set("pane", String(paneWidth));
  await page.goto(`${served.url}/preview/?${asked}`);
  await page.evaluate("gritPreview.ready");
  await page.frameLocator("#pane").locator("html[data-demo=ready]").waitFor();

  const frame = (): Frame => {
    const pane = page.frames().find((one) => one.url().includes("/preview/pane.html"));
    if (!pane) throw new Error("the pane is not open");
    return pane;
  };

  /** The pane's own page. */
  const pane = (): FrameLocator => page.frameLocator("#pane");

  /** Runs ordinary Office.js code in the pane, through the real client library. The function must stand alone. */
  const excel = <Result, Argument = undefined>(
    run: (context: Excel.RequestContext, argument: Argument) => Promise<Result>,
    argument?: Argument,
  ): Promise<Result> =>
    frame().evaluate<Result>(`Excel.run((context) => (${run})(context, ${JSON.stringify(argument)}))`);

  /** The exact values of a block, as Excel hands them out. */
  const cells = (sheet: string, address: string): Promise<CellValue[][]> =>
    excel(
      async (context, [name, a1]) => {
        const range = context.workbook.worksheets.getItem(name).getRange(a1).load("values");
        await context.sync();
        return range.values as CellValue[][];
      },
      [sheet, address] as const,
    );

  /** Rows of a table by header, through the real client. */
  const table = (name: string) =>
    excel(async (context, tableName) => {
      const found = context.workbook.tables.getItem(tableName);
      const head = found.getHeaderRowRange().load("values");
      const body = found.getDataBodyRange().load("values");
      await context.sync();
      return body.values.map((row) => Object.fromEntries(row.map((cell, i) => [head.values[0]![i], cell])));
    }, name);

  /** Value of a name of the workbook. */
  const named = (name: string) =>
    excel(async (context, wanted) => {
      const range = context.workbook.names.getItem(wanted).getRange().load("values");
      await context.sync();
      return range.values[0]![0] as number;
    }, name);

  /** What breaks the rules of accessibility in the pane as it stands. */
  const violations = async (): Promise<string[]> => {
    // A button that has just come into use fades to its colors.
    await page.waitForTimeout(FADE_MS);
    return violationsIn(frame());
  };

  const select = (sheet: string, address: string): Promise<void> =>
    excel(
      async (context, [name, a1]) => {
        context.workbook.worksheets.getItem(name).getRange(a1).select();
        await context.sync();
      },
      [sheet, address] as const,
    );

  /** Whether a cell, so many rows below another, holds something. */
  const isFilled = (sheet: string, address: string, below: number): Promise<boolean> =>
    excel(
      async (context, [name, a1, rows]) => {
        const cell = context.workbook.worksheets.getItem(name).getRange(a1).getOffsetRange(rows, 0).load("formulas");
        await context.sync();
        return cell.formulas[0]?.[0] !== "";
      },
      [sheet, address, below] as const,
    );

  /** Types into a cell, and after Enter into those below, as a user does. */
  const type = async (sheet: string, address: string, ...lines: string[]): Promise<void> => {
    await select(sheet, address);
    await page.locator(GRID).focus();
    for (const [below, line] of lines.entries()) {
      await page.keyboard.type(line, { delay: KEY_MS });
      // Enter would take a suggestion that is still on the screen.
      await page.waitForTimeout(SUGGESTIONS_MS);
      await page.keyboard.press("Enter");
      await eventually(() => isFilled(sheet, address, below)).toBe(true);
    }
  };

  return {
    page,
    pane,
    frame,
    excel,
    cells,
    table,
    named,
    violations,
    select,
    type,
    problems,
    shot: (name: string) => shot(page, name),
    close: async () => {
      await context.close();
      await served.close();
      unseen.delete(problems);
      expectNone(problems);
    },
  };
}

/** Collects what must not happen, and lets no request leave the server's origin. */
async function watch(context: BrowserContext, origin: string): Promise<string[]> {
  const problems: string[] = [];
  context.on("console", (message) => {
    if (message.type() === "error") problems.push(`console: ${message.text()}`);
  });
  context.on("weberror", (error) => problems.push(`uncaught: ${error.error().message}`));
  await context.route(
    (url) => url.origin !== origin,
    (route) => {
      problems.push(`request to ${route.request().url()}`);
      return route.abort();
    },
  );
  return problems;
}

async function shot(page: Page, name: string): Promise<void> {
  mkdirSync(SHOTS, { recursive: true });
  await page.screenshot({ path: join(SHOTS, `${name}.png`) });
}
