/** Long work that shows how far it is, and stops when it is asked to. */
import { type Means, Refusal } from "../sheet";
import { breath } from "./breath";
import { type Message, note } from "./messages";

/** How far a long command is. */
export interface Progress {
  readonly doing: string;
  readonly done: number;
  readonly of: number;
}

export function cancelable(show: (progress: Progress | null) => void) {
  let canceling = new AbortController();
  return {
    cancel: () => canceling.abort(),

    async run(work: (means: Means) => Promise<Message | null>): Promise<Message | null> {
      canceling = new AbortController();
      const { signal } = canceling;
      try {
        return await work({
          signal,
          progress: async (done, of, doing) => {
            show({ done, of, doing });
            await breath();
          },
        });
      } catch (error) {
        if (signal.aborted && error instanceof Refusal) return note(error.message);
        throw error;
      } finally {
        show(null);
      }
    },
  };
}
