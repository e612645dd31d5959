/** Every command that touches the workbook runs in here. */
import { Refusal } from "../common/refusal";
import { isOfficeError, type OfficeError } from "./office-error";
import { refuse } from "./refusals";

/** Runs a batch; `left` says in what state a refusal leaves the workbook. */
export function inWorkbook<T>(
  batch: (context: Excel.RequestContext) => Promise<T>,
  left = "Nothing was changed",
): Promise<T> {
  const run = (context: Excel.RequestContext) => {
    // Comes with the batch's own first request, so that it takes none besides.
    context.workbook.load("readOnly");
    return batch(context);
  };
  return inWords(() => runAsOne(run), left);
}

/** Newer Excels take all of it back at one press of their own Undo; others need a press for every request that wrote. */
export function runAsOne<T>(batch: (context: Excel.RequestContext) => Promise<T>): Promise<T> {
  const merges = Office.context.requirements.isSetSupported("ExcelApi", "1.20");
  return merges ? Excel.run({ mergeUndoGroup: true }, batch) : Excel.run(batch);
}

/**
 * Some Excels take what is written into a workbook that is open for reading only, and then cannot save it. To be called
 * once the batch has read something, and before the user is asked anything.
 */
export function refuseReadOnly({ workbook }: Excel.RequestContext): void {
  if (!workbook.readOnly) return;
  throw refuse("readOnly");
}

/** What Excel's refusals mean is seldom needed, and much text; without it Excel's own message has to do. */
const meanings = () => import(/* webpackChunkName: "refused" */ "./refused").catch(() => undefined);

async function refusalOf(error: OfficeError, left: string): Promise<Refusal> {
  const refused = await meanings();
  return (
    refused?.refusedByExcel(error, left) ??
    new Refusal(`Excel refused this: ${error.message.replace(/\.?$/, ".")} ${left}.`)
  );
}

/** Why something failed, for within a sentence. */
export async function whyOf(error: unknown): Promise<string> {
  const refused = error instanceof Refusal ? undefined : await meanings();
  return refused?.whyOf(error) ?? (error as Error).message.replace(/\.$/, "");
}

/** Turns Excel's refusals into words. */
export async function inWords<T>(work: () => Promise<T>, left: string): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof Refusal || !isOfficeError(error)) throw error;
    throw await refusalOf(error, left);
  }
}

/** Whether Excel says that something isn't there that was asked for by name. */
export const isNotFound = (error: unknown) => isOfficeError(error) && error.code === "ItemNotFound";
