/** What the host's tests share. How Excel behaves is taken from its public documentation, from memory; guesses are named. */
import { expect } from "vitest";
import type { openWorkbook } from "../../../../addin/preview/host/node";

type Workbook = Awaited<ReturnType<typeof openWorkbook>>;
type Cells = unknown[][];

/** Short ways to write and read cells through the real client. */
export function cellsOf({ Excel }: Pick<Workbook, "Excel">) {
  const rangeAt = (context: Excel.RequestContext, address: string) => {
    const bang = address.lastIndexOf("!");
    const { worksheets } = context.workbook;
    const sheet = bang < 0 ? worksheets.getActiveWorksheet() : worksheets.getItem(address.slice(0, bang));
    return sheet.getRange(address.slice(bang + 1));
  };
  const read = (address: string, property: "values" | "formulas" | "text" | "numberFormat") =>
    Excel.run(async (context) => {
      const range = rangeAt(context, address).load(property);
      await context.sync();
      return range[property] as Cells;
    });
  return {
    rangeAt,
    write: (address: string, formulas: Cells) =>
      Excel.run(async (context) => {
        rangeAt(context, address).formulas = formulas as string[][];
        await context.sync();
      }),
    values: (address: string) => read(address, "values"),
    value: async (address: string) => (await read(address, "values"))[0]![0],
    formula: async (address: string) => (await read(address, "formulas"))[0]![0],
    text: async (address: string) => (await read(address, "text"))[0]![0],
    format: async (address: string) => (await read(address, "numberFormat"))[0]![0],
    /** The code with which the host refuses a batch. */
    refusal: async (batch: (context: Excel.RequestContext) => unknown): Promise<string> => {
      try {
        await Excel.run(async (context) => {
          await batch(context);
          await context.sync();
        });
      } catch (error) {
        return (error as OfficeExtension.Error).code;
      }
      return expect.fail("The batch was not refused.");
    },
  };
}
