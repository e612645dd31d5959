/** A part of a view whose code comes when it is first asked for. */
import type { Pane } from "./commands";

export interface PartLater<Part> {
  /** Undefined until it is here. */
  part(): Part | undefined;
  readonly hasFailed: () => boolean;
  /** Loads it, once; a failure is tried again at the next asking. The view is shown anew once it is known. */
  ask(pane: Pane): void;
}

export function partLater<Part>(load: () => Promise<Part>): PartLater<Part> {
  let part: Part | undefined;
  let code: "due" | "loading" | "failed" = "due";
  return {
    part: () => part,
    hasFailed: () => code === "failed",
    ask({ store }) {
      if (code === "loading" || part) return;
      code = "loading";
      load()
        .then(
          (loaded) => {
            part = loaded;
          },
          () => {
            code = "failed";
          },
        )
        .then(() => store.change((now) => ({ ...now })));
    },
  };
}
