/** Writes the audit of a list of past jobs, on two sheets: all of it or nothing. */
import type { Audit } from "../../functions/audit/audit";
import type { JobProblem } from "../../functions/audit/check";
import type { Mapping } from "../../functions/audit/headings";
import { auditSheets } from "./audit-sheet";
import { JOB_ROWS } from "./audit-texts";
import { inWorkbook } from "./in-workbook";
import { insertSheet } from "./insert";
import { type JobSource, locateOne, type Means, stopIfAsked } from "./job-list";
import { auditWritten, DOING } from "./job-texts";
import { allOrNothing, type Inserted } from "./ledger";
import { freeSheetName } from "./names";
import type { CalibratedJobs } from "./plan";
import { lookAround } from "./surroundings";

/** An audit that stands in the workbook. */
export interface WrittenAudit extends Inserted {
  /** For each of the audit's groups, the hours of its jobs as a plan's formulas refer to them. */
  readonly calibrationRefs: readonly CalibratedJobs[];
}

export function insertAudit(
  { place }: JobSource,
  mapping: Mapping,
  audit: Audit,
  problems: readonly JobProblem[],
  means: Means,
): Promise<WrittenAudit> {
  return inWorkbook(async (context) => {
    await means.progress(0, 3, DOING.writing);
    const list = await locateOne(context, place);
    const { sheets } = await lookAround(context);
    const name = freeAuditName(sheets);
    const jobsName = JOB_ROWS.sheet(name);
    // Sweden writes a day as 2026-11-25.
    const date = new Date().toLocaleDateString("sv-SE");
    const made = auditSheets({ name, jobsName, list, mapping, audit, problems, date });
    stopIfAsked(means);
    return allOrNothing(context, async (ledger) => {
      // The job rows first, to which the audit's formulas refer.
      await insertSheet(ledger, jobsName, made.jobs, false);
      await means.progress(1, 3, DOING.writing);
      stopIfAsked(means);
      const audit = await insertSheet(ledger, name, made.audit, true);
      // New sheets come last; the audit is read before its job rows.
      audit.position = sheets.length;
      await means.progress(2, 3, DOING.writing);
      stopIfAsked(means);
      const inserted = await ledger.close();
      stopIfAsked(means);
      return { ...inserted, what: auditWritten(name, jobsName), calibrationRefs: made.pastJobs };
    });
  });
}

/** "Audit", or "Audit 2" and so on, whose sheet of job rows has a free name too. */
function freeAuditName(sheets: readonly string[]): string {
  for (const taken = [...sheets]; ; ) {
    const name = freeSheetName("Audit", taken);
    if (freeSheetName(JOB_ROWS.sheet(name), sheets) === JOB_ROWS.sheet(name)) return name;
    taken.push(name);
  }
}
