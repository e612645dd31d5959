/**
 * Pictures for the README, of the built preview: the whole page, every sheet of the demo with its audit, and every view of
 * the pane. Names come from what is there, so that a sheet or view that is added gets its picture.
 */
import { mkdirSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Locator } from "playwright-core";
import { afterAll, it } from "vitest";
import { closeBrowser, eventually, GRID, openPreview, type Preview } from "../preview/browser";
import { smaller } from "./palette";

const FOLDER = import.meta.dirname;
const LONG_MS = 120_000;
/** Between two looks at what is being drawn. */
const LOOK_MS = 700;
/** Wide enough for a whole sheet's columns; the pane stands beside it. */
const PAGE = { width: 1500, height: 900 };
const SHEET = { width: 1750, height: 900 };
const PANE = { width: 1400, height: 1150 };

afterAll(closeBrowser);

const fileOf = (name: string) => `${name.toLowerCase().replaceAll(" ", "-")}.png`;

/** A picture of what no longer changes, once the grid has been drawn. */
async function take({ page }: Preview, what: Locator, name: string): Promise<void> {
  await eventually(() => inkOf(page.locator(GRID).first())).toBeGreaterThan(0.01);
  let before = await what.screenshot({ timeout: LONG_MS });
  for (let n = 0; n < 20; n++) {
    await page.waitForTimeout(LOOK_MS);
    const now = await what.screenshot({ timeout: LONG_MS });
    if (now.equals(before)) break;
    before = now;
  }
  writeFileSync(join(FOLDER, fileOf(name)), await smaller(page, before));
}

/** How much of a canvas is not of its paper's color: nothing of a grid that is not drawn yet. */
const inkOf = (canvas: Locator): Promise<number> =>
  canvas.evaluate((element) => {
    const { width, height } = element as HTMLCanvasElement;
    const { data } = (element as HTMLCanvasElement).getContext("2d")!.getImageData(0, 0, width, height);
    let dark = 0;
    for (let at = 0; at < data.length; at += 4) {
      if (data[at + 3]! > 0 && data[at]! + data[at + 1]! + data[at + 2]! < 384) dark++;
    }
    return dark / (width * height);
  });

const sheetsOf = ({ excel }: Preview) =>
  excel(async (context) => {
    const { worksheets } = context.workbook;
    worksheets.load("items/name");
    await context.sync();
    return worksheets.items.map(({ name }) => name);
  });

it("takes the pictures", async () => {
  for (const old of readdirSync(FOLDER)) if (old.endsWith(".png")) rmSync(join(FOLDER, old));
  mkdirSync(FOLDER, { recursive: true });
  const preview = await openPreview({ fresh: true, theme: "light", ...PAGE });
  const { page, pane } = preview;
  await pane().locator("fluent-button", { hasText: "Fill in an example" }).click();
  await preview.select("Packing hall", "A1");
  await take(preview, page.locator("body"), "preview");

  await page.setViewportSize(PANE);
  const tabs = pane().locator("fluent-tab");
  const views = await tabs.allTextContents();
  for (const [at, view] of views.entries()) {
    await tabs.nth(at).click();
    if (view.trim() === "Jobs") await auditThePastJobs(preview);
    await take(preview, page.locator("#pane"), `view ${view.trim()}`);
  }
  await page.setViewportSize(SHEET);
  const sheets = await sheetsOf(preview);
  for (const sheet of sheets) {
    // The grid keeps a column frozen until a sheet without any is shown: the first one has none.
    for (const shown of [sheets[0]!, sheet]) {
      await preview.select(shown, "A1");
      await page.waitForTimeout(LOOK_MS);
    }
    await take(preview, page.locator(".book"), `sheet ${sheet}`);
  }
  await preview.close();
});

/** From the demo's list to its audit, by the buttons, as the owner does. */
async function auditThePastJobs(preview: Preview): Promise<void> {
  const button = (name: string) => preview.pane().locator("fluent-button", { hasText: name }).first();
  await preview.select("Past jobs", "A1");
  for (const name of ["Use the list at the selected cell", "Check the list", "Write the audit sheet"]) {
    await button(name).click({ timeout: LONG_MS });
  }
  await eventually(async () => (await sheetsOf(preview)).includes("Audit")).toBe(true);
}
