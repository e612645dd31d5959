/** The words for what the check of a job list finds, as the pane and the Audit sheet show them. */
import { shown } from "../cell";
import { halfMissing, wrongHeadingWords } from "../headings";
import type { WhyNot } from "./audit";
import type { JobProblem, Wrong } from "./check";
import { type JobKey, jobField } from "./fields";
import type { WrongHeading } from "./headings";
import { isError } from "./job-cells";

const labelOf = (key: JobKey) => jobField(key).label;
const allowedIn = (key: JobKey) => jobField(key).domain?.words ?? "a name or a number";

/** What is wrong with a row or a cell, and what to do. `rowName` names another row of the list: "row 12". */
export function problemWords({ key, wrong }: Pick<JobProblem, "key" | "wrong">, rowName: (row: number) => string) {
  switch (wrong.kind) {
    case "blankRow":
      return "This row is blank.";
    case "missing":
      return `${labelOf(key!)} is missing. It must be ${allowedIn(key!)}.`;
    case "halfMissing":
      return halfMissing(labelOf(key!), labelOf(wrong.other));
    case "badValue":
      return `${labelOf(key!)} must be ${allowedIn(key!)}; got ${gotWords(wrong.got)}.${nextStep(key!, wrong)}`;
    case "total":
      return totalWords(wrong, rowName);
    case "maybeTotal": {
      const why =
        wrong.by === "figures" ? "its figures are close to the sums of the rows above" : "its name reads like one";
      return `"${wrong.name}" may be a total row: ${why}. If it is, name it "Total".`;
    }
    case "duplicate":
      return `"${wrong.name}" appears more than once. This row is the same as ${rowName(wrong.of)} in every cell.`;
    case "nameTaken":
      return `"${wrong.name}" is also the job in ${rowName(wrong.of)}, with other figures. Give each job its own name.`;
  }
}

const gotWords = (got: unknown) => (isError(got) ? `the error ${got}` : shown(got));

function nextStep(key: JobKey, { got, meant }: Extract<Wrong, { kind: "badValue" }>): string {
  // In a cell with the format Text whatever is typed becomes a text again.
  if (meant !== undefined) return ` Enter the number ${meant} (format General, not Text).`;
  return jobField(key).kind === "date" && typeof got === "string" && !isError(got) ? " Enter it again as a date." : "";
}

function totalWords(wrong: Extract<Wrong, { kind: "total" }>, rowName: (row: number) => string): string {
  switch (wrong.by) {
    case "name":
      return `"${wrong.name}" is a total row, not a job.`;
    case "earlier row":
      return `"${wrong.name}" is a total row, as is ${rowName(wrong.of)} with the same name.`;
    case "figures":
      return wrong.name === undefined
        ? "This row has no job name and adds up the rows above: a total row, not a job."
        : `"${wrong.name}" adds up the rows above: a total row, not a job.`;
  }
}

/** What a problem means for the figures. */
export const EFFECTS = {
  "left out": "Row not counted",
  counted: "Job counted; figures needing this cell are skipped",
  "in doubt": "Row counted",
} as const satisfies Record<JobProblem["effect"], string>;

/** What is wrong with a field's heading, and what to do. */
export const headingWords = (key: JobKey, wrong: WrongHeading): string => wrongHeadingWords(key, wrong, labelOf);

/** Why a group of jobs has no calibration. */
export const whyNotWords = (why: WhyNot): string =>
  why.kind === "tooFew"
    ? `Needs ${why.least} jobs with quoted and actual hours; has ${why.jobs}.`
    : `No factor: ${why.message}.`;
