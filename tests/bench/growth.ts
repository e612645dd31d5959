/**
 * Says after a benchmark how its times grow, and on what machine they were taken. A group whose benches are named by a
 * number ("500 tools") gets the exponent p of time = a × number^p: the slope of the line through ln number and ln time.
 */
import { cpus } from "node:os";
import { experimental_getRunnerTask, type Reporter, type TestModule, type TestSuite } from "vitest/node";

/** Least-squares slope of ln y over ln x. */
function exponent(points: readonly (readonly [x: number, y: number])[]): number {
  const logs = points.map(([x, y]) => [Math.log(x), Math.log(y)] as const);
  const mean = (of: 0 | 1) => logs.reduce((sum, point) => sum + point[of], 0) / logs.length;
  const [meanX, meanY] = [mean(0), mean(1)];
  const across = logs.reduce((sum, [x, y]) => sum + (x - meanX) * (y - meanY), 0);
  return across / logs.reduce((sum, [x]) => sum + (x - meanX) ** 2, 0);
}

/** Number and median time in ms of each bench of a group. */
function timesOf(group: TestSuite): [number, number][] {
  return [...group.children.tests()].flatMap((test) => {
    const median = experimental_getRunnerTask(test).result?.benchmark?.median;
    const size = Number.parseFloat(test.name);
    return median && size > 0 ? [[size, median] as [number, number]] : [];
  });
}

export default class Growth implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]) {
    const [cpu] = cpus();
    const lines = [`${cpu?.model.trim()}, ${cpus().length} cores, Node ${process.versions.node}, ${process.platform}`];
    for (const group of modules.flatMap((module) => [...module.children.allSuites()])) {
      const times = timesOf(group);
      if (times.length === 0) continue;
      const medians = times.map(([size, ms]) => `${size}: ${ms.toPrecision(3)} ms`).join(", ");
      const growth = times.length > 2 ? `; grows as number^${exponent(times).toFixed(2)}` : "";
      lines.push(`${group.fullName}: ${medians}${growth}`);
    }
    process.stdout.write(`\nMedian times\n${lines.map((line) => `  ${line}\n`).join("")}`);
  }
}
