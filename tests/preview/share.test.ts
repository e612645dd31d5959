/** Both copies, clicked through in the browser; the files that come out are unzipped and looked into. */
import { readFileSync } from "node:fs";
import { read as readBook, type WorkBook } from "@e965/xlsx";
import { afterAll, afterEach, describe, expect, it, vi } from "vitest";
import { type Parts, unzipped } from "../addin/share/copy-files";
import { type CellValue, eventually, expectNoProblems, openPreview, type Preview } from "./browser";

const SHOTS = process.env.SHOTS ?? "/tmp/gritledger-shots";
vi.setConfig({ testTimeout: 240_000 });

let preview: Preview;
afterEach(() => preview.close());
afterAll(expectNoProblems);

const pane = () => preview.pane();
const tab = (name: string) => pane().locator("fluent-tab", { hasText: name }).click();
const report = () => pane().locator("#report");
const textOf = async (place: string) => ((await pane().locator(place).textContent()) ?? "").replace(/\s+/g, " ");

async function check(state: string): Promise<void> {
  expect(await preview.violations(), state).toEqual([]);
  const page = pane().locator("html");
  expect(await page.evaluate((html) => html.scrollWidth - html.clientWidth), state).toBeLessThanOrEqual(0);
  await preview.page.locator("#pane").screenshot({ path: `${SHOTS}/share-${state}.png` });
}

interface SheetCells {
  readonly name: string;
  readonly visible: boolean;
  readonly address: string;
  readonly formulas: CellValue[][];
  readonly values: CellValue[][];
}

/** Every cell of the workbook. */
const workbook = (): Promise<SheetCells[]> =>
  preview.excel(async (context) => {
    const sheets = context.workbook.worksheets.load("items/name,items/visibility");
    await context.sync();
    const used = sheets.items.map((sheet) => sheet.getUsedRange(true).load("address,formulas,values"));
    await context.sync();
    return sheets.items.map(({ name, visibility }, i) => {
      const { address, formulas, values } = used[i]!;
      return { name, visible: visibility === "Visible", address, formulas, values };
    });
  });

async function see(): Promise<void> {
  await pane().locator("#see-copy").click();
  await report().waitFor();
}

/** What `click` makes the browser download. */
async function downloadOf(click: () => Promise<void>): Promise<Uint8Array> {
  const coming = preview.page.waitForEvent("download", { timeout: 60_000 });
  await click();
  const download = await coming;
  expect(download.suggestedFilename()).toMatch(/\.xlsx$/);
  return new Uint8Array(readFileSync(await download.path()));
}

const formulasIn = (parts: Parts) =>
  Object.values(parts).flatMap((xml) => [...xml.matchAll(/<f(?: [^>]*)?>([^<]*)</g)].map(([, formula]) => formula!));

/** Values of a sheet as another reader of .xlsx files finds them, from the cell at which the block begins. */
function valuesIn(book: WorkBook, sheet: string, address: string): unknown[][] {
  const cells = book.Sheets[sheet]!;
  const [, letters, first, last, end] = /!\$?([A-Z]+)\$?(\d+):\$?([A-Z]+)\$?(\d+)$/.exec(address)!;
  const number = (column: string) => [...column].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0);
  const column = (n: number): string =>
    (n > 26 ? column(Math.floor((n - 1) / 26)) : "") + String.fromCharCode(65 + ((n - 1) % 26));
  const columns = Array.from({ length: number(last!) - number(letters!) + 1 }, (_, i) => column(number(letters!) + i));
  const rows = Array.from({ length: Number(end) - Number(first) + 1 }, (_, i) => Number(first) + i);
  return rows.map((row) => columns.map((name) => cells[`${name}${row}`]?.v ?? ""));
}

/** Figures that stand on no kept sheet; of four digits or more, since short ones are in the file's own settings too. */
function secretFigures(sheets: readonly SheetCells[], kept: string): number[] {
  const numbers = (ofKept: boolean) =>
    sheets
      .filter(({ name }) => (name === kept) === ofKept)
      .flatMap(({ values }) => values.flat())
      .filter((value): value is number => typeof value === "number");
  const known = numbers(true);
  const isLong = (x: number) => String(Math.abs(x)).replace(/[.0]|e.*/g, "").length >= 4;
  return numbers(false).filter((x) => isLong(x) && !known.some((one) => Math.abs(one / x - 1) < 1e-9));
}

function figuresFound(parts: Parts, figures: readonly number[]): number[] {
  const numbers = Object.values(parts).flatMap((xml) =>
    [...xml.matchAll(/-?\d*\.?\d+(?:E[-+]?\d+)?/gi)].map(([number]) => Number(number)),
  );
  return figures.filter((figure) => numbers.some((number) => Math.abs(number / figure - 1) < 1e-9));
}

describe("a copy for a partner", () => {
  it("that calculates is shown, then opened; the workbook stays as it is", async () => {
    preview = await openPreview({ paneWidth: 320 });
    const before = await workbook();
    await tab("Share");
    await check("start");
    expect(await textOf("#share-why")).toBe("See what will happen first.");
    await see();
    expect(await textOf("#report")).toMatch(/\d+ formulas will use the spreadsheet's own functions/);
    await check("calculating");

    const bytes = await downloadOf(() => pane().locator("#open-copy").click());
    await pane().locator(".message").waitFor();
    expect(await textOf(".message")).toMatch(/^Ready\. /);
    const parts = unzipped(bytes);
    expect(formulasIn(parts).length).toBeGreaterThan(100);
    expect(formulasIn(parts).filter((formula) => /GRIT[._]/i.test(formula))).toEqual([]);
    const book = readBook(bytes);
    expect(book.SheetNames).toEqual([...before.map(({ name }) => name), "Reference", "About this copy"]);
    const plan = before.find(({ name }) => name === "Packing hall")!;
    expect(valuesIn(book, "Packing hall", plan.address)).toEqual(plan.values);
    expect(await workbook()).toEqual(before);
  });

  it("with prices only has the chosen range and no cost, no margin and no formula", async () => {
    preview = await openPreview({ paneWidth: 320, theme: "dark" });
    const before = await workbook();
    const secrets = secretFigures(before, "Quote");
    expect(secrets.length).toBeGreaterThan(50);
    await preview.select("Quote", "A1:C13");
    await tab("Share");
    await pane().locator("#kind-price").focus();
    await preview.page.keyboard.press("Space");
    expect(await textOf("#share-why")).toBe("Choose a sheet or a range first.");
    await check("choice");
    await pane().locator("#add-range").click();
    await pane().locator(".ranges", { hasText: "Quote!A1:C13" }).waitFor();
    await see();
    expect(await textOf("#report")).toContain("Sheets Past jobs, Shelf, Packing hall");
    await check("price");

    const bytes = await downloadOf(() => pane().locator("#open-copy").click());
    const parts = unzipped(bytes);
    expect(formulasIn(parts)).toEqual([]);
    expect(figuresFound(parts, secrets)).toEqual([]);
    const words = /\b(?:margin|overhead|costs?)\b|GRIT/i;
    expect(
      Object.entries(parts)
        .filter(([, xml]) => words.test(xml))
        .map(([name]) => name),
    ).toEqual([]);
    expect(before.some(({ formulas }) => words.test(formulas.join()))).toBe(true);
    const book = readBook(bytes);
    expect(book.SheetNames).toEqual(["Quote"]);
    const quote = before.find(({ name }) => name === "Quote")!;
    expect(quote.values.at(-1)?.at(-1)).toBeGreaterThan(780);
    expect(valuesIn(book, "Quote", quote.address)).toEqual(quote.values);
    expect(await workbook()).toEqual(before);
  });

  it("of a large workbook shows how far it is; canceled by keyboard it says so, and the next one is made", async () => {
    preview = await openPreview({ paneWidth: 320 });
    await preview.excel(async (context) => {
      const sheet = context.workbook.worksheets.add("Many");
      const rows = Array.from({ length: 300 }, (_, r) =>
        Array.from({ length: 20 }, () => `=GRIT.AREARATE(${20 + r},15)`),
      );
      sheet.getRange("A1:T300").formulas = rows;
      await context.sync();
    });
    await tab("Share");
    await pane().locator("#see-copy").focus();
    await preview.page.keyboard.press("Enter");
    await pane().locator("#cancel").waitFor();
    await pane().locator("#cancel").focus();
    await preview.page.keyboard.press("Enter");
    await eventually(() => textOf(".message")).toBe("Canceled; no copy was made.");
    expect(await report().count()).toBe(0);
    expect(await pane().locator("#progress").count()).toBe(0);
    expect(await pane().locator(":focus").getAttribute("id")).toBe("see-copy");
    await see();
    expect(await textOf("#report")).toMatch(/6,\d{3} formulas will use the spreadsheet's own functions/);
  });

  it("that would show costs is asked about, and a no opens nothing", async () => {
    preview = await openPreview({ paneWidth: 320 });
    await tab("Share");
    await pane().locator("#kind-price").check({ force: true });
    await pane()
      .getByLabel(/Packing hall/)
      .check();
    await see();
    await pane().locator("#open-copy").click();
    await pane().getByRole("alertdialog").waitFor();
    expect(await textOf("#question-why")).toContain("sound like costs or margin");
    await check("question");
    let downloads = 0;
    preview.page.on("download", () => downloads++);
    await pane().locator("#answer-no").click();
    await eventually(() => textOf(".message")).toContain("Nothing was changed.");

    // Changed since: what will happen now is shown first.
    await preview.type("Quote", "E20", "=GRIT.AREARATE(28,15)");
    await pane().locator("#kind-calculating").check({ force: true });
    await see();
    await preview.type("Quote", "E21", "=GRIT.AREARATE(28,15)");
    await pane().locator("#open-copy").click();
    await eventually(() => textOf(".message")).toContain("The workbook has changed, so the copy wasn't opened");
    expect(downloads).toBe(0);
  });
});
