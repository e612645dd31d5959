/** Where an audit has the past jobs that a plan is calibrated by. */
import type { CalibrationGroup } from "../../functions/audit/audit";
import { quotedSheet, sheetOf, withoutSheet } from "../common/a1";
import { CALIBRATION as AUDIT, CONFIDENCE_NAME } from "./audit-texts";
import type { PastJobs } from "./plan";

/** A group of jobs on an audit sheet. */
export interface GroupOnAudit {
  readonly by: CalibrationGroup["by"];
  readonly value: string;
  readonly line: string;
}

/** A group's word stands in its line on the audit, and in the plan's formulas with it. */
const WORD = /=(?<cell>'(?:[^']|'')+'!\$A\$\d+)\)\*/;

/** The audit's line of a plan's past jobs; undefined where no audit has it. */
export async function findGroup(
  context: Excel.RequestContext,
  { estimated }: Pick<PastJobs, "estimated">,
): Promise<GroupOnAudit | undefined> {
  const word = WORD.exec(estimated)?.groups?.cell ?? (await lineOfAll(context));
  if (word === undefined) return undefined;
  const cell = withoutSheet(word);
  const sheet = context.workbook.worksheets.getItemOrNullObject(sheetOf(word));
  await context.sync();
  if (sheet.isNullObject) return undefined;
  const kind = sheet.getRange(`${cell}:${cell.replace("$A$", "$B$")}`).load("values");
  await context.sync();
  const [value, words] = kind.values[0]!.map(String) as [string, string];
  const by = KINDS.find((key) => AUDIT.kinds[key] === words);
  return by && { by, value: by === "all" ? "" : value, line: `${word}:${cell.replace("$A$", "$F$")}` };
}

const KINDS = Object.keys(AUDIT.kinds) as CalibrationGroup["by"][];

/** All jobs have no word: theirs is the first line, beside the audit's own confidence. With several audits, the last one. */
async function lineOfAll(context: Excel.RequestContext): Promise<string | undefined> {
  const sheets = context.workbook.worksheets.load("items/name,items/names/items/name,items/names/items/formula");
  await context.sync();
  const named = sheets.items.flatMap(({ names }) => names.items.filter(({ name }) => name === CONFIDENCE_NAME));
  const at = named.at(-1) && String(named.at(-1)!.formula).replace(/^=/, "");
  return at && `${quotedSheet(sheetOf(at))}!${withoutSheet(at).replace(/^\$[A-Z]+/, "$A")}`;
}
