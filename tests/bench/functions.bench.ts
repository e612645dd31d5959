/**
 * Every function over 100,000 rows beside a bare loop, IronCalc and one call after the other. Both the function and the
 * loop take the host's blocks and give one back, since nothing registered with the host can do without; the loop alone, on
 * typed columns, is there to tell how much of the time is arithmetic.
 */
import { it } from "vitest";
import { type Rows, rowsOf, takesLists } from "./columns";
import { ironCalcTime } from "./ironcalc";
import { hasLoop } from "./loops";
import { median, race, report, table } from "./measure";
import { SHIPPED } from "./shipped";
import { waysOf } from "./ways";

const LOOPED = SHIPPED.filter(hasLoop);
const ROWS = 100_000;
const SINGLE = 300;
const REPEATED = 20;

const overRanges = (rows: Rows) => race(waysOf(rows), { turns: 7, warmUp: 2 });

/** Single calls one after the other, µs for each: the median of different ones, each repeated. */
function oneByOne({ entry, args }: Rows): number {
  const times = Array.from({ length: SINGLE }, (_, i) => {
    const call = args.map((arg) => (Array.isArray(arg) ? [[arg[i % arg.length]![0]]] : arg));
    const start = performance.now();
    for (let n = 0; n < REPEATED; n++) entry.shipped(...call);
    return ((performance.now() - start) * 1000) / REPEATED;
  });
  return median(times);
}

it("measures every function over ranges and one by one", () => {
  // As in a workbook that uses all of them: what the boundary learned of one function must not be all it knows.
  for (const entry of LOOPED) {
    const { args } = rowsOf(entry, 100);
    for (let n = 0; n < 20; n++) entry.shipped(...args);
  }

  const lines = LOOPED.map((entry) => {
    const { ours, loop, bare } = overRanges(rowsOf(entry, ROWS));
    const single = takesLists(entry) ? "" : oneByOne(rowsOf(entry, SINGLE));
    return [entry.id, ours, ours / loop, bare, single] as const;
  });
  const over = lines.filter(([, , ratio]) => ratio > 3).map(([id]) => id);
  const middle = median(lines.map(([, , ratio]) => ratio));
  report(
    "Functions",
    `${table(["function", "ms for 100,000 rows", "÷ loop", "arithmetic alone, ms", "one call, µs"], lines)}\n\n` +
      `Median ratio to the loop ${middle.toFixed(1)}; above 3: ${over.join(", ") || "none"}.`,
  );
});

it("measures the plain formulas in IronCalc", () => {
  const lines = LOOPED.flatMap((entry) => {
    const perRow = ironCalcTime(entry);
    return perRow === undefined ? [] : [[entry.id, perRow * ROWS] as const];
  });
  report("IronCalc", table(["plain formula of", "ms for 100,000 rows (from 1,000)"], lines));
});
