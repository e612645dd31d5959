/** The crew's exposure, whose code comes when a plan first has any of it. */
import { nothing } from "lit";
import { type Inputs, tellsExposure } from "../../../../functions/plan/inputs";
import type { Problems } from "../../../../functions/plan/problems";
import type { Pane } from "../../commands";
import { partLater } from "../../part-later";
import { PLAN } from "../texts";

const later = partLater(async () => (await import(/* webpackChunkName: "exposure" */ "./exposure")).exposureView);

export function exposureLater(pane: Pane, inputs: Inputs, problems: Problems): unknown {
  if (!tellsExposure(inputs)) return nothing;
  const view = later.part();
  if (view) return view(inputs, problems);
  // Every change of the plan comes by here: a failure isn't tried again.
  if (!later.hasFailed()) later.ask(pane);
  return later.hasFailed() ? PLAN.exposureNotLoaded : nothing;
}
