/** The bill of materials that the build wrote beside what it ships. */
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";

const ROOT = join(import.meta.dirname, "../..");
const json = (path: string) => JSON.parse(readFileSync(path, "utf8"));

interface Component {
  name: string;
  version: string;
  purl: string;
}

/** What npm itself lists of what is installed and is not for development. */
function productionPackages(): string[] {
  const listed = execFileSync("npm", ["ls", "--omit=dev", "--all", "--parseable"], {
    cwd: ROOT,
    encoding: "utf8",
    shell: process.platform === "win32",
    stdio: ["ignore", "pipe", "ignore"],
  });
  const [, ...folders] = listed.trim().split(/\r?\n/);
  return folders.map((folder) => {
    const { name, version } = json(join(folder, "package.json"));
    return `${name} ${version}`;
  });
}

it("dist/sbom.json lists exactly the packages for production, of this version of the add-in", () => {
  const { bomFormat, metadata, components } = json(join(ROOT, "dist/sbom.json"));
  const { name, version, dependencies } = json(join(ROOT, "package.json"));
  expect([bomFormat, metadata.component.name, metadata.component.version]).toEqual(["CycloneDX", name, version]);
  const told = (components as Component[]).map((component) => `${component.name} ${component.version}`);
  expect(told.sort()).toEqual(productionPackages().sort());
  const names = (components as Component[]).map((component) => component.name);
  expect(names).toEqual(expect.arrayContaining(Object.keys(dependencies)));
}, 120_000);
