/**
 * The workbook's file through the real client: handed over piece by piece, and opened beside the workbook. What is expected
 * is from the documentation of `Document.getFileAsync`, `Office.File`, `Office.Slice` and `Excel.createWorkbook`.
 */
import { Buffer } from "node:buffer";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openWorkbook } from "../../../../addin/share/parts/workbook";
import { type GritWorkbook, openGrit, write } from "../../sheet/workbook";

let workbook: GritWorkbook;
beforeAll(async () => {
  workbook = await openGrit();
  await write("Sheet1!A1:B2", [
    ["Floor", 4200],
    ["Price", "=B1*2"],
  ]);
}, 60_000);
afterAll(() => workbook.dispose());

type Answer<T> = (callback: (result: Office.AsyncResult<T>) => void) => void;
const answerOf = <T>(ask: Answer<T>) => new Promise<Office.AsyncResult<T>>((resolve) => ask(resolve));

async function gotten<T>(ask: Answer<T>): Promise<T> {
  const { value, error } = await answerOf(ask);
  if (error) throw new Error(error.message);
  return value;
}

const fileOf = (options = {}) =>
  answerOf<Office.File>((done) => Office.context.document.getFileAsync(Office.FileType.Compressed, options, done));
const openFile = (options = {}) =>
  gotten<Office.File>((done) => Office.context.document.getFileAsync(Office.FileType.Compressed, options, done));
const closed = (file: Office.File) => answerOf<void>((done) => file.closeAsync(done));
const slicesOf = async (file: Office.File) => {
  const slices: Office.Slice[] = [];
  for (let i = 0; i < file.sliceCount; i++) slices.push(await gotten((done) => file.getSliceAsync(i, done)));
  return slices;
};

describe("the workbook's file", () => {
  it("is offered by the requirement sets that Excel has for it", () => {
    expect(Office.context.requirements.isSetSupported("File")).toBe(true);
    expect(Office.context.requirements.isSetSupported("CompressedFile")).toBe(true);
    expect(Office.context.requirements.isSetSupported("PdfFile")).toBe(false);
  });

  it("comes in slices of the size asked for, bytes as numbers, the last as long as is left", async () => {
    const file = await openFile({ sliceSize: 1000 });
    const slices = await slicesOf(file);
    await closed(file);
    const last = file.size % 1000;
    expect(file.sliceCount).toBe(Math.ceil(file.size / 1000));
    expect(slices.map(({ index }) => index)).toEqual(slices.map((_, i) => i));
    expect(slices.map(({ size }) => size)).toEqual(slices.map((_, i) => (i < slices.length - 1 ? 1000 : last)));
    const bytes = Uint8Array.from(slices.flatMap(({ data }) => data as number[]));
    expect(bytes.length).toBe(file.size);
    expect(openWorkbook(bytes).sheets.map(({ name }) => name)).toEqual(["Sheet1"]);
  });

  it("comes in one slice unless asked otherwise, as large as four million bytes", async () => {
    const file = await openFile();
    expect(file.sliceCount).toBe(1);
    await closed(file);
  });

  it("is as the workbook was when it was asked for, whatever is written afterwards", async () => {
    const textOf = (slices: Office.Slice[]) => {
      const { parts, sheets } = openWorkbook(Uint8Array.from(slices.flatMap(({ data }) => data as number[])));
      return parts.text(sheets[0]!.part);
    };
    const before = await openFile();
    await write("Sheet1!B1", [[5000]]);
    const after = await openFile();
    const texts = [textOf(await slicesOf(before)), textOf(await slicesOf(after))];
    await closed(before);
    await closed(after);
    // By hand: the price is twice the floor.
    expect(texts.map((text) => [text.includes("<v>8400</v>"), text.includes("<v>10000</v>")])).toEqual([
      [true, false],
      [false, true],
    ]);
  });

  it("is refused a third time while two are open, and gone once it is closed", async () => {
    const files = [await openFile(), await openFile()];
    const third = await fileOf();
    expect([third.status, third.error.code]).toEqual(["failed", 11000]);
    expect((await closed(files[0]!)).status).toBe("succeeded");
    const fourth = await fileOf();
    expect(fourth.status).toBe("succeeded");
    expect((await answerOf((done) => files[0]!.getSliceAsync(0, done))).status).toBe("failed");
    expect((await closed(files[0]!)).status).toBe("failed");
    await closed(files[1]!);
    await closed(fourth.value);
  });

  it.each(["pdf", "text"])("is not to be had as %s", async (kind) => {
    const answer = await answerOf<Office.File>((done) =>
      Office.context.document.getFileAsync(kind as unknown as Office.FileType, done),
    );
    expect([answer.status, answer.error.code]).toEqual(["failed", 1009]);
  });
});

interface Creator {
  createWorkbook(base64: string): { open(): void };
}

describe("a workbook opened beside this one", () => {
  it("has exactly the bytes that were given", async () => {
    const bytes = await workbook.xlsx();
    await Excel.createWorkbook(Buffer.from(bytes).toString("base64"));
    expect(workbook.opened.map((file) => Buffer.from(file).equals(bytes))).toEqual([true]);
  });

  it("is opened once it is asked for, not when it is made", async () => {
    const before = workbook.opened.length;
    const base64 = Buffer.from(await workbook.xlsx()).toString("base64");
    await Excel.run(async (context) => {
      // In the client, but not in its public types.
      const application = context.workbook.application as unknown as Creator;
      const created = application.createWorkbook(base64);
      await context.sync();
      expect(workbook.opened.length).toBe(before);
      created.open();
      await context.sync();
    });
    expect(workbook.opened.length).toBe(before + 1);
  });

  it.each([
    ["no workbook", Buffer.from("not a workbook").toString("base64")],
    ["a damaged zip", Buffer.from("PK\x03\x04 and then nothing").toString("base64")],
    ["no base64", "%%%"],
  ])("is refused where it is %s", async (_, base64) => {
    const before = workbook.opened.length;
    await expect(Excel.createWorkbook(base64)).rejects.toMatchObject({ code: "InvalidArgument" });
    expect(workbook.opened.length).toBe(before);
  });
});
