/** The bill of materials beside what npm itself says, and the licenses that may ship. */
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { buildSbom } from "../../manifest/build/sbom.mjs";

interface Component {
  name: string;
  version: string;
  purl: string;
  licenses: { license: { id?: string; name?: string } }[];
  hashes: { alg: string; content: string }[];
}
interface Bill {
  components: Component[];
  dependencies: { ref: string; dependsOn: string[] }[];
}

const ROOT = join(import.meta.dirname, "../..");
const lock = JSON.parse(readFileSync(join(ROOT, "package-lock.json"), "utf8"));
const { dependencies: direct } = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8"));
const bill: Bill = JSON.parse(buildSbom());

const told = ({ name, version, licenses }: Component) =>
  `${name} ${version} ${licenses.map(({ license }) => license.id ?? license.name).join()}`;

/** Licenses that let the add-in be passed on with no more than their own text beside it. */
const ALLOWED = ["MIT", "Apache-2.0", "BSD-3-Clause", "0BSD"];

describe("the bill of materials", () => {
  it("lists exactly what package-lock.json does not mark as for development", () => {
    const shipped = Object.entries<any>(lock.packages).filter(([path, { dev }]) => path !== "" && !dev);
    const expected = shipped.map(
      ([path, { version, license }]) => `${path.replace(/^.*node_modules\//, "")} ${version} ${license}`,
    );
    expect(bill.components.map(told).sort()).toEqual(expected.sort());
  });

  // npm has a bill of its own (npm sbom), which leaves out one that its list has (npm 11.19.1, tslib).
  it("agrees with npm's own list, and with the licenses in the packages themselves", () => {
    const listed = execFileSync("npm", ["ls", "--omit=dev", "--all", "--parseable"], {
      cwd: ROOT,
      encoding: "utf8",
      shell: process.platform === "win32",
      stdio: ["ignore", "pipe", "ignore"],
    });
    const [, ...folders] = listed.trim().split(/\r?\n/);
    const found = folders.map((folder) => JSON.parse(readFileSync(join(folder, "package.json"), "utf8")));
    const expected = found.map(({ name, version, license }) => `${name} ${version} ${license}`);
    expect(bill.components.map(told).sort()).toEqual(expected.sort());
  }, 120_000);

  it("has the hash of each package, in hexadecimal", () => {
    const { integrity } = lock.packages["node_modules/lit"];
    const lit = bill.components.find(({ name }) => name === "lit")!;
    expect(lit.hashes).toEqual([{ alg: "SHA-512", content: expect.stringMatching(/^[0-9a-f]{128}$/) }]);
    expect(`sha512-${Buffer.from(lit.hashes[0]!.content, "hex").toString("base64")}`).toBe(integrity);
  });

  it("holds every package that package.json asks for, and what those ask for in turn", () => {
    const [own, ...others] = bill.dependencies;
    expect(own!.dependsOn.map((ref) => decodeURIComponent(ref).replace(/^pkg:npm\/(.+)@.*$/, "$1")).sort()).toEqual(
      Object.keys(direct).sort(),
    );
    const refs = bill.components.map(({ purl }) => purl);
    expect(others.map(({ ref }) => ref)).toEqual(refs);
    for (const { dependsOn } of others) expect(refs).toEqual(expect.arrayContaining(dependsOn));
  });

  it.each(bill.components.map((component) => [component.name, component] as const))(
    "%s has a license that may ship",
    (_, { licenses }) => {
      expect(ALLOWED).toContain(licenses[0]!.license.id);
    },
  );

  it("is the same each time, with no time or random number in it", () => {
    expect(buildSbom()).toBe(buildSbom());
    expect(buildSbom()).not.toMatch(/serialNumber|timestamp/);
  });

  it("tells the client library too where that is shipped", () => {
    const names = (also: string[]) => (JSON.parse(buildSbom(also)) as Bill).components.map(({ name }) => name);
    expect(names(["@microsoft/office-js"])).toContain("@microsoft/office-js");
    expect(names([])).not.toContain("@microsoft/office-js");
  });
});

describe("of a small lock file", () => {
  const one = { license: "MIT", integrity: "sha512-AAAA" };
  const small = (packages: Record<string, object>) => ({
    packages: { "": { name: "own", version: "1.0.0", license: "MIT", dependencies: { a: "^1.0.0" } }, ...packages },
  });
  const listed = (packages: Record<string, object>) =>
    (JSON.parse(buildSbom([], small(packages))) as Bill).components.map(({ purl }) => purl);

  it("the nearest version of a package counts, as Node finds it", () => {
    expect(
      listed({
        "node_modules/a": { ...one, version: "1.1.0", dependencies: { "@s/b": "^2.0.0" } },
        "node_modules/a/node_modules/@s/b": { ...one, version: "2.0.0", dependencies: { c: "*" } },
        "node_modules/@s/b": { ...one, version: "1.0.0" },
        "node_modules/c": { ...one, version: "3.0.0", optionalDependencies: { d: "*" } },
      }),
    ).toEqual(["pkg:npm/a@1.1.0", "pkg:npm/%40s/b@2.0.0", "pkg:npm/c@3.0.0"]);
  });

  it("a package that is missing, or whose license is, stops the build", () => {
    expect(() => listed({})).toThrow("has no a, which package.json needs");
    const { license: _, ...unlicensed } = one;
    expect(() => listed({ "node_modules/a": { ...unlicensed, version: "1.0.0" } })).toThrow("no license of a");
  });
});
