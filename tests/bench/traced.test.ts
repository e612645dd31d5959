/** What the benchmark makes of a trace, held to one that was written and worked out by hand. */
import { describe, expect, it } from "vitest";
import { readTrace, type TraceEvent } from "./traced";

const PANE = "http://localhost/pane.js";
const FUNCTIONS = "http://localhost/functions.js";
const GRID = "http://localhost/preview/preview.js";
const OFFICE = "http://localhost/preview/office/office.js";

const node = (id: number, url: string, parent?: number) => ({ id, callFrame: { url }, ...(parent && { parent }) });

/** A thread with a profile of a sample every 10 ms from 1 s on, and tasks [start, length, of that with the processor] in ms. */
function thread(
  tid: number,
  name: string,
  samples: readonly number[],
  tasks: readonly (readonly number[])[],
): TraceEvent[] {
  const event = { pid: 1, tid, ts: 1e6, id: `0x${tid}` };
  const nodes = [
    node(1, ""),
    node(2, PANE, 1),
    node(3, FUNCTIONS, 2), // called by the pane
    node(4, GRID, 1),
    node(5, FUNCTIONS, 4), // called by the spreadsheet
    node(6, OFFICE, 2),
    node(7, "", 2), // the browser's own, for the pane
  ];
  return [
    { ...event, ph: "M", name: "thread_name", args: { name } },
    { ...event, ph: "P", name: "Profile", args: { data: { startTime: 1e6 - 1e4 } } },
    {
      ...event,
      ph: "P",
      name: "ProfileChunk",
      args: { data: { cpuProfile: { nodes, samples }, timeDeltas: samples.map(() => 1e4) } },
    },
    ...tasks.map(([at, dur, tdur]) => ({
      ...event,
      ph: "X",
      name: "RunTask",
      ts: 1e6 + at! * 1000,
      dur: dur! * 1000,
      tdur: tdur! * 1000,
      args: {},
    })),
  ];
}

describe("a trace", () => {
  // By hand: the first task has samples 2 2 3 7 4, of 10 ms each, of which it had the processor for half; the second 4 5 6 2 1.
  const main = thread(
    1,
    "CrRendererMain",
    [2, 2, 3, 7, 4, 4, 5, 6, 2, 1, 1],
    [
      [0, 50, 25],
      [50, 50, 50],
    ],
  );
  const worker = thread(2, "DedicatedWorker thread", new Array(50).fill(2), [[0, 500, 500]]);

  it("tells whose code ran in a task, our functions and the browser's own work for who asked for them", () => {
    const { longest, ofPane, total } = readTrace([...worker, ...main]);
    expect(longest).toBe(50);
    expect(ofPane).toEqual({ pane: 20, client: 0, preview: 5, browser: 0 });
    expect(total).toEqual({ pane: 30, client: 10, preview: 25, browser: 10 });
  });

  it("without the page's thread, or without its tasks, is no measurement", () => {
    expect(() => readTrace(worker)).toThrow(/no profile/);
    expect(() => readTrace(main.filter(({ name }) => name !== "RunTask"))).toThrow(/no tasks/);
  });
});
