import { defineConfig } from "vitest/config";

// Two projects so that the browser tests never run beside the fast ones on two cores.
export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: "unit",
          include: ["tests/**/*.test.ts"],
          exclude: ["tests/preview/**"],
          setupFiles: ["tests/host-globals.ts"],
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
