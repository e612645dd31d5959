/** What past jobs took, group by group, and the way into the next quote. */
import { html, nothing } from "lit";
import type { CalibrationGroup } from "../../../../functions/audit/audit";
import { type Calibration, calibrationOf, groupName, isOutdated } from "../../calibration";
import type { Pane } from "../../commands";
import { done } from "../../messages";
import { button } from "../../parts/button";
import { useInPlan } from "../../use-calibration";
import { factorOf, isThisSlab, markedWords } from "../check";
import type { JobsContext } from "../context";
import { JOBS } from "../texts";

export function calibrationsView(context: JobsContext, groups: readonly CalibrationGroup[]) {
  return html`
    ${context.jobs.state.written ? nothing : html`<p class="remark">${JOBS.writeFirst}</p>`}
    ${(Object.keys(JOBS.by) as CalibrationGroup["by"][]).map((by) =>
      ofKind(
        context,
        JOBS.by[by],
        groups.filter((group) => group.by === by),
      ),
    )}
  `;
}

function ofKind(context: JobsContext, title: string, groups: readonly CalibrationGroup[]) {
  if (groups.length === 0) return nothing;
  return html`
    ${title ? html`<h3>${title}</h3>` : nothing}
    <ul class="calibrations">
      ${groups.map((group) => groupView(context, group))}
    </ul>
  `;
}

function groupView({ pane, jobs }: JobsContext, group: CalibrationGroup) {
  const name = groupName(group);
  const { written } = jobs.state;
  const calibration = calibrationOf(written, group);
  return html`
    <li>
      <p><strong>${name}</strong> <span class="count">${JOBS.jobs(group.jobs)}</span></p>
      ${isThisSlab(group, pane.store.state.plan.inputs) ? html`<p class="note">${JOBS.thisSlab}</p>` : nothing}
      <p>${factorOf(group)}</p>
      ${group.calibration && group.marked ? html`<p class="remark">${markedWords(group)}</p>` : nothing}
      ${
        calibration
          ? button(JOBS.use, () => use(pane, calibration), { size: "small", label: JOBS.labelOfUse(name) })
          : nothing
      }
      ${isOutdated(written, group) ? html`<p class="note">${JOBS.outdated}</p>` : nothing}
    </li>
  `;
}

/** Goes on in the plan, at what it uses; or where the plan begins while it lacks something. */
function use({ store }: Pane, calibration: Calibration): void {
  const message = done(JOBS.used(calibration.label));
  store.change((state) => ({ ...useInPlan(state, calibration), message }));
  (document.getElementById("calibration") ?? document.getElementById("tab-plan"))?.focus();
}
