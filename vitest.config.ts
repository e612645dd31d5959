import { readdirSync, readFileSync } from "node:fs";
import { availableParallelism } from "node:os";
import { join } from "node:path";
import { defineConfig } from "vitest/config";
import { SlowestFirst } from "./tests/run/slowest-first";
import { Summary } from "./tests/run/summary";

const ROOT = import.meta.dirname;

const all = readdirSync(join(ROOT, "tests"), { recursive: true, encoding: "utf8" })
  .map((file) => `tests/${file.replaceAll("\\", "/")}`)
  .filter((file) => file.endsWith(".test.ts") && !file.startsWith("tests/preview/"));
const replacesModules = (file: string) => readFileSync(join(ROOT, file), "utf8").includes("vi.mock(");

const unit = {
  setupFiles: ["tests/host-globals.ts", "tests/seed.ts", "tests/run/left-as-found.ts"],
  // A whole plan over the headless host takes a second alone, and many times that on a busy machine.
  testTimeout: 120_000,
  hookTimeout: 120_000,
};

// Benchmarks have a configuration of their own.
export default defineConfig({
  test: {
    // By default one core stays free.
    maxWorkers: availableParallelism(),
    sequence: { sequencer: SlowestFirst },
    reporters: ["default", new Summary()],
    projects: [
      {
        // A worker loads the spreadsheet engine once for all its files, and keeps it warm: that alone takes seconds.
        extends: true,
        test: { ...unit, name: "unit", include: all.filter((file) => !replacesModules(file)), isolate: false },
      },
      {
        extends: true,
        test: { ...unit, name: "mocks", include: all.filter(replacesModules) },
      },
      {
        extends: true,
        test: {
          name: "preview",
          include: ["tests/preview/**/*.test.ts"],
          setupFiles: ["tests/run/left-as-found.ts"],
          isolate: false,
          expect: { poll: { timeout: 10_000 } },
          testTimeout: 60_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
