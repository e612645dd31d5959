import { readdirSync, readFileSync } from "node:fs";
import { availableParallelism } from "node:os";
import { join } from "node:path";
import { defineConfig } from "vitest/config";
import { SlowestFirst } from "./tests/run/slowest-first.ts";
import { Summary } from "./tests/run/summary.ts";

const ROOT = import.meta.dirname;

const all = readdirSync(join(ROOT, "tests"), { recursive: true, encoding: "utf8" })
  .map((file) => `tests/${file.replaceAll("\\", "/")}`)
  .filter((file) => file.endsWith(".test.ts") && !file.startsWith("tests/preview/"));
const text = (file: string) => readFileSync(join(ROOT, file), "utf8");
const replacesModules = (file: string) => text(file).includes("vi.mock(");
/** Opens a workbook for every test, has another program calculate or write files, or builds a copy of the tree. */
const isProof = (file: string) =>
  /openGrit|\/trips"|\/engine"|\/soffice"|\/corpus"|exceljs"|@e965\/xlsx"|cpSync\(/.test(text(file));

const unit = {
  setupFiles: ["tests/host-globals.ts", "tests/seed.ts", "tests/run/left-as-found.ts"],
  // A whole plan over the headless host takes a second alone, and many times that on a busy machine.
  testTimeout: 120_000,
  hookTimeout: 120_000,
};

// Benchmarks have a configuration of their own; `--mode fast` leaves out the proofs and the browser.
export default defineConfig(({ mode }) => {
  const tests = all.filter((file) => mode !== "fast" || !isProof(file));
  return {
    test: {
      env: mode === "fast" ? { GRIT_CASES: "200" } : {},
      // By default one core stays free.
      maxWorkers: availableParallelism(),
      // The engine makes many short-lived objects: with more room for them, less time goes into collecting them.
      execArgv: ["--max-semi-space-size=64"],
      sequence: { sequencer: SlowestFirst },
      reporters: ["default", new Summary()],
      projects: [
        {
          // A worker loads the spreadsheet engine once for all its files, and keeps it warm: that alone takes seconds.
          extends: true,
          test: { ...unit, name: "unit", include: tests.filter((file) => !replacesModules(file)), isolate: false },
        },
        {
          extends: true,
          test: { ...unit, name: "mocks", include: tests.filter(replacesModules) },
        },
        {
          extends: true,
          test: {
            name: "preview",
            include: mode === "fast" ? [] : ["tests/preview/**/*.test.ts"],
            setupFiles: ["tests/run/left-as-found.ts"],
            isolate: false,
            expect: { poll: { timeout: 10_000 } },
            testTimeout: 60_000,
            hookTimeout: 120_000,
          },
        },
      ],
    },
  };
});
