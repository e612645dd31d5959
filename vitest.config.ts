import { defineConfig } from "vitest/config";

// Two projects so that the browser tests never run beside the fast ones on two cores; benchmarks have a configuration of their own.
export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: "unit",
          include: ["tests/**/*.test.ts"],
          exclude: ["tests/preview/**"],
          setupFiles: ["tests/host-globals.ts", "tests/seed.ts"],
          // A whole plan over the headless host takes a second alone, and many times that on a busy machine.
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
      {
        test: {
          name: "preview",
          include: ["tests/preview/**/*.test.ts"],
          fileParallelism: false,
          expect: { poll: { timeout: 10_000 } },
          testTimeout: 60_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
