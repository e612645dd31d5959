/**
 * Adding a function touches its topic and its test file, and nothing else: shown on a copy of the tree that gets the
 * worked example of DEVELOPERS.md.
 */
import { execFile, execFileSync } from "node:child_process";
import { appendFileSync, cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, relative, sep } from "node:path";
import { runInNewContext } from "node:vm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const ROOT = join(import.meta.dirname, "../..");
const TOPIC = "functions/coverage.ts";
const TEST = "tests/functions/coverage.test.ts";
const LEFT_BEHIND = ["node_modules", "dist", ".git"];
const TIME = 600_000;

/** The function and its test, as DEVELOPERS.md shows them. */
const [WALKED, ITS_TEST] = [
  ...readFileSync(join(ROOT, "DEVELOPERS.md"), "utf8")
    .split("## Adding a function")[1]!
    .matchAll(/```ts\n(.*?)```/gs),
].map(([, code]) => `\n${code}`) as [string, string];

let copy: string;
const inCopy = (file: string) => join(copy, file);
const read = (file: string) => readFileSync(inCopy(file), "utf8");

/** Without what the test runner has set for itself. */
const ownEnv = () =>
  Object.fromEntries(Object.entries(process.env).filter(([name]) => !/^(VITEST|NODE_ENV)/.test(name)));

/** Runs a script in the copy, apart from the test runner that runs this. */
function run(script: string, ...args: string[]): Promise<{ failed: boolean; output: string }> {
  return new Promise((resolve) => {
    execFile(
      process.execPath,
      [script, ...args],
      { cwd: copy, env: ownEnv(), maxBuffer: 1e8 },
      (error, stdout, stderr) => resolve({ failed: error !== null, output: stdout + stderr }),
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

describe("a function added to its topic and its test", () => {
  beforeAll(async () => {
    appendFileSync(inCopy(TOPIC), WALKED);
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
    expect(entry).toMatchObject({ topic: "coverage", returns: "Distance, ft or m." });
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
        "WALKED doubles with the floor",
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

/** Reads the catalogue once for each text of a file, in one process, and prints what it was refused with. */
const REFUSALS = `
  import { readFileSync, writeFileSync } from "node:fs";
  import { readCatalogue } from "./manifest/build/catalogue.mjs";
  const { file, texts } = JSON.parse(readFileSync(0, "utf8"));
  const refusals = texts.map((text) => {
    writeFileSync(file, text);
    try {
      readCatalogue();
      return "";
    } catch ({ message }) {
      return message;
    }
  });
  process.stdout.write(JSON.stringify(refusals));
`;

describe("a function that is not whole", () => {
  const cases: [what: string, from: string | RegExp, to: string, why: string][] = [
    ["without an example", / \* @example .*\n/, "", "at least two @example lines"],
    ["without an error", / \* @fails .*\n/, "", "at least one @fails line"],
    ["without a plain formula", / \* @plain .*\n/, "", "@plain: a formula, or none and why"],
    ["without a source", / \* @source .*\n/, "", "@source"],
    ["with an example that does not come out", "→ 500", "→ 501", "=GRIT.WALKED(1000,24) does not give 501"],
    ["with an error that does not come", "is blank or 0;", "is blank;", "does not fail with #VALUE!"],
    ["with a mark for no argument", "{overlap}", "{overlapp}", "@plain names overlapp, which is no argument"],
    ["with an argument in its comment", "@source", "@param area Floor.\n * @source", "no @param here"],
    ["that is not exported", "export const WALKED", "const WALKED", "not exported"],
  ];
  const source = readFileSync(join(ROOT, TOPIC), "utf8");
  let refusals: string[];

  beforeAll(() => {
    const texts = cases.map(([, from, to]) => source + WALKED.replace(from, to));
    const args = ["--input-type=module", "--eval", REFUSALS];
    const input = JSON.stringify({ file: TOPIC, texts });
    refusals = JSON.parse(execFileSync(process.execPath, args, { cwd: copy, env: ownEnv(), input, encoding: "utf8" }));
  }, TIME);

  it.each(cases.map((one, i) => [...one, i] as const))("%s is refused", (_, from, __, why, i) => {
    expect(WALKED.search(from)).toBeGreaterThan(-1);
    expect(refusals[i]).toContain("functions/coverage.ts, WALKED: ");
    expect(refusals[i]).toContain(why);
  });

  it(
    "fails the build",
    async () => {
      const [, from, to, why] = cases[0]!;
      writeFileSync(inCopy(TOPIC), source + WALKED.replace(from, to));
      const { failed, output } = await run("node_modules/webpack/bin/webpack.js", "--config-name", "functions");
      expect(failed).toBe(true);
      expect(output).toContain(why);
    },
    TIME,
  );

  it("in a file that is no topic fails the build", async () => {
    writeFileSync(inCopy(TOPIC), source);
    writeFileSync(inCopy("functions/stray.ts"), source);
    const { failed, output } = await run("manifest/build/readme.mjs");
    expect(failed).toBe(true);
    expect(output).toContain("not in the list of functions/topics.ts: stray.ts");
  });
});
