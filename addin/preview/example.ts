/**
 * The demo as files: the workbook that the preview opens; and for whoever wants to look before installing anything the
 * workbook with our formulas, its jobs audited, as the spreadsheet program stores it, and its calculating copy.
 */
import { auditOf } from "../../functions/audit/audit";
import { guessMapping } from "../../functions/audit/headings";
import { FIELDS } from "../../functions/plan/fields";
import { FUNCTIONS } from "../../functions/topics";
import type { PlainFunction } from "../share/arguments";
import { calculatingCopy } from "../share/calculating-copy";
import { CAUTION, findJobList, insertAudit, readJobs } from "../sheet";
import { buildDemo } from "./demo-workbook";
import { CustomFunctionError } from "./host/functions";
import { openWorkbook } from "./host/node";
import { saved } from "./host/saved";

/** The audit of the demo's past jobs, as the Jobs view writes it. */
async function auditPastJobs(): Promise<void> {
  await show("Past jobs");
  const means = { signal: new AbortController().signal, progress: () => undefined };
  const source = await findJobList();
  const mapping = guessMapping(source.headings);
  const { jobs, problems } = await readJobs(source, mapping, means);
  await insertAudit(source, mapping, auditOf(jobs, mapping), problems, means);
}

const show = (name: string) =>
  Excel.run(async (context) => {
    const sheet = context.workbook.worksheets.getItem(name);
    sheet.activate();
    sheet.getRange("A1").select();
    await context.sync();
  });

export interface Examples {
  readonly workbook: Uint8Array;
  readonly plain: Uint8Array;
  /** The demo as the preview opens it. */
  readonly demo: string;
}

export async function examples(
  functions: readonly PlainFunction[],
  functionsJson: string,
  version: string,
): Promise<Examples> {
  // What a page has: the functions throw the host's error, and the workbook code finds the client.
  Object.assign(globalThis, { CustomFunctions: { Error: CustomFunctionError } });
  const { Excel, Office, host, xlsx, dispose } = await openWorkbook({ functions: FUNCTIONS, functionsJson });
  Object.assign(globalThis, { Excel, Office });
  await buildDemo();
  const demo = await saved(host);
  await auditPastJobs();
  await show("Packing hall");
  const workbook = await xlsx();
  await dispose();
  const date = new Date().toISOString().slice(0, 10);
  const [, units] = FIELDS.units.choices[0]!;
  const plain = calculatingCopy(workbook, { functions, version, date, units, cautions: [CAUTION] }).bytes;
  return { workbook, plain, demo };
}
