/** What a run ends with: how much was tested and compared, and which tests came near their time limits. */
import type { Reporter, SerializedError, TestCase, TestModule, TestRunEndReason, Vitest } from "vitest/node";
import least from "./least.json" with { type: "json" };

/** Beyond this share of its limit, a test may fail on a busy machine. */
const NEAR = 1 / 3;

interface Slow {
  readonly name: string;
  readonly seconds: number;
  readonly limit: number;
}

export class Summary implements Reporter {
  private vitest!: Vitest;

  onInit(vitest: Vitest): void {
    this.vitest = vitest;
  }

  async onTestRunEnd(
    modules: readonly TestModule[],
    _: readonly SerializedError[],
    reason: TestRunEndReason,
  ): Promise<void> {
    const tests = modules.flatMap((module) => [...module.children.allTests()]);
    const compared = added(modules.map((module) => module.meta().compared ?? {}));
    const slow = tests.flatMap(nearLimit).toSorted((a, b) => b.seconds / b.limit - a.seconds / a.limit);
    const { logger } = this.vitest;
    logger.log(` All tests: ${tests.length}`);
    for (const [what, cells] of Object.entries(compared)) logger.log(` Compared, ${what}: ${cells} cells agree`);
    for (const { name, seconds, limit } of slow) {
      logger.log(` Took ${seconds.toFixed(1)} s of the ${limit} s it may take: ${name}`);
    }
    if (reason !== "passed" || !(await this.isWhole(modules.length))) return;
    for (const [what, count] of Object.entries({ tests: tests.length, ...compared })) {
      const before = (least as Record<string, number>)[what] ?? 0;
      if (count >= before) continue;
      logger.error(` There were ${before} (${what}), and now ${count}: tests/run/least.json keeps count.`);
      process.exitCode = 1;
    }
  }

  /** Whether every test was asked for. */
  private async isWhole(files: number): Promise<boolean> {
    const { config, vite } = this.vitest;
    if (vite.config.mode === "fast") return false; // leaves the proofs out
    if (config.testNamePattern || config.project.length > 0) return false;
    return files === (await this.vitest.globTestSpecifications()).length;
  }
}

function added(counts: readonly Readonly<Record<string, number>>[]): Record<string, number> {
  const sum: Record<string, number> = {};
  for (const count of counts) for (const [what, n] of Object.entries(count)) sum[what] = (sum[what] ?? 0) + n;
  return sum;
}

function nearLimit(test: TestCase): Slow[] {
  const seconds = (test.diagnostic()?.duration ?? 0) / 1000;
  const limit = (test.options.timeout ?? test.project.config.testTimeout) / 1000;
  return seconds > limit * NEAR ? [{ name: `${test.module.relativeModuleId}, ${test.fullName}`, seconds, limit }] : [];
}
