/** Changes of the list of past jobs and of its headings. */
import { JOB_KEYS, type JobKey, jobField } from "../../../functions/audit/fields";
import { guessMapping, type Mapping, problemsOfMapping, type WrongHeading } from "../../../functions/audit/headings";
import type { JobSource } from "../../sheet";
import { afresh, type JobsState } from "./state";
import { JOBS } from "./texts";

const countOf = (mapping: Mapping) => Object.keys(mapping).length;

/**
 * Takes a list: with the headings chosen last time where it has them all, else with those that explain themselves.
 * The mapping is open only while there is something to choose.
 */
export function takeSource(jobs: JobsState, source: JobSource, lastTime: Mapping): JobsState {
  const fits = countOf(lastTime) > 0 && Object.values(lastTime).every((heading) => source.headings.includes(heading));
  const mapping = fits ? lastTime : guessMapping(source.headings);
  const matched = Object.values(mapping);
  const complete =
    headingsOf(source).every((heading) => matched.includes(heading)) &&
    Object.keys(problemsOfMapping(mapping, source.headings)).length === 0;
  return afresh(jobs, { source, mapping, chosen: fits ? "last time" : "guess", mappingOpen: !fits && !complete });
}

/** The user's word on one field; "" says that the list does not have it. */
export function setHeading(jobs: JobsState, key: JobKey, heading: string): JobsState {
  const { [key]: _, ...others } = jobs.mapping;
  const mapping = heading === "" ? others : { ...others, [key]: heading };
  return afresh(jobs, { mapping, chosen: "user" });
}

export const mappingProblems = ({ source, mapping }: JobsState): Partial<Record<JobKey, WrongHeading>> =>
  source ? problemsOfMapping(mapping, source.headings) : {};

/** Headings to choose from: each once, and none that is blank. */
export const headingsOf = ({ headings }: JobSource): string[] =>
  [...new Set(headings)].filter((heading) => heading.trim() !== "");

/** A closed mapping in a line. */
export const mappingDigest = ({ mapping, chosen }: JobsState): string =>
  JOBS.mappingDigest(chosen, countOf(mapping), JOB_KEYS.length);

/** Why the list cannot be read with these headings; empty when it can. */
export function mappingTrouble(jobs: JobsState): string {
  const problems = Object.keys(mappingProblems(jobs)) as JobKey[];
  return problems.length === 0 ? "" : JOBS.fixHeadings(problems.map((key) => jobField(key).label));
}
