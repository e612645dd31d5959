/** Remembers in the workbook which headings of the user's list mean what. */
import * as z from "zod/mini";
import { JOB_KEYS, type JobKey } from "../../functions/audit/fields";
import type { Mapping } from "../../functions/audit/headings";
import { inWorkbook, refuseReadOnly } from "./in-workbook";
import type { JobSource, ListPlace } from "./job-list";
import { refuseJobs } from "./job-texts";

const SETTING = "Gritledger.jobs";
const VERSION = 1;

const REMEMBERED = z.object({
  version: z.literal(VERSION),
  mapping: z.partialRecord(z.enum(JOB_KEYS as [JobKey, ...JobKey[]]), z.string()),
  place: z.union([z.object({ table: z.string() }), z.object({ sheet: z.string(), cell: z.string() })]),
});

export interface Remembered {
  readonly mapping: Mapping;
  readonly place: ListPlace;
}

/** What was chosen last time; undefined when nothing was. What this version does not know is refused, and stays. */
export function readMapping(): Promise<Remembered | undefined> {
  return inWorkbook(readMappingIn);
}

export async function readMappingIn(context: Excel.RequestContext): Promise<Remembered | undefined> {
  const setting = context.workbook.settings.getItemOrNullObject(SETTING).load("value");
  await context.sync();
  if (setting.isNullObject) return undefined;
  const parsed = REMEMBERED.safeParse(setting.value);
  if (parsed.success) return parsed.data;
  const { version } = Object(setting.value) as { version?: unknown };
  if (typeof version === "number" && version !== VERSION) throw refuseJobs("otherVersion", { version, known: VERSION });
  throw refuseJobs("damagedChoice");
}

/** Keeps the choice in the workbook, unless another version's is there. */
export function rememberMapping({ place }: JobSource, mapping: Mapping): Promise<void> {
  return inWorkbook(async (context) => {
    await readMappingIn(context);
    refuseReadOnly(context);
    context.workbook.settings.add(SETTING, { version: VERSION, mapping, place });
    await context.sync();
  });
}
