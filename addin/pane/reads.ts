/**
 * Whether what a view shows is still as it was read, from the workbook or from a file of the add-in. Each view reads its
 * own; a read that is asked for while one is running comes after it.
 */
export interface Read {
  readonly due: boolean;
  readonly running: boolean;
}

export const CURRENT: Read = { due: false, running: false };
export const DUE: Read = { due: true, running: false };

type Reads<View extends string> = Readonly<Record<View, Read>>;
interface WithReads<View extends string> {
  readonly reads: Reads<View>;
}

const mark = <V extends string, S extends WithReads<V>>(state: S, view: V, read: Partial<Read>): S => {
  const before = state.reads[view];
  const after = { ...before, ...read };
  const isSame = after.due === before.due && after.running === before.running;
  return isSame ? state : { ...state, reads: { ...state.reads, [view]: after } };
};

/** What was read may be out of date. */
export const outOfDate = <V extends string, S extends WithReads<V>>(state: S, view: V): S =>
  mark(state, view, { due: true });

/** Whether it is time to read. */
export const isToRead = ({ due, running }: Read): boolean => due && !running;

/** Marks a read as running until it ends or fails. */
export async function reading<V extends string, S extends WithReads<V>>(
  store: { change(next: (state: S) => S): void },
  view: V,
  work: () => Promise<unknown>,
): Promise<void> {
  store.change((state) => mark(state, view, { due: false, running: true }));
  try {
    await work();
  } finally {
    store.change((state) => mark(state, view, { running: false }));
  }
}
