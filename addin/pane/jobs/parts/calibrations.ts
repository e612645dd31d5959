/** What past jobs teach, group by group, and the way into the next quote. */
import { html, nothing } from "lit";
import type { CalibrationGroup } from "../../../../functions/audit/audit";
import { button } from "../../parts/button";
import type { Store } from "../../store";
import { carry, groupName, isOutdated, type Lesson, lessonOf, markedWords, ofThisSlab, teaching } from "../state";

const TITLES = { all: "", bond: "By bond", hardness: "By slab hardness", machine: "By machine" } as const;

export function lessonsView(store: Store, groups: readonly CalibrationGroup[]) {
  const { written } = store.state.jobs;
  return html`
    ${
      written
        ? nothing
        : html`<p class="remark">
            To use one of these for a quote, write the audit sheet first: the quote's formulas refer to its cells.
          </p>`
    }
    ${(Object.keys(TITLES) as CalibrationGroup["by"][]).map((by) =>
      ofKind(
        store,
        TITLES[by],
        groups.filter((group) => group.by === by),
      ),
    )}
  `;
}

function ofKind(store: Store, title: string, groups: readonly CalibrationGroup[]) {
  if (groups.length === 0) return nothing;
  return html`
    ${title ? html`<h3>${title}</h3>` : nothing}
    <ul class="lessons">
      ${groups.map((group) => groupView(store, group))}
    </ul>
  `;
}

function groupView(store: Store, group: CalibrationGroup) {
  const name = groupName(group);
  const { jobs, inputs } = store.state;
  const lesson = lessonOf(jobs, group);
  return html`
    <li>
      <p><strong>${name}</strong> <span class="count">${group.jobs === 1 ? "1 job" : `${group.jobs} jobs`}</span></p>
      ${ofThisSlab(group, inputs) ? html`<p class="note">The slab of the present plan</p>` : nothing}
      <p>${teaching(group)}</p>
      ${group.calibration && group.marked ? html`<p class="remark">${markedWords(group)}</p>` : nothing}
      ${
        lesson
          ? button("Use for the next quote", () => use(store, lesson), {
              size: "small",
              label: `Use for the next quote: ${name}`,
            })
          : nothing
      }
      ${
        isOutdated(jobs, group)
          ? html`<p class="note">The audit sheet has this group with other jobs, or not at all. Write the audit again to use it.</p>`
          : nothing
      }
    </li>
  `;
}

/** Goes on in the plan, at what it learned; or where the plan begins while it lacks something. */
function use(store: Store, lesson: Lesson): void {
  store.change((state) => carry(state, lesson));
  (document.getElementById("learned") ?? document.getElementById("tab-plan"))?.focus();
}
