/** How the time of typical functions grows with their rows, and what memory a call leaves behind. */
import { it } from "vitest";
import { rowsOf } from "./columns";
import { exponent, race, report, table } from "./measure";
import { SHIPPED } from "./shipped";
import { waysOf } from "./ways";

const SIZES = [1e3, 1e4, 1e5, 1e6];
const TYPICAL = ["SIZE", "PASSTIME", "TOOLSTOBUY", "MACHINECOST", "CALIBRATE", "OUTLIERS"];

/** MB that the answer of one call takes, once what it took on the way is cleared up. */
function memoryOf(call: () => unknown): number {
  globalThis.gc?.();
  const before = process.memoryUsage().heapUsed;
  const answer = call();
  globalThis.gc?.();
  const after = process.memoryUsage().heapUsed;
  return Array.isArray(answer) ? (after - before) / 1e6 : Number.NaN;
}

const growthOf = (times: readonly number[]) =>
  `rows^${exponent(SIZES.map((count, i) => [count, times[i]!] as const)).toFixed(2)}`;

it("measures a thousand to a million rows", () => {
  const lines = SHIPPED.filter(({ id }) => TYPICAL.includes(id)).map((entry) => {
    let memory = 0;
    const times = SIZES.map((count) => {
      const rows = rowsOf(entry, count);
      memory = memoryOf(() => entry.shipped(...rows.args));
      return race(waysOf(rows), { turns: count > 1e5 ? 3 : 9, warmUp: 2 });
    });
    const [ours, loop] = [times.map(({ ours }) => ours), times.map(({ loop }) => loop)];
    return [entry.id, ...ours, growthOf(ours), growthOf(loop), ours.at(-1)! / loop.at(-1)!, memory] as const;
  });
  const head = [
    "ms for",
    "1,000 rows",
    "10,000",
    "100,000",
    "1,000,000",
    "grows as",
    "the loop as",
    "÷ loop at 1,000,000",
  ];
  report("Growth", table([...head, "answer of 1,000,000, MB"], lines));
});
