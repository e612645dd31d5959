/**
 * Gets what the view in sight needs and does not have: its code, and what it shows of the workbook. It follows the state on
 * its own, apart from what is shown; since nobody asked for it, it waits until no command runs.
 */
import type { Reads } from "./feature";
import type { State, View } from "./state";
import type { Store } from "./store";

interface Views {
  readonly opened: Readonly<Partial<Record<View, Reads>>>;
  load(view: View): Promise<void>;
}

export function keepUp(store: Store<State>, { opened, load }: Views): void {
  /** What is to be done at this moment; undefined where nothing is. */
  function due(): (() => Promise<void>) | undefined {
    const { state } = store;
    const { view, host, busy, question } = state;
    if (state.code[view] === "due") return () => load(view);
    const feature = opened[view];
    if (!feature?.isToRead(state)) return undefined;
    const isFree = host === "ready" && !busy && !question;
    return isFree || !feature.needsWorkbook ? feature.read : undefined;
  }

  store.subscribe(() => {
    // By then another command may have begun; the change that ends it asks again.
    if (due()) queueMicrotask(() => void due()?.().catch(() => undefined));
  });
}
