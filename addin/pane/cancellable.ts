/** Long work that shows how far it is, and stops when it is asked to. */
import { type Means, Refusal } from "../sheet";
import { breath } from "./breath";
import type { Progress } from "./jobs/state";
import type { Message } from "./state";

export function cancellable(show: (progress: Progress | null) => void) {
  let cancelling = new AbortController();
  return {
    cancel: () => cancelling.abort(),

    async run(work: (means: Means) => Promise<Message | null>): Promise<Message | null> {
      cancelling = new AbortController();
      const { signal } = cancelling;
      try {
        return await work({
          signal,
          progress: async (done, of, doing) => {
            show({ done, of, doing });
            await breath();
          },
        });
      } catch (error) {
        if (signal.aborted && error instanceof Refusal) return { kind: "note", text: error.message };
        throw error;
      } finally {
        show(null);
      }
    },
  };
}
