/** Runs the linter under the project's own biome.json on sample files, in a folder of their own. */
import { spawnSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";

const ROOT = join(import.meta.dirname, "..");
const BIOME = createRequire(import.meta.url).resolve("@biomejs/biome/bin/biome");

/** Lines that the linter refuses, as "file:line"; `rules` is what its reporter for GitHub calls them. */
export function refusedLines(samples: Readonly<Record<string, readonly string[]>>, rules: RegExp): Set<string> {
  const folder = mkdtempSync(join(tmpdir(), "gritledger-lint-"));
  try {
    const config = JSON.parse(readFileSync(join(ROOT, "biome.json"), "utf8"));
    writeFileSync(join(folder, "biome.json"), JSON.stringify({ ...config, vcs: { enabled: false } }));
    for (const { plugins = [] } of config.overrides) {
      for (const plugin of plugins) cpSync(join(ROOT, plugin), join(folder, plugin));
    }
    for (const [file, lines] of Object.entries(samples)) {
      mkdirSync(dirname(join(folder, file)), { recursive: true });
      writeFileSync(join(folder, file), lines.join("\n"));
    }
    const { stdout } = spawnSync(
      process.execPath,
      [BIOME, "lint", "--reporter=github", "--diagnostic-level=error", "--max-diagnostics=none", "."],
      { cwd: folder, encoding: "utf8" },
    );
    const reported = [...stdout.matchAll(/^::error title=(.*?),file=(.*?),line=(\d+)/gm)];
    const place = (file: string) => file.replaceAll("\\", "/").replace(/^.*?(?=addin\/|functions\/)/, "");
    return new Set(
      reported.filter(([, title]) => rules.test(title!)).map(([, , file, line]) => `${place(file!)}:${line}`),
    );
  } finally {
    rmSync(folder, { recursive: true });
  }
}
