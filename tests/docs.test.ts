import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { satisfies } from "semver";
import { describe, expect, it } from "vitest";
import { currentReadme } from "../manifest/build/readme.mjs";

const root = join(import.meta.dirname, "..");
const read = (file: string) => readFileSync(join(root, file), "utf8");
const scripts = Object.keys(JSON.parse(read("package.json")).scripts);

describe("the README", () => {
  it("has the functions as they are declared; if not: npm run readme", () => {
    expect(read("README.md")).toBe(currentReadme());
  });

  it("shows, within its first 40 lines, who it is for, a picture, a formula and both commands", () => {
    const first = read("README.md").split("\n").slice(0, 40).join("\n");
    for (const part of ["For the contractor", "![", "=GRIT.", "npm ci && npm start", "npm ci && npm test"]) {
      expect(first).toContain(part);
    }
  });

  it("shows every picture that is taken for it", () => {
    const taken = readdirSync(join(root, "tests/pictures")).filter((file) => file.endsWith(".png"));
    const shown = [...read("README.md").matchAll(/!\[[^\]]+\]\(tests\/pictures\/([^)]+)\)/g)].map((match) => match[1]);
    expect(shown.sort()).toEqual(taken.sort());
  });

  it("carries the cautions", () => {
    const text = read("README.md");
    for (const word of ["silica dust", "loud", "hands and arms", "power", "slippery", "licensed practice"]) {
      expect(text).toContain(word);
    }
  });
});

describe.each(["README.md", "DEVELOPERS.md"])("%s", (file) => {
  it("names only npm scripts that there are", () => {
    const named = [...read(file).matchAll(/npm run ([\w:-]+)/g)].map((match) => match[1]!);
    expect(named.length).toBeGreaterThan(0);
    for (const script of named) expect(scripts).toContain(script);
  });

  it("names only files that there are", () => {
    const named = [...read(file).matchAll(/(?<![\w/@])((?:addin|functions|manifest|tests)\/[\w./-]*|\.ci\/run)/g)];
    const paths = named
      .map((match) => match[1]!.replace(/[.,:]$/, ""))
      .filter((path) => !path.startsWith("manifest.xml"));
    expect(paths.length).toBeGreaterThan(0);
    for (const path of paths) expect(existsSync(join(root, path)), path).toBe(true);
  });
});

describe("Adding a command in DEVELOPERS.md", () => {
  const [, section = ""] = /^## Adding a command\n(.*?)^## /ms.exec(read("DEVELOPERS.md")) ?? [];
  // Each block of code is from the file that is named last before it.
  const blocks = [...section.matchAll(/`([\w./-]+\.ts)`(?:(?!`[\w./-]+\.ts`|```).)*```ts\n(.*?)```/gs)];
  const oneLine = (code: string) => code.replace(/\s+/g, " ").trim();

  it("has every block of code from a file", () => {
    expect(blocks).toHaveLength(section.split("```ts").length - 1);
    expect(blocks.length).toBeGreaterThan(0);
  });

  it.each(blocks.map(([, file, code]) => [file!, code!]))("shows what stands in %s", (file, code) => {
    for (const part of code.split("…\n")) expect(oneLine(read(file))).toContain(oneLine(part));
  });
});

describe("package.json", () => {
  it("has every dependency explained in DEVELOPERS.md", () => {
    const { dependencies, devDependencies } = JSON.parse(read("package.json"));
    const text = read("DEVELOPERS.md");
    for (const name of Object.keys({ ...dependencies, ...devDependencies })) {
      const known = name.startsWith("@types/") || (name.startsWith("@univerjs/") && text.includes("@univerjs/*"));
      if (!known && name !== "webpack-cli") expect(text, name).toContain(`\`${name}\``);
    }
  });

  it("needs no package that refuses a Node version of ours, so that npm ci warns of none", () => {
    const { packages } = JSON.parse(read("package-lock.json")) as { packages: Record<string, { engines?: any }> };
    const refusing = ["20.19.0", "22.13.0", "24.0.0"].flatMap((node) =>
      Object.entries(packages)
        .filter(([, { engines }]) => engines?.node && !satisfies(node, engines.node))
        .map(([name]) => `${name} on ${node}`),
    );
    // After an update: take "engines" out of its entry in package-lock.json, if it is code for the browser.
    expect(refusing).toEqual([]);
  });
});
