/** An invented job list as the workbook hands it to the pane, and an audit sheet of it. */
import type { JobSource, WrittenAudit } from "../../../../addin/sheet";
import type { Audit } from "../../../../functions/audit/audit";

export const source = (over: Partial<JobSource> = {}): JobSource => ({
  place: { sheet: "Past jobs", cell: "A1" },
  name: "Past jobs!A1:F5",
  sheetName: "Past jobs",
  headings: ["Job", "Price"],
  rows: 4,
  top: 1,
  left: 0,
  ...over,
});

export const writtenFor = (audit: Audit): WrittenAudit => ({
  what: "Audit written to the new sheets “Audit” and “Audit jobs”",
  sheets: [],
  names: [],
  calibrationRefs: audit.groups.map((_, i) => ({
    estimated: `Audit!$H$${i}`,
    actual: `Audit!$I$${i}`,
    line: `Audit!$H$${i}:$M$${i}`,
  })),
});
