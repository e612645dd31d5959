/** The workbook as a file: what the client hands over, put together, and what it refuses, in words. */
import { read as readBook } from "@e965/xlsx";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { documentBytes, listSheets, openAsNewWorkbook, Refusal, selectedCells } from "../../../addin/sheet";
import { openGritForEach, select, workbook, write } from "./workbook";

const refusedWith = async (work: Promise<unknown>): Promise<string> => {
  const error = await work.then(
    () => undefined,
    (thrown: unknown) => thrown,
  );
  expect(error).toBeInstanceOf(Refusal);
  return (error as Refusal).message;
};

/** The client's calls on the document, as its documentation has them: answers come later, by a callback. */
function clientWith(slices: number[][], { failsAt = -1, handsOver = true } = {}) {
  const answer = (callback: (result: any) => void, value?: unknown, message?: string) =>
    setTimeout(() => callback({ status: message ? "failed" : "succeeded", value, error: { message } }));
  const file = {
    sliceCount: slices.length,
    getSliceAsync: vi.fn((index: number, callback: (result: any) => void) =>
      answer(callback, { data: slices[index] }, index === failsAt ? "An internal error has occurred." : undefined),
    ),
    closeAsync: vi.fn((callback: (result: any) => void) => answer(callback)),
  };
  const getFileAsync = vi.fn((_type: string, _options: object, callback: (result: any) => void) =>
    answer(callback, file, handsOver ? undefined : "Two files are open"),
  );
  const requirements = { isSetSupported: vi.fn(() => true) };
  vi.stubGlobal("Office", {
    AsyncResultStatus: { Succeeded: "succeeded", Failed: "failed" },
    FileType: { Compressed: "compressed" },
    context: { document: { getFileAsync }, requirements },
  });
  return { file, getFileAsync, requirements };
}

afterEach(() => vi.unstubAllGlobals());

describe("the bytes of the workbook", () => {
  it("are its slices in their order, and the file is closed", async () => {
    const { file, getFileAsync } = clientWith([[80, 75], [3], [255, 0]]);
    expect([...(await documentBytes())]).toEqual([80, 75, 3, 255, 0]);
    expect(getFileAsync.mock.calls[0]![0]).toBe("compressed");
    expect(file.closeAsync).toHaveBeenCalledTimes(1);
  });

  it("are refused where a slice fails, with what the client said; the file is closed all the same", async () => {
    const { file } = clientWith([[80], [75]], { failsAt: 1 });
    expect(await refusedWith(documentBytes())).toBe(
      "Couldn't read the workbook's file. The spreadsheet's message: An internal error has occurred. Save the workbook, then try again.",
    );
    expect(file.closeAsync).toHaveBeenCalledTimes(1);
  });

  it("are refused where the file cannot be had", async () => {
    clientWith([[80]], { handsOver: false });
    expect(await refusedWith(documentBytes())).toContain(
      "The spreadsheet's message: Two files are open. Save the workbook",
    );
  });

  it("are refused where there are none, as a spreadsheet on the web is known to answer", async () => {
    const { file } = clientWith([]);
    expect(await refusedWith(documentBytes())).toContain("an empty file");
    expect(file.closeAsync).toHaveBeenCalledTimes(1);
  });

  it("are not asked for where the spreadsheet hands none over", async () => {
    const { getFileAsync, requirements } = clientWith([[80]]);
    requirements.isSetSupported.mockReturnValue(false);
    expect(await refusedWith(documentBytes())).toContain("doesn't give add-ins the workbook's file");
    expect(getFileAsync).not.toHaveBeenCalled();
  });
});

describe("a copy", () => {
  it("is handed over as text in base 64, whole, however long it is", async () => {
    const createWorkbook = vi.fn(async (_base64: string) => undefined);
    vi.stubGlobal("Excel", { createWorkbook });
    const bytes = Uint8Array.from({ length: 100_001 }, (_, i) => (i * 7) % 256);
    await openAsNewWorkbook(bytes);
    expect(new Uint8Array(Buffer.from(createWorkbook.mock.calls[0]![0], "base64"))).toEqual(bytes);
  });

  it("that the spreadsheet doesn't open is reported, with the state it leaves", async () => {
    const refusal = Object.assign(new Error("The file is too large."), { code: "GeneralException" });
    vi.stubGlobal("Excel", { createWorkbook: () => Promise.reject(refusal) });
    expect(await refusedWith(openAsNewWorkbook(new Uint8Array([1])))).toBe(
      "Excel refused this: The file is too large. The copy wasn't opened, and this workbook is unchanged.",
    );
  });
});

describe("what a copy can be chosen from", () => {
  openGritForEach();
  beforeEach(async () => {
    await Excel.run(async (context) => {
      const { worksheets } = context.workbook;
      worksheets.add("Bob's quote");
      worksheets.add("Rates").visibility = "Hidden";
      await context.sync();
    });
    await write("Bob's quote!B2:C4", [
      [1, 2],
      ["", ""],
      ["=1+1", ""],
    ]);
  });

  it("are all sheets in their order, hidden ones marked, with the cells they use", async () => {
    const [, ...sheets] = await listSheets();
    expect(sheets).toEqual([
      { name: "Bob's quote", visible: true, used: "B2:C4" },
      { name: "Rates", visible: false, used: "" },
    ]);
  });

  it("are in the bytes that the real client hands over, and a copy is opened from them byte for byte", async () => {
    const bytes = await documentBytes();
    // The reader leaves a mark on what it reads.
    const { SheetNames, Sheets } = readBook(bytes.slice());
    expect(SheetNames.slice(1)).toEqual(["Bob's quote", "Rates"]);
    expect(Sheets["Bob's quote"]!.B4).toMatchObject({ v: 2, f: "1+1" });
    await openAsNewWorkbook(bytes);
    expect(workbook.opened.map((file) => Uint8Array.from(file))).toEqual([bytes]);
  });

  it("are refused in words in a viewer that hands no file over", async () => {
    workbook.host.model.conditions.withoutFile = true;
    expect(await refusedWith(documentBytes())).toBe(
      "This viewer doesn't give add-ins the workbook's file, so copies can't be made here. Open the workbook in Excel for Windows, Mac or the web, and make the copy there.",
    );
  });

  it("is refused in words where it is more than a request may have on the web", async () => {
    const bytes = await documentBytes();
    workbook.host.model.conditions.largestRequest = 1000;
    expect(await refusedWith(openAsNewWorkbook(bytes))).toBe(
      "This is more than Excel on the web handles at once. The copy wasn't opened, and this workbook is unchanged; open the workbook in Excel on the desktop, and try again there.",
    );
    expect(workbook.opened).toEqual([]);
  });

  it("that isn't a workbook isn't opened, and a message says so", async () => {
    expect(await refusedWith(openAsNewWorkbook(new Uint8Array([1, 2, 3])))).toMatch(
      /^Excel refused this: .* The copy wasn't opened/,
    );
    expect(workbook.opened).toEqual([]);
  });

  it("are the selected cells, by their sheet's plain name", async () => {
    await select("Bob's quote!B2:C3");
    expect(await selectedCells()).toEqual({ sheet: "Bob's quote", range: "B2:C3" });
  });
});
