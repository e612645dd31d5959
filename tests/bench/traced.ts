/**
 * What the main thread of a page was busy with, from Chromium's own trace: its tasks, and in each of them whose code ran,
 * by the profiler's samples. Processor time, ms. The preview's spreadsheet and the pane share one thread; in Excel the
 * pane has its own.
 */
import type { Browser, Page } from "playwright-core";

/** Whose code: the pane's with our functions that it calls, the client library's, the preview's, or the browser's own. */
type Owner = "pane" | "client" | "preview" | "browser";

type Times = Readonly<Record<Owner, number>>;

export interface Traced {
  /** Until it was done, by the clock. */
  readonly wall: number;
  /** Of the longest task of all. */
  readonly longest: number;
  /** The task with the most of the pane's own code: what each had of it. */
  readonly ofPane: Times;
  /** In all tasks together. */
  readonly total: Times;
}

interface CallFrame {
  readonly url?: string;
}
interface Node {
  readonly id: number;
  readonly parent?: number;
  readonly callFrame: CallFrame;
}
export interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  readonly id?: string;
  readonly pid: number;
  readonly tid: number;
  readonly ts: number;
  readonly dur?: number;
  /** Of that, what the thread had the processor for. */
  readonly tdur?: number;
  readonly args: {
    /** Of a thread. */
    readonly name?: string;
    readonly data?: {
      readonly startTime?: number;
      readonly cpuProfile?: { readonly nodes?: readonly Node[]; readonly samples?: readonly number[] };
      readonly timeDeltas?: readonly number[];
    };
  };
}

const CATEGORIES = ["disabled-by-default-devtools.timeline", "disabled-by-default-v8.cpu_profiler"];

/** Does something in the page while it is traced. */
export async function traced(browser: Browser, page: Page, work: () => Promise<unknown>): Promise<Traced> {
  await browser.startTracing(page, { categories: CATEGORIES });
  const start = performance.now();
  await work();
  const wall = performance.now() - start;
  const { traceEvents } = JSON.parse((await browser.stopTracing()).toString()) as { traceEvents: TraceEvent[] };
  return { wall, ...readTrace(traceEvents) };
}

function ownerOf(url: string): Owner {
  if (url.includes("/office/")) return "client";
  if (url.includes("/preview/")) return "preview";
  return "pane";
}

/** A moment of the profile: how long, and whose. */
interface Sample {
  readonly at: number;
  readonly took: number;
  readonly owner: Owner;
}

/** Of the page's main thread: workers, and pages that the browser keeps for itself, have profiles of their own. */
function samplesOf(events: readonly TraceEvent[]) {
  const mains = events.filter(({ name, args }) => name === "thread_name" && args.name === "CrRendererMain");
  const profiles = events
    .filter(({ name, pid, tid }) => name === "Profile" && mains.some((main) => main.pid === pid && main.tid === tid))
    .map((profile) => {
      const chunks = events.filter(
        ({ name, id, pid }) => name === "ProfileChunk" && id === profile.id && pid === profile.pid,
      );
      return { profile, samples: readProfile(profile, chunks) };
    });
  const most = profiles.sort((a, b) => b.samples.length - a.samples.length)[0];
  if (!most) throw new Error("the trace has no profile");
  return most;
}

function readProfile(profile: TraceEvent, chunks: readonly TraceEvent[]): Sample[] {
  const nodes = new Map<number, Node>();
  const owners = new Map<number, Owner>();
  // What runs in the browser itself, such as a sort or a search in a text, counts for the script that asked for it; so do
  // our functions, which the preview's spreadsheet calls too.
  const owner = (id: number | undefined): Owner => {
    const node = id === undefined ? undefined : nodes.get(id);
    if (!node) return "browser";
    const url = node.callFrame.url ?? "";
    const isOwn = url !== "" && !url.endsWith("/functions.js");
    const found = owners.get(node.id) ?? (isOwn ? ownerOf(url) : owner(node.parent));
    owners.set(node.id, found);
    return found;
  };
  const samples: { at: number; owner: Owner }[] = [];
  let at = profile.args.data?.startTime ?? profile.ts;
  for (const { args } of chunks) {
    const { cpuProfile, timeDeltas = [] } = args.data ?? {};
    for (const node of cpuProfile?.nodes ?? []) nodes.set(node.id, node);
    for (const [i, id] of (cpuProfile?.samples ?? []).entries()) {
      at += timeDeltas[i] ?? 0;
      samples.push({ at, owner: owner(id) });
    }
  }
  samples.sort((a, b) => a.at - b.at);
  // A sample stands for the time until the next.
  return samples.map((one, i) => ({ ...one, took: (samples[i + 1]?.at ?? one.at) - one.at }));
}

/** µs that a task had the processor: on a busy machine it waits for it in between, which is no fault of its own. */
const processorTime = ({ dur = 0, tdur = dur }: TraceEvent) => tdur;

const none = (): Record<Owner, number> => ({ pane: 0, client: 0, preview: 0, browser: 0 });

export function readTrace(events: readonly TraceEvent[]): Omit<Traced, "wall"> {
  const { profile, samples } = samplesOf(events);
  const tasks = events
    .filter(({ name, ph, pid, tid }) => name === "RunTask" && ph === "X" && pid === profile.pid && tid === profile.tid)
    .sort((a, b) => a.ts - b.ts);
  if (tasks.length === 0) throw new Error("the trace has no tasks of the page");
  const total = none();
  let ofPane: Record<Owner, number> = none();
  let next = 0;
  for (const task of tasks) {
    const { ts, dur = 0 } = task;
    const share = processorTime(task) / Math.max(1, dur);
    const inTask = none();
    while (next < samples.length && samples[next]!.at < ts) next++;
    for (; next < samples.length && samples[next]!.at < ts + dur; next++) {
      const { owner, took } = samples[next]!;
      inTask[owner] += (took * share) / 1000;
      total[owner] += (took * share) / 1000;
    }
    if (inTask.pane > ofPane.pane) ofPane = inTask;
  }
  return { longest: Math.max(...tasks.map(processorTime)) / 1000, ofPane, total };
}
