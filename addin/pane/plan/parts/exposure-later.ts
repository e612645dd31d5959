/** The crew's exposure, whose code comes when a plan first has any of it. */
import { nothing } from "lit";
import { type Inputs, tellsExposure } from "../../../../functions/plan/inputs";
import type { Problems } from "../../../../functions/plan/problems";
import type { Pane } from "../../commands";
import { PLAN } from "../texts";
import type { exposureView } from "./exposure";

let view: typeof exposureView | undefined;
let code: "due" | "loading" | "failed" = "due";

/** Shown anew once the code is here, or could not be loaded. */
function load({ store }: Pane): void {
  code = "loading";
  import(/* webpackChunkName: "exposure" */ "./exposure")
    .then(
      (loaded) => {
        view = loaded.exposureView;
      },
      () => {
        code = "failed";
      },
    )
    .then(() => store.change((now) => ({ ...now })));
}

export function exposureLater(pane: Pane, inputs: Inputs, problems: Problems): unknown {
  if (!tellsExposure(inputs)) return nothing;
  if (view) return view(inputs, problems);
  if (code === "due") load(pane);
  return code === "failed" ? PLAN.exposureNotLoaded : nothing;
}
