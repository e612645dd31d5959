import { describe, expect, it } from "vitest";
import * as functions from "../../functions";
import { type Entry, readCatalogue, readMetadata } from "../../manifest/build/catalogue.mjs";

type Call = (...args: any[]) => any[][];

const catalogue = readCatalogue();
const call = (entry: Entry): Call => (functions as Record<string, unknown>)[entry.functionName] as Call;

/** Splits at commas (or another mark) that stand outside quotes and braces. */
function split(text: string, mark: string): string[] {
  const parts: string[] = [""];
  let quoted = false;
  let depth = 0;
  for (const letter of text) {
    if (letter === '"') quoted = !quoted;
    if (!quoted && letter === "{") depth++;
    if (!quoted && letter === "}") depth--;
    if (letter === mark && !quoted && depth === 0) parts.push("");
    else parts[parts.length - 1] += letter;
  }
  return parts;
}

function literal(text: string): unknown {
  const trimmed = text.trim();
  if (trimmed === "") return null;
  if (trimmed.startsWith('"')) return trimmed.slice(1, -1).replace(/""/g, '"');
  if (trimmed === "TRUE" || trimmed === "FALSE") return trimmed === "TRUE";
  if (Number.isNaN(Number(trimmed))) throw new Error(`not a literal: ${trimmed}`);
  return Number(trimmed);
}

/** An argument as the host passes it: a block of cells, or null where it was left out; `units` is one plain word. */
function argument(text: string, name: string | undefined): unknown {
  const trimmed = text.trim();
  if (name === "units") return literal(trimmed);
  if (trimmed.startsWith("{")) return split(trimmed.slice(1, -1), ";").map((row) => split(row, ",").map(literal));
  const value = literal(trimmed);
  return value === null ? null : [[value]];
}

function run(entry: Entry, text: string): any[][] {
  const inside = /^=GRIT\.([A-Z0-9.]+)\((.*)\)$/s.exec(text);
  if (inside === null || inside[1] !== entry.id) throw new Error(`${text} does not call ${entry.id}`);
  const args = inside[2] === "" ? [] : split(inside[2]!, ",").map((part, i) => argument(part, entry.params[i]?.name));
  return call(entry)(...args);
}

const expected = (value: string): unknown[][] =>
  value.startsWith("{")
    ? split(value.slice(1, -1), ";").map((row) => split(row, ",").map(literal))
    : [[literal(value)]];

describe.each(catalogue.map((entry) => [entry.id, entry] as const))("GRIT.%s", (_, entry) => {
  it("is exported by its room and carries the id's parameters", () => {
    expect(call(entry)).toBeTypeOf("function");
    expect(call(entry).length).toBe(entry.params.length);
  });

  it.each(entry.examples.map((e) => [e.call, e.value, e.source] as const))("%s is %s (%s)", (text, value) => {
    const result = run(entry, text);
    const wanted = expected(value);
    expect([result.length, result[0]!.length]).toEqual([wanted.length, wanted[0]!.length]);
    wanted.forEach((row, r) => {
      row.forEach((cell, c) => {
        if (typeof cell === "number") expect(result[r]![c]).toBeCloseTo(cell, digitsFor(cell));
        else expect(result[r]![c]).toBe(cell ?? "");
      });
    });
  });

  it.each(entry.fails.map((f) => [f.call, f.code, f.message] as const))(
    "%s fails with %s: %s",
    (text, code, message) => {
      const found = run(entry, text)
        .flat()
        .find((cell) => typeof cell === "object");
      expect(found).toMatchObject({ code, message });
    },
  );

  it("says the unit or kind of every parameter, and of omitted ones what they mean", () => {
    for (const { name, text, optional } of entry.params) {
      expect(text, name).toMatch(UNIT_OR_KIND);
      if (optional) expect(text, name).toMatch(/left out/);
    }
  });

  it("only uses parameters of its own in its plain formula", () => {
    const marks = [...entry.plain.matchAll(/\{([a-z][^}]*)\}/gi)].map((m) => m[1]!.split(":")[0]);
    if (entry.plain.startsWith("none:")) expect(entry.plain.length).toBeGreaterThan("none: ".length);
    else expect(entry.params.map((p) => p.name)).toEqual(expect.arrayContaining([...new Set(marks)]));
  });
});

/** Relative to about 1e-9, in the decimals that toBeCloseTo counts. */
const digitsFor = (value: number) => Math.max(0, 9 - Math.ceil(Math.log10(Math.abs(value) + 1e-300)) - 1);
const UNIT_OR_KIND =
  /µm|m²|mm³|m\/s²|µg\/m³|dBA?\b|"us" or "metric"|TRUE or FALSE|\b(in \||ft|mm|h|s|kJ|lbf|gal|years|numbers?|fraction|money|grits?|bonds?|hours?|volume|Mohs|rpm|revolutions|share|passes|coats|ratio|sets|people)\b/i;

describe("the catalogue", () => {
  it("has every function of seven of its rooms, as the contract lists them", () => {
    const ids = catalogue.map((entry) => entry.id);
    expect(ids).toEqual(expect.arrayContaining(CONTRACT));
  });

  it("is what the host's metadata says, function by function and parameter by parameter", async () => {
    const { json, associate } = await readMetadata();
    const metadata = JSON.parse(json);
    const told = metadata.functions.map((f: any) => [f.id, f.parameters.map((p: any) => p.name).join()]);
    expect(told).toEqual(catalogue.map((entry) => [entry.id, entry.params.map((p) => p.name).join()]));
    expect(associate).toHaveLength(catalogue.length);
    expect(metadata.allowErrorForDataTypeAny).toBe(true);
    const units = metadata.functions.flatMap((f: any) => f.parameters.filter((p: any) => p.name === "units"));
    expect(units.length).toBeGreaterThan(0);
    for (const parameter of units) expect(parameter).toMatchObject({ type: "string", customEnumId: "UNITS" });
  });
});

// The names of seven of the contract's rooms, written out so that none can go missing unseen.
const CONTRACT =
  "SIZE NEAREST STEPRATIO STEPCHECK SEQUENCECHECK STEPCOUNT LADDER SCRATCH AREARATE PASSTIME SPEEDFOR LANES ROOMTIME OPENSHARE EDGETIME TIPSPEED SLIDESPEED PRESSURE CUTPERPASS CUTCOEFFICIENT PASSESTOCLEAR TOOLSUSED TOOLSTOBUY TOOLCOST WEARRATE LIFELEFT BOND GRINDRATIO LIQUID CONTAINERS FILM CREWCOST MACHINECOST PRICEAT MARGIN MARKUP MARKUPFOR HANDARM NOISETIME NOISEDOSE SHROUDAIR HANDTIME DUSTTWA".split(
    " ",
  );
