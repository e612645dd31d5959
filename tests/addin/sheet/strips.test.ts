/** Test strips kept in the workbook: a row each, and read back with the shelf. */
import { describe, expect, it } from "vitest";
import { addStrip, insertPlan, readShelf, undo } from "../../../addin/sheet";
import { STRIP_COLUMNS } from "../../../functions/plan/strips";
import { shelfRows } from "./agreement";
import { plan, STRIP } from "./faults-commands";
import { addTable, openGritForEach, snapshot, tableRows } from "./workbook";

openGritForEach();

const isFilled = (row: Record<string, unknown>) => row.Tool !== "";

describe("a test strip", () => {
  it("makes a table where there is none, then takes the next blank row, and is read back", async () => {
    expect((await addStrip(STRIP, "us")).what).toBe("Test strip written to the new sheet “Test strips”");
    const before = await snapshot();
    const second = await addStrip({ ...STRIP, slab: "Bay 3", cut: 200, machine: "Machine A, 20 in" }, "us");
    expect(second.what).toBe("Test strip written to row 2 of the table Strips");
    const rows = (await tableRows("Strips")).filter(isFilled);
    expect(rows.map((row) => [row.Date, row.Slab, row["Cut µm"], row.Machine])).toEqual([
      [46000, "=Bay 2", 240, ""],
      [46000, "Bay 3", 200, "Machine A, 20 in"],
    ]);
    const { shelf, problems } = await readShelf("us");
    expect(problems).toEqual([]);
    expect(shelf.strips).toEqual([STRIP, { ...STRIP, slab: "Bay 3", cut: 200, machine: "Machine A, 20 in" }]);
    await undo(second, false);
    expect(await snapshot()).toEqual(before);
  });

  it("is read beside the workbook's own shelf, too", async () => {
    await insertPlan(plan, "new sheet");
    await addStrip(STRIP, "us");
    expect((await readShelf("us")).shelf.strips).toEqual([STRIP]);
  });

  it("goes into a table in the other units, and comes back", async () => {
    await addTable("Mine", "Strips", "B2", [
      ...shelfRows([], STRIP_COLUMNS, "metric"),
      STRIP_COLUMNS.map(() => ""),
      STRIP_COLUMNS.map(() => ""),
    ]);
    await addStrip(STRIP, "us");
    const [row] = await tableRows("Mine");
    // 28 in and 13.5 ft/min.
    expect(row!["Working width mm"]).toBeCloseTo(711.2, 9);
    expect(row!["Travel speed m per min"]).toBeCloseTo(4.1148, 9);
    const [back] = (await readShelf("us")).shelf.strips!;
    expect(back!.width).toBeCloseTo(28, 9);
  });

  it("isn't written where the table is full, and says what to do", async () => {
    await addTable("Mine", "Strips", "B2", shelfRows([{ ...STRIP, slab: "Bay 1" }], STRIP_COLUMNS, "us"));
    await expect(addStrip(STRIP, "us")).rejects.toThrow(
      "The table Mine on “Strips” has no blank row left. Drag its lower right corner down a few rows, then add the strip again.",
    );
  });
});
