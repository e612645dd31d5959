/**
 * Loads what the view on show is missing: its code, and its data from the workbook. It reacts to state changes and is no
 * part of rendering; it waits until no command runs.
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
    // Check again: another command may have started meanwhile. When it ends, this runs again.
    if (due()) queueMicrotask(() => void due()?.().catch(() => undefined));
  });
}
