import type { State } from "./state";

/** Holds the one state and shows each change of it. */
export class Store {
  constructor(
    public state: State,
    private readonly show: (state: State) => void,
  ) {}

  readonly change = (next: (state: State) => State): void => {
    const state = next(this.state);
    if (state === this.state) return;
    this.state = state;
    this.show(state);
  };
}
