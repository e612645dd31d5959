/** Has a copy made in a thread of its own, so that the pane never stands still, however large the workbook is. */
import type { Copy, Order } from "../../share/copies";
import type { Word } from "../../share/copy-worker";
import { type Means, Refusal } from "../../sheet";
import { SHARE } from "./texts";

const start = () =>
  new Worker(/* webpackChunkName: "share" */ new URL("../../share/copy-worker.ts", import.meta.url), {
    name: "copies",
  });

export function makeCopy(order: Order, { signal, progress }: Means): Promise<Copy> {
  if (signal.aborted) return Promise.reject(new Refusal(SHARE.canceled));
  const worker = start();
  const made = new Promise<Copy>((resolve, reject) => {
    const hear = (word: Word) => {
      if ("share" in word) void progress(Math.round(100 * word.share), 100, SHARE.percent);
      else if ("copy" in word) resolve(word.copy);
      else reject("refused" in word ? new Refusal(word.refused, word.reason) : new Error(word.fault));
    };
    signal.addEventListener("abort", () => reject(new Refusal(SHARE.canceled)), { once: true });
    worker.addEventListener("message", ({ data }: MessageEvent<Word>) => hear(data));
    worker.addEventListener("error", () => reject(new Refusal(SHARE.notLoaded)));
    // Not handed over: the workbook's bytes stay the caller's.
    worker.postMessage(order);
  });
  return made.finally(() => worker.terminate());
}
