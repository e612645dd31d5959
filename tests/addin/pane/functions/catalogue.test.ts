import { describe, expect, it } from "vitest";
import { byTopic, type Entry, matching, readable, signature } from "../../../../addin/pane/functions/catalogue";
import { CATALOGUE } from "../../../catalogue";

type Named = Pick<Entry["params"][number], "name" | "text" | "optional">;

const number = {
  kind: "number",
  takes: "each",
  bounds: [],
  isWhole: false,
  words: [],
  isShare: false,
  isGrit: false,
  blank: "refused" as const,
} as const;

const entry = (id: string, topic: string, summary: string, params: Named[] = []): Entry => ({
  id,
  topic,
  summary,
  params: params.map((one) => ({ ...number, ...one })),
  remarks: "",
  returns: "",
  outcome: { isShare: false },
  isInTurn: false,
  examples: [],
  fails: [],
  plain: "",
  source: "",
  words: "",
});

const entries = [
  entry("SIZE", "grit", "Particle size of a grit number.", [{ name: "grit", text: "Grit number.", optional: false }]),
  entry("PASSTIME", "coverage", "Machine hours to cover a floor.", [
    { name: "area", text: "Floor area, ft² | m².", optional: false },
    { name: "passes", text: "Passes over the floor.", optional: true },
  ]),
  entry("LANES", "coverage", "Lanes that cover a room."),
];
const ids = (found: readonly Entry[]) => found.map(({ id }) => id);

describe("a search", () => {
  it("looks into names, topics, summaries and parameters, in any letter case", () => {
    expect(ids(matching(entries, "PassTime"))).toEqual(["PASSTIME"]);
    expect(ids(matching(entries, "coverage"))).toEqual(["PASSTIME", "LANES"]);
    expect(ids(matching(entries, "particle"))).toEqual(["SIZE"]);
    expect(ids(matching(entries, "m²"))).toEqual(["PASSTIME"]);
    expect(ids(matching(entries, "grit.lanes"))).toEqual([]);
    expect(ids(matching(entries, "grit. lanes"))).toEqual(["LANES"]);
  });

  it("wants every word, and finds all without one", () => {
    expect(ids(matching(entries, "cover room"))).toEqual(["LANES"]);
    expect(matching(entries, "  ")).toHaveLength(3);
    expect(matching(entries, "cover grinder")).toEqual([]);
  });
});

describe("a trade word", () => {
  // What somebody types who knows the work and not the library; beside it what helps.
  it.each([
    ["epoxy", "SPREADRATE LIQUID FILM JOINTFILL"],
    ["pail", "CONTAINERS"],
    ["sealer", "LIQUID CONTAINERS"],
    ["diamond", "SIZE TOOLCOST BOND LADDER"],
    ["blade", "TIPSPEED LIFELEFT"],
    ["profit", "PRICEAT MARGIN MARKUP"],
    ["grout", "LIQUID"],
    ["dust", "DUSTMASS DUSTTWA SHROUDAIR"],
    ["overtime", "PAIDHOURS"],
    ["generator", "SUPPLYPOWER GRINDPOWER"],
    ["crack", "JOINTFILL"],
    ["silica", "DUSTTWA DUSTMASS"],
    ["water", "SLURRY"],
    ["labor", "CREWCOST"],
    ["noise", "NOISEDOSE NOISETIME"],
    ["square foot", "AREARATE PASSTIME ACTUALRATE LIQUID SPREADRATE"],
    ["sq ft", "AREARATE PASSTIME ACTUALRATE LIQUID SPREADRATE"],
    ["csp", "SCRATCH"],
    ["profile", "SCRATCH"],
  ])("%s finds %s", (word, wanted) => {
    expect(ids(matching(CATALOGUE, word))).toEqual(expect.arrayContaining(wanted.split(" ")));
  });

  it("stands beside every function", () => {
    expect(CATALOGUE.filter(({ words }) => words === "").map(({ id }) => id)).toEqual([]);
  });
});

it("an inserted example is of a floor, with no field or machine shop in it", () => {
  // The first is inserted; what was published of tractors and loans is checked by tests and stands below.
  const foreign = CATALOGUE.filter(({ examples: [first] }) => /Iowa|OpenStax|tractor|ac\/h|loan/.test(first!.source));
  expect(foreign.map(({ id }) => id)).toEqual([]);
});

it("topics keep the catalogue's order", () => {
  expect(byTopic(entries).map(({ title, entries: inTopic }) => [title, inTopic.length])).toEqual([
    ["Grit", 1],
    ["Coverage", 2],
  ]);
});

it("a signature brackets what may be left out, and units read as words", () => {
  expect(signature(entries[1]!)).toBe("PASSTIME(area, [passes])");
  expect(readable("Floor area, ft² | m².")).toBe("Floor area, ft² or m².");
});
