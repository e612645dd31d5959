/** The check of an installation in a browser: all of it holds in the preview, or can't be tried there for a listed reason. */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, afterEach, expect, it, vi } from "vitest";
import { eventually, expectNoProblems, openPreview, type Preview } from "./browser";

let preview: Preview;
afterEach(() => preview.close());
afterAll(expectNoProblems);
vi.setConfig({ testTimeout: 240_000 });

/** The grid beside the pane calls the functions, and what only a person can bring about. */
const UNTRIED = [
  "array-constant",
  "blank-cell",
  "blank-in-range",
  "chart-sheet-active",
  "empty-text-in-answer",
  "error-argument",
  "error-in-answer",
  "error-in-range",
  "kinds-of-values",
  "omitted-argument",
  "open-damaged-workbook",
  "thrown-errors",
  "view-only",
];

const REPORTS = process.env.SHOTS ?? "/tmp/gritledger-shots";

it("holds in the preview; the report can be copied, and the workbook is as it was", async () => {
  preview = await openPreview({ height: 1100 });
  const sheets = () =>
    preview.excel(async (context) => {
      const { worksheets, names, tables } = context.workbook;
      const shown = worksheets.getActiveWorksheet().load("name");
      const selected = context.workbook.getSelectedRange().load("address");
      worksheets.load("items/name,items/visibility");
      names.load("items/name");
      tables.load("items/name");
      await context.sync();
      const found = [...worksheets.items.map(({ name, visibility }) => `${name} ${visibility}`)];
      return [shown.name, selected.address, found, names.items.map((n) => n.name), tables.items.map((t) => t.name)];
    });
  await preview.select("Packing hall", "B4:C5");
  const before = await sheets();
  const { page } = preview;
  await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
  await preview.pane().locator("fluent-tab", { hasText: "Functions" }).click();
  const section = preview.pane().locator(".installation");
  await section.locator("#check-installation").click();
  const report = section.locator("#installation-report");
  // Sixty checks, each with a sheet of its own.
  await report.waitFor({ timeout: 180_000 });
  const text = await report.inputValue();
  mkdirSync(REPORTS, { recursive: true });
  writeFileSync(join(REPORTS, "installation.txt"), text);
  console.log(text);
  expect(text).not.toContain("\nDiffers\n");
  const untried = text.slice(text.indexOf("\nCan't be tried here\n"), text.indexOf("\nHeld\n"));
  expect([...untried.matchAll(/\(([\w-]+)[,)]/g)].map((match) => match[1]).sort()).toEqual(UNTRIED);
  expect(text).toMatch(/\n- .*\(worker\): an answer\n/);
  expect(text).toMatch(/\n- .*\(storage\): stored\n/);
  // Not Excel: nobody may take it for a report from a real one.
  expect(text).toMatch(
    /^Gritledger: check of an installation\n\w+, platform PC, version 16\S+ \(emulated by the preview, not Excel\)\n/,
  );
  // It came into sight below the button.
  await eventually(() => preview.frame().evaluate(() => document.activeElement?.id)).toBe("installation-report");
  expect(await report.evaluate((area) => area.getBoundingClientRect().top < innerHeight)).toBe(true);
  expect(await sheets()).toEqual(before);

  await section.locator("fluent-button", { hasText: "Copy the report" }).click();
  await eventually(() => preview.pane().locator(".message").textContent()).toBe("Report copied.");
  const download = page.waitForEvent("download");
  await section.locator("fluent-button", { hasText: "Download" }).click();
  expect((await download).suggestedFilename()).toBe("gritledger-check.txt");
  expect(await preview.violations()).toEqual([]);
  await section.scrollIntoViewIfNeeded();
  await preview.shot("installation");
});
