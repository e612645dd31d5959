/**
 * The emulated workbook's file in LibreOffice, which calculates every cell anew: what it gives is what the host gives. What
 * uses the add-in's own functions is held against LibreOffice in the copies without the add-in.
 */
import { afterAll, beforeAll, expect, it } from "vitest";
import { isError } from "../../share/engine";
import { isSame, recalculated, type Sheets } from "../../share/libreoffice/soffice";
import { type GritWorkbook, openGrit } from "../../sheet/workbook";
import { FIRST_SHEET, writeEverything } from "./everything";

let workbook: GritWorkbook;
let theirs: Sheets;

beforeAll(async () => {
  workbook = await openGrit();
  await writeEverything();
  const [sheets] = await recalculated([await workbook.xlsx()]);
  theirs = sheets!;
}, 900_000);
afterAll(() => workbook.dispose());

const hostValues = (sheet: string): Promise<unknown[][]> =>
  Excel.run(async (context) => {
    const range = context.workbook.worksheets.getItem(sheet).getRange("A1:D9").load("values");
    await context.sync();
    return range.values;
  });

/** A reference to a spill, a function of the add-in's, and a spill that something stands in the way of: all unknown there. */
const EXCEPT = ["C1", "C4", "D1"].map((address) => `${FIRST_SHEET}!${address}`);

it.each([FIRST_SHEET, "List"])("gives the host's value in every cell of %s", async (name) => {
  const cells = theirs.get(name)!;
  let compared = 0;
  (await hostValues(name)).forEach((line, row) => {
    line.forEach((value, column) => {
      const address = `${"ABCD"[column]}${row + 1}`;
      if (EXCEPT.includes(`${name}!${address}`)) return;
      const found = cells.get(address);
      const ours = typeof value === "string" && value.startsWith("#") ? { code: value } : value;
      expect(isSame(found, ours), `${address}: ${JSON.stringify(found)} beside ${JSON.stringify(value)}`).toBe(true);
      if (value !== "") compared++;
    });
  });
  // Counted by hand: nine cells, seven of eight (one formula gives no text), two and two; a table of three columns with totals.
  expect(compared).toBe(name === "List" ? 12 : 20);
});

it("has all sheets, in order", () => {
  expect([...theirs.keys()]).toEqual([FIRST_SHEET, "List", "Hidden", "Gone"]);
});

it("has no error but those that the workbook has", () => {
  const errors = [...theirs.get("List")!.values()].filter(isError);
  expect(errors).toEqual([]);
});
