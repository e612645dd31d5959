/** The lint rule for the directions of imports, run on samples under the project's own biome.json. */
import { beforeAll, describe, expect, it } from "vitest";
import { refusedLines } from "./lint-samples";

/** From the first to the last: each may import those after it, none before it. */
const LAYERS = ["preview", "pane", "sheet", "share", "common"];
const FUNCTIONS = "functions/sample.ts";

const sampleOf = (layer: string) => `addin/${layer}/sample.ts`;
const fileIn = (layer: string) => `import { a } from "../${layer}/file";`;
const wholeLayer = (layer: string) => `import { b } from "../${layer}";`;
const later = (layer: string) => `export const c = () => import("../${layer}/file");`;
const type = (layer: string) => `import type { D } from "../${layer}/file";`;
const WAYS = [fileIn, wholeLayer, later, type];
const importsOf = (layers: readonly string[]) => layers.flatMap((layer) => WAYS.map((way) => way(layer)));
const OUTSIDE = ["../addin/common/a1", "../addin/pane/main", "../manifest/facts.mjs", "../tests/catalogue"];

const SAMPLES: Record<string, string[]> = {
  ...Object.fromEntries(LAYERS.map((layer) => [sampleOf(layer), importsOf(LAYERS.filter((other) => other !== layer))])),
  [FUNCTIONS]: [...OUTSIDE, "./cell", "./plan/inputs"].map((file) => `import { a } from "${file}";`),
};

const CIRCLE = ["addin/pane/one.ts", "addin/pane/two.ts"];
const CIRCLES = Object.fromEntries(
  CIRCLE.map((file, i) => [file, [`import { a } from "./${["two", "one"][i]}";`, "export { a };"]]),
);

let refused: Set<string>;
let circular: Set<string>;
beforeAll(() => {
  refused = refusedLines(SAMPLES, /noRestrictedImports$/);
  circular = refusedLines(CIRCLES, /noImportCycles$/);
});

describe.each(LAYERS)("addin/%s", (layer) => {
  const cases = SAMPLES[sampleOf(layer)]!.map((line, i) => [line, i + 1] as const);
  const allowed = LAYERS.slice(LAYERS.indexOf(layer) + 1);
  const isAllowed = (line: string) => allowed.some((other) => line.includes(`../${other}`));

  it.each(cases)("by its place keeps or refuses %s", (line, number) => {
    expect(refused.has(`${sampleOf(layer)}:${number}`)).toBe(!isAllowed(line));
  });
});

describe("functions/", () => {
  it.each(SAMPLES[FUNCTIONS]!.map((line, i) => [line, i + 1] as const))("refuses what is outside: %s", (_, number) => {
    expect(refused.has(`${FUNCTIONS}:${number}`)).toBe(number <= OUTSIDE.length);
  });
});

it("refuses a circle of imports", () => {
  for (const file of CIRCLE) expect([...circular].some((place) => place.startsWith(`${file}:`))).toBe(true);
});
