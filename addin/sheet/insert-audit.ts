/** Writes the Audit sheet of a list of past jobs: all of it or nothing. */
import type { Audit } from "../../functions/audit/audit";
import type { JobProblem } from "../../functions/audit/check";
import type { Mapping } from "../../functions/audit/fields";
import { auditSheet } from "./audit-sheet";
import { inWorkbook } from "./in-workbook";
import { insertSheet } from "./insert";
import { type JobSource, locate, type Means, stopIfAsked } from "./job-list";
import { freeSheetName, takenNames } from "./names";
import type { CalibratedJobs } from "./plan";
import { allOrNothing, type Inserted } from "./undo";

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
    await means.progress(0, 2, "Writing the audit");
    const list = await locate(context, place);
    const name = freeSheetName("Audit", (await takenNames(context)).sheets);
    // Sweden writes a day as 2026-11-25.
    const date = new Date().toLocaleDateString("sv-SE");
    const { pastJobs, ...made } = auditSheet({ name, list, mapping, audit, problems, date });
    stopIfAsked(means);
    return allOrNothing(context, async (ledger) => {
      await insertSheet(ledger, name, made, true);
      await means.progress(1, 2, "Writing the audit");
      stopIfAsked(means);
      const inserted = await ledger.close();
      stopIfAsked(means);
      return {
        ...inserted,
        what: `Audit written to the new sheet “${name}”`,
        calibrationRefs: pastJobs,
      };
    });
  });
}
