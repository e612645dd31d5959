/** Makes a copy beside the pane, in a thread of its own: the pane stays at hand, and stops the work by ending this. */
import { type Reason, Refusal } from "../common/refusal";
import { type Copy, copyOf, type Order } from "./copies";

/** What the pane hears: how far the work is, and at last the copy or why there is none. */
export type Word =
  | { readonly share: number }
  | { readonly copy: Copy }
  /** Its words, and what they are made of. */
  | { readonly refused: string; readonly reason: Reason | undefined }
  | { readonly fault: string };

/** More often than this nobody sees. */
const SAY_EVERY_MS = 100;

const say = (word: Word, transfer: Transferable[] = []) => postMessage(word, { transfer });

addEventListener("message", ({ data }: MessageEvent<Order>) => {
  let said = performance.now();
  const follow = (share: number) => {
    if (performance.now() - said < SAY_EVERY_MS) return;
    said = performance.now();
    say({ share });
  };
  try {
    const copy = copyOf(data, follow);
    say({ copy }, [copy.bytes.buffer]);
  } catch (error) {
    if (error instanceof Refusal) say({ refused: error.message, reason: error.reason });
    else say({ fault: error instanceof Error ? error.message : String(error) });
  }
});
