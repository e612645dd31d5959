/** The demo, saved and opened again: the same workbook, in which everything goes on following. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { buildDemo } from "../../../../addin/preview/demo-workbook";
import { type SavedWorkbook, saved } from "../../../../addin/preview/host/saved";
import { undo } from "../../../../addin/sheet";
import { insertPlan } from "../../../../addin/sheet/writing";
import { unzipped } from "../../share/copy-files";
import { floor, planFor } from "../../sheet/agreement";
import { type GritWorkbook, named, openGrit, snapshot, write } from "../../sheet/workbook";

let text: string;
let asBuilt: { file: Uint8Array; seen: unknown };
let workbook: GritWorkbook;

beforeAll(async () => {
  const built = await openGrit();
  await buildDemo();
  text = await saved(built.host);
  asBuilt = { file: await built.xlsx(), seen: await snapshot() };
  await built.dispose();
  workbook = await openGrit(undefined, JSON.parse(text) as SavedWorkbook);
}, 120_000);
afterAll(() => workbook.dispose());

describe("the demo, saved and opened", () => {
  it("has every cell, name and table as it was", async () => {
    expect(await snapshot()).toEqual(asBuilt.seen);
  });

  it("is the same file: looks, sizes, rules, charts and pages too", async () => {
    const before = unzipped(asBuilt.file);
    const after = unzipped(await workbook.xlsx());
    expect(Object.keys(after)).toEqual(Object.keys(before));
    // But for the numbers that the file gives its tables and when it was made.
    for (const [name, part] of Object.entries(before)) {
      if (name.startsWith("docProps/")) continue;
      expect(after[name], name).toBe(part);
    }
  });

  it("follows a name that comes to mean another cell, before anything else was calculated", async () => {
    const price = await named("Stages_Price");
    await write("Quote!C6", [[8400]]);
    expect(await named("Stages_Price")).toBeGreaterThan(1.5 * price);
    expect(await named("Bid_Offered")).toBeGreaterThan(1.4 * price);
    await write("Quote!C6", [[4200]]);
    expect(Math.abs((await named("Stages_Price")) / price - 1)).toBeLessThan(1e-12);
  });

  it("takes another plan, and its undo", async () => {
    const before = await snapshot();
    const inserted = await insertPlan(planFor(floor()), "new sheet");
    expect(await named("Stages_Price_4")).toBeGreaterThan(1000);
    await undo(inserted);
    expect(await snapshot()).toEqual(before);
  });
});

describe("a workbook that can't be saved", () => {
  it("says why", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Past jobs");
      sheet.autoFilter.apply(sheet.getRange("A1:C5"));
      await context.sync();
    });
    await expect(saved(workbook.host)).rejects.toThrow("A workbook with a filter can't be saved.");
  });
});
