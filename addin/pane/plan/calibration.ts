/** The lesson that the plan is made with, kept true: to what the audit says now, and to the slab that it is about. */
import { hardnessClass, INTERVAL_CONFIDENCE, LEAST_FOR_INTERVAL } from "../../../functions/audit/audit";
import { CellFailure } from "../../../functions/cell";
import { type Calibrated, calibrated, spreadBehind } from "../../../functions/plan/calibrated";
import type { Estimate } from "../../../functions/plan/estimate";
import { FIELDS } from "../../../functions/plan/fields";
import type { NoCalibration, ReadCalibration } from "../../sheet";
import { carried, groupName, type Lesson, labelOf, lessonOf, teaching } from "../jobs/state";
import { briefly } from "../numbers";
import type { State } from "../state";

/** What the audit tells now, or why it tells nothing; passed over where the plan has gone on to other jobs. */
export function takeCalibration(state: State, asked: Lesson, told: ReadCalibration | NoCalibration): State {
  const lesson = carried(state);
  if (lesson?.line !== asked.line) return state;
  if ("kind" in told) {
    const lessonTrouble = `The audit sheet that the plan learns from (${lesson.label}) ${noCalibrationWords(told)}. Forget what was learned, or write the audit again and use it.`;
    return { ...state, jobs: { ...state.jobs, lessonTrouble } };
  }
  const known = { factor: told.factor, spread: spreadBehind(told, INTERVAL_CONFIDENCE), jobs: told.jobs };
  const label = labelOf(lesson, told.jobs);
  return {
    ...state,
    inputs: { ...state.inputs, pastJobs: label },
    jobs: { ...state.jobs, lesson: { ...lesson, label, known }, lessonTrouble: "" },
  };
}

function noCalibrationWords(why: NoCalibration): string {
  switch (why.kind) {
    case "sheetGone":
      return "is gone or has another name";
    case "otherWord":
      return `holds ${why.found === "" ? "nothing" : `“${why.found}”`} where “${why.word}” was, in ${why.at}`;
    case "tooFew":
      return `has fewer than ${LEAST_FOR_INTERVAL} of these jobs with hours now`;
    case "noFactor":
      return `shows no factor for them any more, in ${why.at}`;
  }
}

/** What the lesson makes of the plan, or why there is nothing to tell. */
export function learnedOf({ inputs, jobs }: State, estimate: Estimate): Calibrated | string {
  const { lesson, lessonTrouble } = jobs;
  if (lessonTrouble || !lesson) return lessonTrouble;
  try {
    return calibrated(estimate, inputs, lesson.known);
  } catch (failure) {
    if (failure instanceof CellFailure) return `No hours at this confidence: ${failure.message}.`;
    throw failure;
  }
}

/** "80 %". */
export const confidenceIn = ({ inputs }: State) => `${briefly(inputs.confidence!, FIELDS.confidence)} %`;

/** Whether the audit is to be read before the lesson's price is looked at. */
export const isLessonDue = (state: State): boolean =>
  state.view === "plan" && carried(state) !== undefined && !state.jobs.lessonRead;

export const setLessonRead = (state: State, lessonRead: boolean): State =>
  state.jobs.lessonRead === lessonRead ? state : { ...state, jobs: { ...state.jobs, lessonRead } };

/** That the lesson is about another kind of slab than the plan's, and what the audit teaches of that one. */
export interface OtherSlab {
  readonly words: string;
  readonly instead?: Lesson;
}

export function otherSlab(state: State): OtherSlab | null {
  const lesson = carried(state);
  const { hardness } = state.inputs;
  if (lesson?.by !== "hardness" || hardness === null) return null;
  const slab = hardnessClass(hardness);
  if (slab === lesson.value) return null;
  const words = `These jobs were on ${plural(lesson.value)}; this is a ${slab} (${hardness} Mohs).`;
  const group = state.jobs.written?.groups.find(({ by, value }) => by === "hardness" && value === slab);
  if (!group) return { words: `${words} Of ${plural(slab)} nothing is known here: see the Jobs view.` };
  const told = `Jobs on ${plural(slab)}: ${teaching(group)}`;
  return { words: `${words} ${told}`, instead: lessonOf(state.jobs, group) };
}

/** "medium slabs". */
const plural = (slab: string) => `${slab}s`;

/** How the button is called that takes the other jobs. */
export const insteadWords = (lesson: Lesson) => `Learn from ${groupName(lesson)}s instead`;
