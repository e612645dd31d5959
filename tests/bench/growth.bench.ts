/** How the time of typical functions grows with their rows, and what memory a call leaves behind. */
import { it } from "vitest";
import { byId } from "../catalogue";
import { rowsOf } from "./columns";
import { exponent, race, report, table } from "./measure";

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

it("measures a thousand to a million rows", () => {
  const lines = TYPICAL.map((id) => {
    const entry = byId(id);
    let memory = 0;
    const times = SIZES.map((count) => {
      const { args } = rowsOf(entry, count);
      memory = memoryOf(() => entry.fn(...args));
      return race({ ours: () => entry.fn(...args) }, { turns: count > 1e5 ? 3 : 9, warmUp: 2 }).ours;
    });
    const slope = exponent(SIZES.map((count, i) => [count, times[i]!] as const));
    return [id, ...times, `rows^${slope.toFixed(2)}`, memory] as const;
  });
  report(
    "Growth",
    table(["ms for", "1,000 rows", "10,000", "100,000", "1,000,000", "grows as", "answer of 1,000,000, MB"], lines),
  );
});
