/** Benchmarks: `npm run bench`, or one of them by a part of its name, `npm run bench functions`. Never part of `npm test`. */
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/bench/*.bench.ts"],
    setupFiles: ["tests/host-globals.ts", "tests/seed.ts"],
    fileParallelism: false,
    pool: "forks",
    execArgv: ["--expose-gc", "--no-allocation-site-pretenuring"],
    testTimeout: 1_800_000,
    reporters: ["verbose"],
  },
});
