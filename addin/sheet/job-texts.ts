/** What the commands on lists of past jobs say: refusals, progress, and what is on the empty jobs table. */
import { refusalsOf } from "../common/refusal";

export const refuseJobs = refusalsOf({
  canceled: () => "Canceled; nothing was written.",
  emptySheet: () => "This sheet is empty. Select a cell in your list of past jobs.",
  noHeadings: () =>
    "No headings found above the selected cell. Select a cell in your list of past jobs; its first row must name the columns.",
  noRows: ({ list }: { list: string }) => `${list} has no rows below its headings. Add your jobs, then try again.`,
  tableGone: ({ table }: { table: string }) => `The table ${table} is no longer in this workbook. Choose another list.`,
  sheetGone: ({ sheet }: { sheet: string }) =>
    `The sheet “${sheet}” is no longer in this workbook. Choose another list.`,
  listGone: ({ sheet }: { sheet: string }) => `The sheet “${sheet}” is empty now. Choose another list.`,
  secondList: ({ at }: { at: string }) =>
    `A second list starts at ${at}, below this one. Keep one list per sheet, or make each one a table.`,
  headingGone: ({ heading }: { heading: string }) =>
    `The list no longer has a column “${heading}”. Choose its heading again.`,
  otherVersion: ({ version, known }: { version: number; known: number }) =>
    `Can't use the headings saved in this workbook: they're from version ${version}, and this add-in reads version ${known}. They were left as they are.`,
  damagedChoice: () => "Can't use the headings saved in this workbook: they're damaged. They were left as they are.",
});

/** What a long command is doing. */
export const DOING = { reading: "Reading jobs", writing: "Writing the audit" } as const;

export const auditWritten = (sheet: string, jobsSheet: string) =>
  `Audit written to the new sheets “${sheet}” and “${jobsSheet}”`;
export const tableWritten = (sheet: string) => `An empty jobs table was written to the new sheet “${sheet}”`;

/** The empty jobs table. */
export const JOBS_TABLE = {
  title: "Past jobs",
  note: "One row per finished job, numbers as numbers. A job counts once it has both prices and both costs.",
  money: "money",
  mustBe: (label: string, allowed: string) => `${label} must be ${allowed}.`,
} as const;
