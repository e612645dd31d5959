/** Holds the one state; what shows it, stores it or follows it subscribes, each on its own. */
export class Store<S extends object> {
  private readonly listeners: ((state: S) => void)[] = [];

  constructor(public state: S) {}

  readonly change = (next: (state: S) => S): void => {
    const state = next(this.state);
    if (state === this.state) return;
    this.state = state;
    // One that changes the state again has all called with the newest; the others then go without the older.
    for (const listener of this.listeners) if (state === this.state) listener(state);
  };

  subscribe(listener: (state: S) => void): void {
    this.listeners.push(listener);
  }

  /** One feature's part of the state, changed on its own. */
  part<Name extends keyof S>(name: Name): Part<S[Name]> {
    const store = this;
    return {
      get state() {
        return store.state[name];
      },
      change: (next) =>
        store.change((state) => {
          const part = next(state[name]);
          return part === state[name] ? state : { ...state, [name]: part };
        }),
    };
  }
}

export interface Part<P> {
  readonly state: P;
  readonly change: (next: (part: P) => P) => void;
}
