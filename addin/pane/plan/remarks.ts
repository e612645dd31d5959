/** What stands beside a plan's result: what has to be bought, and what decides the hours. */
import type { Estimate, StageEstimate } from "../../../functions/plan/estimate";
import { type Inputs, signBefore } from "../../../functions/plan/inputs";
import { money } from "../numbers";
import { PLAN } from "./texts";

export const remarksOn = (estimate: Estimate, inputs: Inputs): string[] => [
  toBuy(estimate, signBefore(inputs)),
  ...edgesDecide(estimate, inputs),
];

function toBuy({ rows }: Estimate, sign: string): string {
  const sum = (of: (row: StageEstimate) => number) => rows.reduce((all, row) => all + of(row), 0);
  const price = sum((row) => row.toBuyPrice);
  return PLAN.setsToBuy(
    sum((row) => row.setsToBuy),
    money(price, sign),
  );
}

/** Where the edges take longer than the machine beside them, a wider machine saves nothing. */
function edgesDecide({ rows }: Estimate, { edgeWork }: Inputs): string[] {
  const tools = rows.filter(({ grit }) => grit !== null);
  const some = tools.filter(({ edgeHours, machineHours }) => edgeHours > machineHours).length;
  return edgeWork === "alongside" && some > 0 ? [PLAN.edgesDecide(some, tools.length)] : [];
}
