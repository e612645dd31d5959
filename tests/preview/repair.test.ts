import { afterAll, afterEach, describe, expect, it, vi } from "vitest";
import { eventually, expectNoProblems, openPreview, type Preview } from "./browser";

let preview: Preview;
afterEach(() => preview.close());
afterAll(expectNoProblems);
vi.setConfig({ testTimeout: 180_000 });

const section = () => preview.pane().locator(".repair");
const press = (name: string) => section().locator("fluent-button", { hasText: name }).first().click();
const said = async () => ((await section().textContent()) ?? "").replace(/\s+/g, " ");

/** A sheet as it can be when the workbook is older than the add-in: one cell to fix, one mistyped, one that is sound. */
const writeOld = () =>
  preview.excel(async (context) => {
    const sheet = context.workbook.worksheets.add("Old quote");
    sheet.getRange("B2:B5").formulas = [
      ["=_xldudf_GRIT_MARKUPFOR(0.2)"],
      ["=GRIT.MARKUPFOUR(0.2)"],
      ["=GRIT.MARKUPFOR(0.5)"],
      ["=GRIT.MARKUPFOR(2)"],
    ];
    await context.sync();
  });

async function openAtFunctions(options: Parameters<typeof openPreview>[0]): Promise<void> {
  preview = await openPreview(options);
  await writeOld();
  await preview.pane().locator("fluent-tab", { hasText: "Functions" }).click();
  await section().scrollIntoViewIfNeeded();
}

describe("check and repair", () => {
  it("finds what shows #NAME? in the workbook, fixes it, and says what it cannot fix", async () => {
    await openAtFunctions({ height: 1100 });
    await press("Check this workbook");
    await eventually(said).toMatch(/#NAME\? in 1 cell Old quote!B2/);
    expect(await said()).toMatch(/There is no function GRIT\.MARKUPFOUR Old quote!B3/);
    expect(await said()).toMatch(/Another error in 1 cell Old quote!B5 #VALUE!/);
    expect(await preview.violations()).toEqual([]);
    await section().scrollIntoViewIfNeeded();
    await preview.shot("repair-found");

    await press("Repair 1 cell");
    await eventually(said).not.toMatch(/#NAME\? in 1 cell/);
    // 0.2 / 0.8 by hand; the cell beside it as it was.
    expect(await preview.cells("Old quote", "B2:B4")).toEqual([[0.25], ["#NAME?"], [1]]);
    await eventually(() => preview.pane().locator(".message").textContent()).toBe("1 cell fixed.");
    await eventually(() =>
      preview
        .pane()
        .locator("#check-workbook")
        .evaluate((e) => e === document.activeElement),
    ).toBe(true);
    await preview.shot("repair-done");
  });

  it("is readable in a narrow dark pane, and breaks no rule of accessibility there", async () => {
    await openAtFunctions({ theme: "dark", paneWidth: 320 });
    await press("Check this workbook");
    await eventually(said).toMatch(/to look at/);
    const wide = await section().evaluate((e) => e.scrollWidth > e.clientWidth);
    expect(wide).toBe(false);
    expect(await preview.violations()).toEqual([]);
    await section().scrollIntoViewIfNeeded();
    await preview.shot("repair-320-dark");
  });
});

it("the demo's plan says that its numbers are up to date, and goes on saying so when an input changes", async () => {
  preview = await openPreview();
  const answers = () =>
    preview.excel(async (context) => {
      const used = context.workbook.worksheets.getItem("Packing hall").getUsedRange().load("values");
      await context.sync();
      return used.values.flat().filter((value) => value === "up to date").length;
    });
  // At the top, and beside the price.
  await eventually(answers).toBe(2);
  await preview.excel(async (context) => {
    const margin = context.workbook.worksheets.getItem("Packing hall").names.getItem("Price_Margin").getRange();
    margin.values = [[0.4]];
    await context.sync();
  });
  await eventually(answers).toBe(2);
  await preview.select("Packing hall", "A1");
  await preview.page.waitForTimeout(1500);
  await preview.shot("check-cell");
});
