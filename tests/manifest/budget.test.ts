/** A build that is larger than its budget fails; checked with real builds of a small file. */
import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import webpack from "webpack";
import { BUDGET, BudgetPlugin, sizesOf } from "../../manifest/build/budget.mjs";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "gritledger-budget-"));
  // Digits that repeat nowhere, so that they gzip to about half.
  const digits = Array.from({ length: 2000 }, (_, i) =>
    Math.abs(Math.sin(i + 1))
      .toFixed(10)
      .slice(2),
  ).join("");
  writeFileSync(join(folder, "pane.js"), `globalThis.digits = "${digits}";`);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What is wrong with a build whose pane.js may have so many kilobytes. */
function built(most: number, path: string): Promise<string[]> {
  const config: webpack.Configuration = {
    mode: "production",
    entry: { pane: join(folder, "pane.js") },
    output: { path, filename: "[name].js" },
    plugins: [new BudgetPlugin([{ what: "pane.js", files: /^pane\.js$/, most }])],
  };
  return new Promise((resolve, reject) => {
    webpack(config, (error, stats) => {
      if (error) reject(error);
      else resolve((stats?.toJson({ all: false, errors: true }).errors ?? []).map(({ message }) => message));
    });
  });
}

describe("the budget of what ships", () => {
  it("lets a build through that keeps to it", async () => {
    expect(await built(20, join(folder, "within"))).toEqual([]);
    expect(existsSync(join(folder, "within/pane.js"))).toBe(true);
  });

  it("fails a build that is larger, says by how much, and writes nothing", async () => {
    const errors = await built(5, join(folder, "over"));
    expect(errors).toEqual([expect.stringMatching(/^pane\.js: \d+\.\d kB gzipped.* 5 kB/)]);
    expect(existsSync(join(folder, "over/pane.js"))).toBe(false);
  });

  // Library: gzip itself.
  it("counts as gzip does, and the parts that are loaded later together", () => {
    const text = "abrasive ".repeat(500);
    const byGzip = execFileSync("gzip", ["-9", "-n", "-c"], { input: text }).length / 1000;
    const [parts] = sizesOf({ "pane-working.js": text, "pane-audit.js": text, "pane.css": text });
    expect(parts!.what).toBe(BUDGET[3]!.what);
    expect(parts!.size).toBeCloseTo(2 * byGzip, 6);
  });
});
