/** Every command that touches the workbook runs in here. */
import { Refusal } from "./refusal";

/** Runs a batch; `left` says in what state a refusal leaves the workbook. */
export function inWorkbook<T>(
  batch: (context: Excel.RequestContext) => Promise<T>,
  left = "Nothing was changed",
): Promise<T> {
  return inWords(() => Excel.run(batch), left);
}

/** Turns Excel's refusals into words. */
export async function inWords<T>(work: () => Promise<T>, left: string): Promise<T> {
  try {
    return await work();
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
