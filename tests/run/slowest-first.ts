/** Test files in the order that keeps every worker busy to the end: the longest first, the small ones last. */
import { BaseSequencer, type TestSpecification } from "vitest/node";

/** A worker that shares modules goes on for as long as the next file is of the same project. */
const PROJECTS = ["preview", "unit", "mocks"];

/** Where the tests are that take longest: on a machine that has not run them yet, nothing else tells. */
const LONGEST = [
  "share/agreement",
  "share/calculating-copy-own-scale",
  "share/libreoffice/",
  "sheet/exposure",
  "sheet/faults",
  "sheet/audit",
  "sheet/",
  "pane/",
  "share/",
  "preview/host/",
];

function rank({ project, moduleId }: TestSpecification): number {
  const place = LONGEST.findIndex((start) => moduleId.includes(`/tests/addin/${start}`));
  return PROJECTS.indexOf(project.name) * 100 + (place === -1 ? LONGEST.length : place);
}

export class SlowestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return (await super.sort(files)).toSorted((a, b) => rank(a) - rank(b));
  }
}
