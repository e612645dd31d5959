/** Takes times side by side, and writes them down with the machine that they were taken on. */
import { cpus, loadavg } from "node:os";

export const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1]!;
};

export interface Turns {
  readonly turns: number;
  readonly warmUp: number;
}

/** Time that this process has had the processor, ms: what others do on the machine meanwhile does not count. */
const processorTime = () => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

/** Takes away what others have left behind lately, so that each pays for its own; there with `node --expose-gc`. */
const clearUp = () => globalThis.gc?.({ type: "minor" });

/**
 * Median processor time of each way to do a thing, ms, that of clearing up behind it too. They take turns, so that what
 * else the machine does meets all of them alike; a ratio of two of them means more than either time.
 */
export function race<Way extends string>(ways: Readonly<Record<Way, () => unknown>>, { turns, warmUp }: Turns) {
  const names = Object.keys(ways) as Way[];
  const times = Object.fromEntries(names.map((name) => [name, [] as number[]])) as Record<Way, number[]>;
  for (let turn = -warmUp; turn < turns; turn++) {
    for (const name of names) {
      clearUp();
      const start = processorTime();
      ways[name]();
      const took = processorTime() - start;
      if (turn >= 0) times[name].push(took);
    }
  }
  return Object.fromEntries(names.map((name) => [name, median(times[name])])) as Record<Way, number>;
}

/** Least-squares slope of ln y over ln x: the p of y = a × xᵖ. */
export function exponent(points: readonly (readonly [x: number, y: number])[]): number {
  const logs = points.map(([x, y]) => [Math.log(x), Math.log(y)] as const);
  const mean = (of: 0 | 1) => logs.reduce((sum, point) => sum + point[of], 0) / logs.length;
  const [meanX, meanY] = [mean(0), mean(1)];
  const across = logs.reduce((sum, [x, y]) => sum + (x - meanX) * (y - meanY), 0);
  return across / logs.reduce((sum, [x]) => sum + (x - meanX) ** 2, 0);
}

/** Two digits that count, and no more after the point than they need. */
export const short = (x: number): string => (x >= 100 ? x.toFixed(0) : String(Number(x.toPrecision(2))));

const machine = (): string =>
  `${cpus()[0]!.model.trim()}, ${cpus().length} cores, Node ${process.versions.node}, ${process.platform}; ` +
  `load ${loadavg()[0]!.toFixed(1)} while it was measured`;

/** A table as Markdown has it: numbers to the right. */
export function table(head: readonly string[], rows: readonly (readonly (string | number)[])[]): string {
  const line = (cells: readonly (string | number)[]) => `| ${cells.join(" | ")} |`;
  const isNumber = (k: number) => rows.some((row) => typeof row[k] === "number");
  const rule = head.map((_, k) => (isNumber(k) ? "---:" : "---"));
  const shown = rows.map((row) => row.map((cell) => (typeof cell === "number" ? short(cell) : cell)));
  return [head, rule, ...shown].map(line).join("\n");
}

/** The result of a benchmark, for copying into tests/bench/README.md. */
export function report(title: string, text: string): void {
  process.stdout.write(`\n### ${title}\n\n${machine()}\n\n${text}\n`);
}
