/** Ranges that an add-in tracks from one batch to the next: they stay with their cells, and are refused once those are gone. */
import { beforeEach, describe, expect, it } from "vitest";
import { openGritForEach, workbook, write } from "../../sheet/workbook";

openGritForEach();
beforeEach(async () => {
  await write("Sheet1!B2:D4", [
    [1, 2, 3],
    [4, 5, 6],
    [7, 8, 9],
  ]);
});

const track = (address: string) =>
  Excel.run(async (context) => {
    const range = context.workbook.worksheets.getItem("Sheet1").getRange(address).load("address");
    context.trackedObjects.add(range);
    await context.sync();
    return range;
  });

const change = (to: (sheet: Excel.Worksheet, context: Excel.RequestContext) => void) =>
  Excel.run(async (context) => {
    to(context.workbook.worksheets.getItem("Sheet1"), context);
    await context.sync();
  });

async function read(range: Excel.Range): Promise<[string, unknown]> {
  range.load("address,values");
  await range.context.sync();
  return [range.address, range.values[0]![0]];
}

describe("a tracked cell", () => {
  it.each<[string, string, (sheet: Excel.Worksheet) => void]>([
    ["a row above is deleted", "Sheet1!C2", (sheet) => sheet.getRange("1:1").delete("Up")],
    ["a row above is inserted", "Sheet1!C4", (sheet) => void sheet.getRange("1:1").insert("Down")],
    ["a column before is deleted", "Sheet1!B3", (sheet) => sheet.getRange("A:A").delete("Left")],
    ["a row below is deleted", "Sheet1!C3", (sheet) => sheet.getRange("4:4").delete("Up")],
    ["its sheet is renamed", "Quote!C3", (sheet) => void Object.assign(sheet, { name: "Quote" })],
  ])("is the same cell after %s", async (_, address, to) => {
    const cell = await track("C3");
    await change(to);
    expect(await read(cell)).toEqual([address, 5]);
  });

  it.each<[string, (sheet: Excel.Worksheet, context: Excel.RequestContext) => void]>([
    ["row", (sheet) => sheet.getRange("3:3").delete("Up")],
    ["column", (sheet) => sheet.getRange("C:C").delete("Left")],
    [
      "sheet",
      (sheet, { workbook: { worksheets } }) => {
        worksheets.add("Other");
        sheet.delete();
      },
    ],
  ])("whose %s is deleted is refused, and is no other cell", async (_, to) => {
    const cell = await track("C3");
    await change(to);
    await expect(read(cell)).rejects.toMatchObject({ code: "InvalidReference" });
    await expect(read(cell)).rejects.toMatchObject({ code: "InvalidReference" });
  });

  it("is known no more once it is let go", async () => {
    const cell = await track("C3");
    cell.context.trackedObjects.remove(cell);
    await cell.context.sync();
    expect(workbook.host.model.tracked.size).toBe(0);
  });
});
