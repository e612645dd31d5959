/** How the pane has a copy made by a worker: here one that only says what the test lets it say. */
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { Refusal } from "../../../../addin/common/refusal";
import { makeCopy } from "../../../../addin/pane/share/copier";
import type { Order } from "../../../../addin/share/copies";
import { CALCULATING } from "./fixtures";

class PlayedWorker extends EventTarget {
  static last: PlayedWorker;
  static started = 0;
  readonly asked: unknown[] = [];
  ended = false;
  constructor(readonly url: URL) {
    super();
    PlayedWorker.last = this;
    PlayedWorker.started++;
  }
  postMessage(order: unknown): void {
    this.asked.push(order);
  }
  terminate(): void {
    this.ended = true;
  }
  says(data: unknown): void {
    this.dispatchEvent(new MessageEvent("message", { data }));
  }
}

const ORDER: Order = { kind: "price", bytes: new Uint8Array([1]), options: { keep: [{ sheet: "Quote" }] } };
const COPY = { bytes: new Uint8Array([2]), made: CALCULATING };

const canceling = () => {
  const controller = new AbortController();
  const progress = vi.fn();
  return { means: { signal: controller.signal, progress }, progress, cancel: () => controller.abort() };
};

beforeEach(() => {
  PlayedWorker.started = 0;
  vi.stubGlobal("Worker", PlayedWorker);
});
afterEach(() => vi.unstubAllGlobals());

describe("a copy made by a worker", () => {
  it("is ordered from the worker's own file, told of as it goes on, and ends it", async () => {
    const { means, progress } = canceling();
    const made = makeCopy(ORDER, means);
    const worker = PlayedWorker.last;
    expect(worker.url.pathname).toMatch(/share\/copy-worker\.ts$/);
    expect(worker.asked).toEqual([ORDER]);
    worker.says({ share: 0.372 });
    expect(progress).toHaveBeenCalledWith(37, 100, expect.any(String));
    expect(worker.ended).toBe(false);
    worker.says({ copy: COPY });
    expect(await made).toBe(COPY);
    expect(worker.ended).toBe(true);
  });

  it("that is canceled ends the worker in the middle of its work", async () => {
    const { means, cancel } = canceling();
    const made = makeCopy(ORDER, means);
    cancel();
    await expect(made).rejects.toThrow(new Refusal("Canceled; no copy was made."));
    expect(PlayedWorker.last.ended).toBe(true);
  });

  it("that was canceled before starts no worker", async () => {
    const { means, cancel } = canceling();
    cancel();
    await expect(makeCopy(ORDER, means)).rejects.toThrow(Refusal);
    expect(PlayedWorker.started).toBe(0);
  });

  it.each([
    ["a refusal in its words", { refused: "The file is empty." }, Refusal, "The file is empty."],
    ["a fault of ours as no refusal", { fault: "x is not a function" }, Error, "x is not a function"],
  ])("gives %s, and ends the worker", async (_, word, kind, text) => {
    const made = makeCopy(ORDER, canceling().means);
    PlayedWorker.last.says(word);
    const error = await made.catch((reason: unknown) => reason);
    expect(error).toBeInstanceOf(kind);
    expect(error instanceof Refusal).toBe(kind === Refusal);
    expect((error as Error).message).toBe(text);
    expect(PlayedWorker.last.ended).toBe(true);
  });

  it("says what to do where the worker's file cannot be loaded", async () => {
    const made = makeCopy(ORDER, canceling().means);
    PlayedWorker.last.dispatchEvent(new Event("error"));
    await expect(made).rejects.toThrow(/^Couldn't load the part that makes copies\. Check the connection/);
  });
});
