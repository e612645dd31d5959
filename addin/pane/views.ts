/** The views, each with its commands; but for the first, their code is loaded when they are first opened. */
import type { Pane } from "./commands";
import type { Feature } from "./feature";
import type { PlanCommands } from "./plan/actions";
import { planFeature } from "./plan/feature";
import type { State, View } from "./state";

const LATER: Readonly<Record<Exclude<View, "plan">, () => Promise<(pane: Pane) => Feature>>> = {
  bid: async () => (await import(/* webpackChunkName: "bid" */ "./bid/feature")).bidFeature,
  functions: async () => (await import(/* webpackChunkName: "functions" */ "./functions/feature")).functionsFeature,
  jobs: async () => (await import(/* webpackChunkName: "jobs" */ "./jobs/feature")).jobsFeature,
  share: async () => (await import(/* webpackChunkName: "share-view" */ "./share/feature")).shareFeature,
};

export interface Views {
  /** Views whose code has loaded. */
  readonly opened: Readonly<Partial<Record<View, Feature>>>;
  readonly plan: PlanCommands;
  /** Loads a view's code; where that fails, the view says so. */
  load(view: View): Promise<void>;
}

export function viewsOn(pane: Pane): Views {
  const { store } = pane;
  const plan = planFeature(pane);
  const opened: Partial<Record<View, Feature>> = { plan };
  const mark = (view: View, code: State["code"][View]) =>
    store.change((state) => ({ ...state, code: { ...state.code, [view]: code } }));
  return {
    opened,
    plan: plan.commands,

    async load(view) {
      if (view === "plan") return mark(view, "here");
      mark(view, "loading");
      try {
        opened[view] = (await LATER[view]())(pane);
        mark(view, "here");
      } catch {
        mark(view, "failed");
      }
    },
  };
}
