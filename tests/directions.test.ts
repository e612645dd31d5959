/** The lint rule for the directions of imports, run on samples under the project's own biome.json. */
import { beforeAll, describe, expect, it } from "vitest";
import { refusedLines } from "./lint-samples";

/** From the first to the last: each may import those after it, none before it. */
const ROOMS = ["preview", "pane", "sheet", "share", "common"];
const FUNCTIONS = "functions/sample.ts";

const sampleOf = (room: string) => `addin/${room}/sample.ts`;
const fileIn = (room: string) => `import { a } from "../${room}/file";`;
const wholeRoom = (room: string) => `import { b } from "../${room}";`;
const later = (room: string) => `export const c = () => import("../${room}/file");`;
const type = (room: string) => `import type { D } from "../${room}/file";`;
const WAYS = [fileIn, wholeRoom, later, type];
const importsOf = (rooms: readonly string[]) => rooms.flatMap((room) => WAYS.map((way) => way(room)));
const OUTSIDE = ["../addin/common/a1", "../addin/pane/main", "../manifest/facts.mjs", "../tests/catalogue"];

const SAMPLES: Record<string, string[]> = {
  ...Object.fromEntries(ROOMS.map((room) => [sampleOf(room), importsOf(ROOMS.filter((other) => other !== room))])),
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

describe.each(ROOMS)("addin/%s", (room) => {
  const cases = SAMPLES[sampleOf(room)]!.map((line, i) => [line, i + 1] as const);
  const allowed = ROOMS.slice(ROOMS.indexOf(room) + 1);
  const isAllowed = (line: string) => allowed.some((other) => line.includes(`../${other}`));

  it.each(cases)("by its place keeps or refuses %s", (line, number) => {
    expect(refused.has(`${sampleOf(room)}:${number}`)).toBe(!isAllowed(line));
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
