/** Events as the client raises them from what the host sends. */
import { afterAll, describe, expect, it } from "vitest";
import { openWorkbook } from "../../../../addin/preview/host/node";
import { cellsOf } from "./support";

const workbook = await openWorkbook();
const { Excel, type } = workbook;
const { write } = cellsOf(workbook);
afterAll(() => workbook.dispose());

/** Gathers what one kind of event says while something happens. */
async function raised<Args>(
  handlers: (context: Excel.RequestContext) => OfficeExtension.EventHandlers<Args>,
  during: () => Promise<unknown>,
): Promise<Args[]> {
  const seen: Args[] = [];
  const handler = await Excel.run(async (context) => {
    const added = handlers(context).add(async (args) => {
      seen.push(args);
    });
    await context.sync();
    return added;
  });
  await during();
  await new Promise((done) => setTimeout(done, 20));
  await Excel.run(handler.context as Excel.RequestContext, async (context) => {
    handler.remove();
    await context.sync();
  });
  const count = seen.length;
  await during();
  await new Promise((done) => setTimeout(done, 20));
  expect(seen.length).toBe(count);
  return seen;
}

/** Events of a sheet ask for its id, so it must be loaded. */
const firstSheet = async () => {
  const sheet = await Excel.run(async (context) => {
    const first = context.workbook.worksheets.getFirst().load("id");
    await context.sync();
    return first.id;
  });
  return sheet;
};

describe("an event", () => {
  it("reports cells that changed, and gives their range", async () => {
    const id = await firstSheet();
    const events = await raised(
      (context) => context.workbook.worksheets.onChanged,
      () =>
        write("Sheet1!B2:C3", [
          [1, 2],
          [3, 4],
        ] as never),
    );
    expect(events).toMatchObject([
      { type: "WorksheetChanged", changeType: "RangeEdited", address: "B2:C3", worksheetId: id },
    ]);
    await Excel.run(async (context) => {
      const range = events[0]!.getRange(context).load("address");
      await context.sync();
      expect(range.address).toBe("Sheet1!B2:C3");
    });
  });

  it("reports what the user types", async () => {
    const events = await raised(
      (context) => context.workbook.worksheets.onChanged,
      () => type("Sheet1", "D4", 7),
    );
    expect(events.map(({ address }) => address)).toEqual(["D4"]);
  });

  it("reports a sheet that was calculated", async () => {
    const id = await firstSheet();
    const events = await raised(
      (context) => context.workbook.worksheets.onCalculated,
      () => write("Sheet1!F1", [["=1+1"]]),
    );
    expect(events[0]).toMatchObject({ type: "WorksheetCalculated", worksheetId: id });
  });

  it("reports the selection, of the workbook and of a sheet", async () => {
    const select = (address: string) => () =>
      Excel.run(async (context) => {
        context.workbook.worksheets.getFirst().getRange(address).select();
        await context.sync();
      });
    const ofWorkbook = await raised((context) => context.workbook.onSelectionChanged, select("B2"));
    expect(ofWorkbook).toHaveLength(1);
    const ofSheets = await raised((context) => context.workbook.worksheets.onSelectionChanged, select("C3:D4"));
    expect(ofSheets.map(({ address }) => address)).toEqual(["C3:D4"]);
  });

  it("reports sheets that come, go and are activated", async () => {
    const addAndDelete = () =>
      Excel.run(async (context) => {
        const sheet = context.workbook.worksheets.add();
        sheet.activate();
        await context.sync();
        sheet.delete();
        await context.sync();
      });
    const added = await raised((context) => context.workbook.worksheets.onAdded, addAndDelete);
    const deleted = await raised((context) => context.workbook.worksheets.onDeleted, addAndDelete);
    const activated = await raised((context) => context.workbook.worksheets.onActivated, addAndDelete);
    expect([added.length, deleted.length, activated.length]).toEqual([1, 1, 2]);
    expect(added[0]).toMatchObject({ type: "WorksheetAdded" });
  });

  it("reports a table whose cells changed, by the table's id", async () => {
    const tableId = await Excel.run(async (context) => {
      const table = context.workbook.worksheets.getFirst().tables.add("H1:I3", true).load("id");
      await context.sync();
      return table.id;
    });
    const events = await raised(
      (context) => context.workbook.tables.onChanged,
      () => write("Sheet1!I2", [[9]]),
    );
    expect(events.map((event) => event.tableId)).toEqual([tableId]);
  });

  it("that this host does not send is refused", async () => {
    const register = Excel.run(async (context) => {
      context.workbook.worksheets.onFormatChanged.add(async () => undefined);
      await context.sync();
    });
    await expect(register).rejects.toMatchObject({ code: "NotImplemented" });
  });
});
