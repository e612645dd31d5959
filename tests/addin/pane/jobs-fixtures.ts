/** An invented job list as the workbook hands it to the pane, and an audit sheet of it. */
import type { JobSource, WrittenAudit } from "../../../addin/sheet";
import type { Audit } from "../../../functions/audit/audit";

export const source = (over: Partial<JobSource> = {}): JobSource => ({
  name: "Past jobs!A1:F5",
  sheet: "Past jobs",
  address: "A2:F5",
  headings: ["Job", "Price"],
  rows: 4,
  ...over,
});

export const writtenFor = (audit: Audit): WrittenAudit => ({
  what: "Audit written to the new sheet “Audit”",
  sheets: [],
  tables: [],
  names: [],
  calibrationRefs: audit.groups.map((_, i) => ({ estimated: `Audit!$H$${i}`, actual: `Audit!$I$${i}` })),
});
