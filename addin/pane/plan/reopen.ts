/** A plan that was read from its sheet, in the form, and what an update of it would change. Loaded when one is opened. */
import { diffArrays } from "diff";
import { INTERVAL_CONFIDENCE } from "../../../functions/audit/classes";
import { spreadBehind } from "../../../functions/plan/calibrated";
import { type Choice, GROUPS, type Group } from "../../../functions/plan/field";
import { FIELDS, field, KEYS, type Key } from "../../../functions/plan/fields";
import { applies, type Inputs, signBefore, unitOf } from "../../../functions/plan/inputs";
import type { Shelf } from "../../../functions/plan/shelf";
import type { PlannedStage } from "../../../functions/plan/stage";
import type { OpenedPlan, ReadCalibration } from "../../sheet";
import { labelOf } from "../calibration";
import { briefly, money, withUnit } from "../numbers";
import { proposalFor } from "./sequences";
import { newPlan, type PlanState } from "./state";
import { PLAN } from "./texts";

const isSame = (a: PlannedStage, b: PlannedStage) =>
  a.work === b.work && a.tool === b.tool && (a.machine ?? "") === (b.machine ?? "") && a.passes === b.passes;

/** Whether the sequence is the one that would be proposed, and so may go on following the inputs. */
function isProposed({ inputs, stages }: OpenedPlan, shelf: Shelf): boolean {
  const { stages: proposed } = proposalFor(inputs, shelf);
  return proposed.length === stages.length && proposed.every((stage, i) => isSame(stage, stages[i]!));
}

/** The form as the sheet has the plan. */
export function openedInForm(plan: PlanState, opened: OpenedPlan, read: ReadCalibration | undefined): PlanState {
  const { inputs, links, stages, on, jobsOn, pastJobs } = opened;
  const { sheetId, sheet, floor } = on;
  const sameShelf = plan.shelf.units === inputs.units;
  const calibration =
    jobsOn && pastJobs && read
      ? {
          ...jobsOn,
          label: labelOf(jobsOn, read.jobs),
          known: { factor: read.factor, spread: spreadBehind(read, INTERVAL_CONFIDENCE), jobs: read.jobs },
          estimated: pastJobs.estimated,
          actual: pastJobs.actual,
        }
      : null;
  const ownStages = sameShelf && isProposed(opened, plan.shelf.shelf) ? null : stages;
  return {
    ...newPlan(plan),
    welcome: false,
    openGroups: (Object.keys(GROUPS) as Group[]).filter((group) => ["job", "floor", "finish"].includes(group)),
    inputs,
    links,
    opened: { sheetId, sheet, floor },
    ownStages,
    openedStages: ownStages,
    calibration,
  };
}

const choiceLabel = (choices: readonly Choice[], value: unknown) =>
  choices.find(([word]) => word === value)?.[1] ?? String(value);

function valueWords(key: Key, inputs: Inputs): string {
  const f = field(key);
  const value = inputs[key];
  if (f.kind === "choice") return choiceLabel(f.choices, value);
  if (f.kind === "text") return value === "" ? PLAN.changes.blank : String(value);
  if (value === null) return f.blankMeans ?? PLAN.changes.blank;
  const number = `${f.money ? signBefore(inputs) : ""}${briefly(value as number, f)}`;
  return withUnit(number, unitOf(key, inputs.units));
}

type Written = Pick<OpenedPlan, "inputs" | "links" | "stages"> & { readonly price: number | null };

const plain = (address: string | undefined) => address?.replace(/[$']/g, "");

/** What an update changes, a line each: inputs, links, stages, and last the price. */
export function changesIn(before: Written, after: Written): string[] {
  const inputs = KEYS.flatMap((key) => {
    const { label } = FIELDS[key];
    const [was, is] = [plain(before.links[key]), plain(after.links[key])];
    if (was !== is)
      return [
        is === undefined ? PLAN.changes.unlinked(label, valueWords(key, after.inputs)) : PLAN.changes.linked(label, is),
      ];
    const matters = applies(key, before.inputs) || applies(key, after.inputs);
    if (!matters || is !== undefined || before.inputs[key] === after.inputs[key]) return [];
    return [PLAN.changes.from(label, valueWords(key, before.inputs), valueWords(key, after.inputs))];
  });
  const sign = signBefore(after.inputs);
  const cost = (price: number | null) => (price === null ? PLAN.changes.noPrice : money(price, sign));
  const [was, is] = [cost(before.price), cost(after.price)];
  return [
    ...inputs,
    ...stageChanges(before.stages, after.stages),
    ...(was === is ? [] : [PLAN.changes.from(PLAN.price, was, is)]),
  ];
}

function stageChanges(before: readonly PlannedStage[], after: readonly PlannedStage[]): string[] {
  const nameOf = ({ work, tool, machine = "" }: PlannedStage) => [work, tool, machine].join("\n");
  let [old, now] = [0, 0];
  return diffArrays(before.map(nameOf), after.map(nameOf)).flatMap(({ added, removed, count = 0 }) =>
    Array.from({ length: count }, () => {
      if (added) return PLAN.changes.stageAdded(now + 1, after[now++]!);
      if (removed) return PLAN.changes.stageRemoved(old + 1, before[old++]!);
      const [a, b] = [before[old++]!, after[now++]!];
      return a.passes === b.passes ? "" : PLAN.changes.passes(now, b.tool, b.passes);
    }).filter((words) => words !== ""),
  );
}
