/** Makes a copy beside the pane, in a thread of its own: the pane stays at hand, and stops the work by ending this. */
import { Refusal } from "../common/refusal";
import { type Copy, copyOf, type Order } from "./copies";

/** What the pane hears: how far the work is, and at last the copy or why there is none. */
export type Word =
  | { readonly share: number }
  | { readonly copy: Copy }
  | { readonly refused: string }
  | { readonly fault: string };

/** More often than this nobody sees. */
const TELL_EVERY_MS = 100;

const say = (word: Word, transfer: Transferable[] = []) => postMessage(word, { transfer });

addEventListener("message", ({ data }: MessageEvent<Order>) => {
  let told = performance.now();
  const follow = (share: number) => {
    if (performance.now() - told < TELL_EVERY_MS) return;
    told = performance.now();
    say({ share });
  };
  try {
    const copy = copyOf(data, follow);
    say({ copy }, [copy.bytes.buffer]);
  } catch (error) {
    if (error instanceof Refusal) say({ refused: error.message });
    else say({ fault: error instanceof Error ? error.message : String(error) });
  }
});
