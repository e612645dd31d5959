/**
 * Adding a function touches its room and its test file, and nothing else: shown on a copy of the tree that gets one. The
 * same function is the worked example in DEVELOPERS.md.
 */
import { execFile } from "node:child_process";
import { appendFileSync, cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, relative, sep } from "node:path";
import { runInNewContext } from "node:vm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const ROOT = join(import.meta.dirname, "../..");
const ROOM = "functions/coverage.ts";
const TEST = "tests/functions/coverage.test.ts";
const LEFT_BEHIND = ["node_modules", "dist", ".git"];
const TIME = 600_000;

const WALKED = `
/**
 * Distance the machine walks to cover a floor in one pass.
 * @example =GRIT.WALKED(1000,24) → 500 | hand: 1000 ft² / 2 ft
 * @example =GRIT.WALKED(100,500,0.2,"metric") → 250 | hand: 100 m² / (0.5 m × 0.8)
 * @fails =GRIT.WALKED(1000,0) → #VALUE! width must be above 0; got 0
 * @plain {area}/({width}/{units:12|1000}*(1-{overlap}))
 * @source Geometry of parallel strips.
 */
export const WALKED = define(
  { label: "Distance", unit: "length" },
  [AREA, WIDTH, OVERLAP, UNITS],
  (units) => (area, width, overlap) => area / ((width / TOOL_SIZES_PER_LENGTH[units]) * (1 - overlap)),
);
`;

const ITS_TEST = `
describe("WALKED", () => {
  it("of no floor is no distance", () => {
    expect(ask(WALKED, 0, 24)).toBe(0);
  });
});
`;

let copy: string;
const inCopy = (file: string) => join(copy, file);
const read = (file: string) => readFileSync(inCopy(file), "utf8");

/** Runs a script in the copy, apart from the test runner that runs this. */
function run(script: string, ...args: string[]): Promise<{ failed: boolean; output: string }> {
  const env = Object.fromEntries(Object.entries(process.env).filter(([name]) => !/^(VITEST|NODE_ENV)/.test(name)));
  return new Promise((resolve) => {
    execFile(process.execPath, [script, ...args], { cwd: copy, env, maxBuffer: 1e8 }, (error, stdout, stderr) =>
      resolve({ failed: error !== null, output: stdout + stderr }),
    );
  });
}

beforeAll(() => {
  copy = mkdtempSync(join(tmpdir(), "grit-adding-"));
  cpSync(ROOT, copy, {
    recursive: true,
    filter: (file) => !LEFT_BEHIND.includes(relative(ROOT, file).split(sep)[0]!),
  });
  symlinkSync(join(ROOT, "node_modules"), inCopy("node_modules"), "dir");
});

afterAll(() => rmSync(copy, { recursive: true, force: true }));

describe("a function added to its room and its test", () => {
  beforeAll(async () => {
    appendFileSync(inCopy(ROOM), WALKED);
    const test = read(TEST).replace(/import \{([^}]*)\} from "..\/..\/functions\/coverage";/, (all, names: string) =>
      all.replace(names, `${names.trimEnd().replace(/,$/, "")}, WALKED `),
    );
    writeFileSync(inCopy(TEST), test + ITS_TEST);
    const { failed, output } = await run("node_modules/webpack/bin/webpack.js", "--config-name", "functions");
    expect(failed, output).toBe(false);
  }, TIME);

  it("is registered with the host by its id", () => {
    const found = new Map<string, (...args: unknown[]) => unknown>();
    const host = { associate: (id: string, fn: () => unknown) => void found.set(id, fn), Error };
    runInNewContext(read("dist/functions.js"), { CustomFunctions: host });
    expect(found.get("WALKED")!([[1000]], [[24]])).toEqual([[500]]);
  });

  it("is in functions.json, with what its declaration says of its arguments", () => {
    const { functions } = JSON.parse(read("dist/functions.json"));
    const { description, parameters } = functions.find(({ id }: { id: string }) => id === "WALKED");
    expect(description).toBe("Distance the machine walks to cover a floor in one pass.");
    expect(parameters.map(({ name }: { name: string }) => name)).toEqual(["area", "width", "overlap", "units"]);
    expect(parameters[1]).toEqual({
      name: "width",
      description: "Working width of the machine, in or mm; above 0.",
      type: "any",
      dimensionality: "matrix",
    });
    expect(parameters[3]).toMatchObject({ optional: true, customEnumId: "UNITS" });
  });

  it("is in the catalogue that pane and copies read", () => {
    const entries = JSON.parse(read("dist/catalogue.json"));
    const entry = entries.find(({ id }: { id: string }) => id === "WALKED");
    expect(entry).toMatchObject({ room: "coverage", returns: "Distance, ft or m." });
    expect(entry.params[2]).toMatchObject({ isShare: true, fallback: 0, takes: "each" });
  });

  it("is in the README's table once that is written again", async () => {
    expect((await run("manifest/build/readme.mjs")).failed).toBe(false);
    expect(read("README.md")).toContain("| `WALKED(area, width, [overlap], [units])` | Distance the machine walks");
  });

  it(
    "is tried by every test that takes all functions: its examples, random arguments, its plain formula, its loop",
    async () => {
      const files = ["catalogue", "coverage", "fuzz", "plain", "properties"].map(
        (name) => `tests/functions/${name}.test.ts`,
      );
      const results = inCopy("results.json");
      const { failed, output } = await run(
        "node_modules/vitest/vitest.mjs",
        ...["run", "--project", "unit", "--reporter=json", `--outputFile=${results}`, "-t", "WALKED"],
        ...[...files, "tests/bench/loops.test.ts"],
      );
      expect(failed, output).toBe(false);
      const { testResults } = JSON.parse(readFileSync(results, "utf8")) as {
        testResults: { assertionResults: { status: string; fullName: string }[] }[];
      };
      const passed = testResults
        .flatMap(({ assertionResults }) => assertionResults)
        .filter(({ status }) => status === "passed")
        .map(({ fullName }) => fullName);
      for (const name of [
        "=GRIT.WALKED(1000,24) is 500",
        "=GRIT.WALKED(1000,0) fails with #VALUE!",
        "WALKED of no floor is no distance",
        "never throws",
        "the plain formula of 'WALKED' gives what the function gives",
        "'WALKED' gives what it gives cell by cell",
        "'WALKED' gives the same quantity",
        "the bare loops 'WALKED' gives what the function gives",
      ]) {
        expect(
          passed.filter((fullName) => fullName.includes(name)),
          `${name}\n${passed.join("\n")}`,
        ).not.toEqual([]);
      }
    },
    TIME,
  );
});

describe("a function that is not whole", () => {
  let room: string;
  beforeAll(() => {
    room = readFileSync(join(ROOT, ROOM), "utf8");
  });

  it.each<[what: string, from: string | RegExp, to: string, why: string]>([
    ["without an example", / \* @example .*\n/, "", "at least two @example lines"],
    ["without an error", / \* @fails .*\n/, "", "at least one @fails line"],
    ["without a plain formula", / \* @plain .*\n/, "", "@plain: a formula, or none and why"],
    ["without a source", / \* @source .*\n/, "", "@source"],
    ["with an example that does not come out", "→ 500", "→ 501", "=GRIT.WALKED(1000,24) does not give 501"],
    ["with an error that does not come", "got 0", "got 1", "does not fail with #VALUE!"],
    ["with a mark for no argument", "{overlap}", "{overlapp}", "@plain names overlapp, which is no argument"],
    ["with an argument in its comment", "@source", "@param area Floor.\n * @source", "no @param here"],
    ["that is not exported", "export const WALKED", "const WALKED", "not exported"],
  ])("%s fails the build", async (_, from, to, why) => {
    writeFileSync(inCopy(ROOM), room + WALKED.replace(from, to));
    const { failed, output } = await run("manifest/build/readme.mjs");
    expect(failed).toBe(true);
    expect(output).toContain("functions/coverage.ts, WALKED: ");
    expect(output).toContain(why);
  });

  it("in a file that is no room fails the build", async () => {
    writeFileSync(inCopy(ROOM), room);
    writeFileSync(inCopy("functions/stray.ts"), room);
    const { failed, output } = await run("manifest/build/readme.mjs");
    expect(failed).toBe(true);
    expect(output).toContain("not in the list of functions/rooms.ts: stray.ts");
  });
});
