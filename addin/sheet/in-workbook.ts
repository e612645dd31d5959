/** Every command that touches the workbook runs in here. */
import { Refusal } from "./refusal";

/** Runs a batch and turns Excel's refusals into words; `left` says in what state they leave the workbook. */
export async function inWorkbook<T>(
  batch: (context: Excel.RequestContext) => Promise<T>,
  left = "Nothing was changed",
): Promise<T> {
  try {
    return await Excel.run(batch);
  } catch (error) {
    if (error instanceof Refusal || !isOfficeError(error)) throw error;
    if (error.code === "AccessDenied") {
      throw new Refusal(`The sheet or the workbook is protected. ${left}; unprotect it and try again.`);
    }
    throw new Refusal(`Excel refused this: ${error.message} ${left}.`);
  }
}

const isOfficeError = (error: unknown): error is { code: string; message: string } =>
  typeof error === "object" && error !== null && "code" in error && "message" in error;
