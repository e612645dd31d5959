/**
 * What a host refuses in conditions of its own, with the codes that Microsoft's documentation and issues give (named in
 * `conditions.ts`), and which sheet is in front.
 */
import { afterAll, afterEach, describe, expect, it } from "vitest";
import { type Conditions, noConditions } from "../../../../addin/preview/host/conditions";
import { openWorkbook } from "../../../../addin/preview/host/node";
import { cellsOf } from "./support";

const workbook = await openWorkbook();
const { Excel, Office, host } = workbook;
const { refusal } = cellsOf(workbook);
afterAll(() => workbook.dispose());
afterEach(() => void Object.assign(host.model.conditions, noConditions()));

type Ask = (context: Excel.RequestContext) => unknown;
const first: (context: Excel.RequestContext) => Excel.Worksheet = ({ workbook: { worksheets } }) =>
  worksheets.getFirst();

const CASES: readonly [string, Partial<Conditions>, Ask, string][] = [
  ["select", { otherWorkbookInFront: true }, (c) => first(c).getRange("A1").select(), "GeneralException"],
  ["activate", { otherWorkbookInFront: true }, (c) => first(c).activate(), "GeneralException"],
  ["add", { otherWorkbookInFront: true }, (c) => c.workbook.worksheets.add(), "GeneralException"],
  ["freeze rows", { otherWorkbookInFront: true }, (c) => first(c).freezePanes.freezeRows(1), "GeneralException"],
  ["freeze at", { otherWorkbookInFront: true }, (c) => first(c).freezePanes.freezeAt("A1:A2"), "GeneralException"],
  [
    "hide gridlines",
    { otherWorkbookInFront: true },
    (c) => {
      first(c).showGridlines = false;
    },
    "GeneralException",
  ],
  [
    "active cell",
    { otherWorkbookInFront: true },
    (c) => c.workbook.getActiveCell().load("address"),
    "InvalidSelection",
  ],
  [
    "selection",
    { otherWorkbookInFront: true },
    (c) => c.workbook.getSelectedRange().load("address"),
    "InvalidSelection",
  ],
  ["delete a sheet", { otherWorkbookInFront: true }, (c) => first(c).delete(), "InvalidSelection"],
  ["names of a sheet", { otherWorkbookInFront: true }, (c) => first(c).names.load("items/name"), "InvalidSelection"],
  [
    "active sheet",
    { chartSheetActive: true },
    (c) => c.workbook.worksheets.getActiveWorksheet().load("name"),
    "UnsupportedSheet",
  ],
  [
    "write",
    { viewOnly: true },
    (c) => {
      first(c).getRange("A1").values = [[1]];
    },
    "AccessDenied",
  ],
  ["add a name", { viewOnly: true }, (c) => c.workbook.names.add("Mine", "=1"), "AccessDenied"],
  [
    "much at once",
    { largestRequest: 2000 },
    (c) => {
      first(c).getRange("A1:A999").values = Array.from({ length: 999 }, () => [1]);
    },
    "RequestPayloadSizeLimitExceeded",
  ],
];

it.each(CASES)("%s is refused in the host's condition alone: %j", async (_, condition, ask, code) => {
  Object.assign(host.model.conditions, condition);
  expect(await refusal(ask)).toBe(code);
});

it("what only reads is answered in each condition", async () => {
  Object.assign(host.model.conditions, { viewOnly: true, otherWorkbookInFront: true, chartSheetActive: true });
  await Excel.run(async (context) => {
    const sheet = context.workbook.worksheets.getFirst().load("name");
    const range = sheet.getRange("A1").load("values");
    context.workbook.names.load("items/name");
    await context.sync();
    expect([sheet.name, range.values]).toEqual(["Sheet1", [[""]]]);
  });
});

it("the file is refused with 11001 where a viewer hands none over", async () => {
  host.model.conditions.withoutFile = true;
  const answer = await new Promise<Office.AsyncResult<Office.File>>((done) =>
    Office.context.document.getFileAsync(Office.FileType.Compressed, done),
  );
  expect([answer.status, answer.error.code]).toEqual(["failed", 11001]);
});

describe("the sheet in front", () => {
  const inFront = () => host.engine.sheetName(host.engine.active);
  const moment = () => new Promise((done) => setTimeout(done, 20));

  it("stays there when sheets are added, shown and deleted, and is another once that is asked for", async () => {
    await Excel.run(async (context) => {
      const { worksheets } = context.workbook;
      const added = worksheets.add("Added");
      await context.sync();
      await moment();
      expect(inFront()).toBe("Sheet1");
      added.visibility = "Hidden";
      await context.sync();
      added.visibility = "Visible";
      await context.sync();
      await moment();
      expect(inFront()).toBe("Sheet1");
      worksheets.add("Shown").activate();
      await context.sync();
      await moment();
      expect(inFront()).toBe("Shown");
      worksheets.getItem("Added").delete();
      await context.sync();
      await moment();
      expect(inFront()).toBe("Shown");
    });
  });

  it("a very hidden sheet is deleted only once it isn't any more", async () => {
    await Excel.run(async (context) => {
      context.workbook.worksheets.add("Very").visibility = "VeryHidden";
      await context.sync();
    });
    expect(await refusal((c) => c.workbook.worksheets.getItem("Very").delete())).toBe("InvalidOperation");
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Very");
      sheet.visibility = "Hidden";
      sheet.delete();
      await context.sync();
    });
  });
});
