import { describe, expect, it } from "vitest";
import { FUNCTIONS } from "../../functions/topics";
import { readCatalogue, readMetadata } from "../../manifest/build/catalogue.mjs";
import { expectedOf, runExample } from "../../manifest/build/examples.mjs";

const catalogue = readCatalogue();

/** The functions that are out, with their arguments in order. */
const RELEASED = [
  "SIZE(grit, [scale])",
  "NEAREST(size, [scale])",
  "STEPRATIO(from, to, [scale])",
  "STEPCHECK(from, to, [fromBond], [toBond], [maxRatio], [scale])",
  "SEQUENCECHECK(grits, [bonds], [maxRatio], [scale])",
  "STEPCOUNT(from, to, [maxRatio], [scale])",
  "LADDER(from, to, [maxRatio], [available], [scale])",
  "SCRATCH(grit, [bond], [scale], [share])",
  "AREARATE(width, speed, [overlap], [efficiency], [units])",
  "PASSTIME(area, width, speed, [passes], [overlap], [efficiency], [units])",
  "SPEEDFOR(area, width, hours, [passes], [overlap], [efficiency], [units])",
  "LANES(roomWidth, width, [overlap], [units])",
  "ROOMTIME(roomLength, roomWidth, width, speed, [passes], [overlap], [turnSeconds], [crosshatch], [units])",
  "OPENSHARE(roomLength, roomWidth, edgeStrip, [units])",
  "EDGETIME(edgeLength, edgeRate, [passes], [units])",
  "TIPSPEED(diameter, rpm, [units])",
  "SLIDESPEED(headRadius, toolRadius, headRpm, [carrierRpm], [units])",
  "PRESSURE(load, segments, segmentArea, [units])",
  "CUTPERPASS(coefficient, load, slideSpeed, width, speed, [overlap], [units])",
  "CUTCOEFFICIENT(cut, load, slideSpeed, width, speed, [overlap], [units])",
  "PASSESTOCLEAR(fromScratch, toScratch, cutPerPass, [minimum])",
  "TOOLSUSED(area, life, [passes])",
  "TOOLSTOBUY(area, life, [passes], [onHand])",
  "TOOLCOST(area, life, price, [passes])",
  "WEARRATE(startHeight, endHeight, area, [passes], [units])",
  "LIFELEFT(height, minimumHeight, wearRate, [units])",
  "BOND(hardness)",
  "GRINDRATIO(volumeRemoved, volumeWorn)",
  "LIQUID(area, coverage, [coats], [waste])",
  "CONTAINERS(volume, containerSize)",
  "FILM(coverage, [solids], [units])",
  "CREWCOST(hours, crew, rate, [burden])",
  "MACHINECOST(price, salvage, years, interest, hoursPerYear, [running])",
  "PRICEAT(cost, margin, [minimum])",
  "MARGIN(price, cost)",
  "MARKUP(price, cost)",
  "MARKUPFOR(margin)",
  "ACTUALRATE(area, hours, [passes], [units])",
  "RATEVARIANCE(actualRate, quotedRate, actualQuantity)",
  "USAGEVARIANCE(actualQuantity, quotedQuantity, quotedRate)",
  "MARGINSLIP(quotedPrice, quotedCost, actualPrice, actualCost)",
  "CALIBRATE(estimated, actual, [confidence])",
  "HOURSAT(estimate, estimated, actual, [confidence])",
  "OUTLIERS(estimated, actual, [limit])",
  "ATCOMPLETION(quoted, soFar, done, [restAsQuoted])",
  "CHEAPESTSTEPS(tooling, area, hourCost, areaRate, startScratch, finishGrit, [maxRatio], [changeCost], [units])",
  "HANDARM(vibration, hours)",
  "NOISETIME(level, [criterion], [exchange])",
  "NOISEDOSE(levels, hours, [criterion], [exchange])",
  "SHROUDAIR(diameter, [units])",
  "HANDTIME(vibration, [limit])",
  "DUSTTWA(concentrations, hours)",
  "SPREADRATE(film, [solids], [units])",
  "JOINTFILL(length, width, depth, [waste], [units])",
  "DUSTMASS(area, depth, [density], [units])",
  "SLURRY(area, depth, waterRate, hours, [units])",
  "GRINDPOWER(cut, width, speed, [overlap], [energy], [units])",
  "SUPPLYPOWER(volts, amps, [phases], [powerFactor])",
  "PAIDHOURS(hours, [threshold], [premium])",
];

describe.each(catalogue.map((entry) => [entry.id, entry] as const))("GRIT.%s", (_, entry) => {
  const fn = FUNCTIONS[entry.id]!;

  it("is exported by its topic and carries the id's parameters", () => {
    expect(fn).toBeTypeOf("function");
    expect(fn.args.map(({ name }) => name)).toEqual(entry.params.map(({ name }) => name));
  });

  it.each(entry.examples.map((e) => [e.call, e.value, e.source] as const))("%s is %s (%s)", (text, value) => {
    const result = runExample(entry, fn, text);
    const wanted = expectedOf(value);
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
      const found = runExample(entry, fn, text)
        .flat()
        .find((cell) => typeof cell === "object");
      expect(found).toMatchObject({ code, message });
    },
  );

  it("says the unit or kind of every parameter, and of omitted ones what they mean", () => {
    for (const { name, text, optional, omitted, kind, bounds, words, isShare } of entry.params) {
      expect(text, name).toMatch(isShare ? /\d% is 0\.\d/ : UNIT_OR_KIND);
      expect(optional, name).toBe(omitted !== undefined);
      if (optional) expect(text, name).toContain(`default ${omitted}`);
      if (kind === "number" && !text.includes("a number")) expect(bounds.length, name).toBeGreaterThan(0);
      if (["word", "units", "scale"].includes(kind)) expect(words.length, name).toBeGreaterThan(1);
    }
  });

  it("only uses parameters of its own in its plain formula", () => {
    const marks = [...entry.plain.matchAll(/\{([a-z][^}]*)\}/gi)].map((m) => m[1]!.split(":")[0]);
    if (entry.noPlain) expect(entry.plain).toBe("");
    else expect(entry.params.map((p) => p.name)).toEqual(expect.arrayContaining([...new Set(marks)]));
  });
});

/** Relative to about 1e-9, in the decimals that toBeCloseTo counts. */
const digitsFor = (value: number) => Math.max(0, 9 - Math.ceil(Math.log10(Math.abs(value) + 1e-300)) - 1);
const UNIT_OR_KIND =
  /µm|m²|mm³|m\/s²|µg\/m³|dBA?\b|"us" or "metric"|TRUE or FALSE|\b(in \||ft|mm|h|s|kJ|lbf|gal|years|numbers?|V|A|fraction|money|grits?|bonds?|hours?|volume|Mohs|rpm|revolutions|share|passes|coats|ratio|sets|people|z-score)\b/i;

describe("the catalogue", () => {
  it("has every function of seven of its topics, as the contract lists them", () => {
    const ids = catalogue.map((entry) => entry.id);
    expect(ids).toEqual(expect.arrayContaining(CONTRACT));
  });

  it("is what the host's metadata says, function by function and parameter by parameter", () => {
    const metadata = JSON.parse(readMetadata());
    const listed = metadata.functions.map((f: any) => [f.id, f.parameters.map((p: any) => p.name).join()]);
    expect(listed).toEqual(catalogue.map((entry) => [entry.id, entry.params.map((p) => p.name).join()]));
    expect(Object.keys(FUNCTIONS).sort()).toEqual(catalogue.map(({ id }) => id).sort());
    expect(metadata.allowErrorForDataTypeAny).toBe(true);
    const units = metadata.functions.flatMap((f: any) => f.parameters.filter((p: any) => p.name === "units"));
    expect(units.length).toBeGreaterThan(0);
    for (const parameter of units) expect(parameter).toMatchObject({ type: "string", customEnumId: "UNITS" });
  });

  it("hands every other argument over as a block of anything, and takes one back", () => {
    const { functions } = JSON.parse(readMetadata());
    for (const { id, name, description, parameters, result } of functions) {
      expect([name, result]).toEqual([id, { type: "any", dimensionality: "matrix" }]);
      expect(description.length).toBeGreaterThan(0);
      for (const parameter of parameters.filter((p: any) => p.name !== "units")) {
        expect(parameter).toMatchObject({ type: "any", dimensionality: "matrix" });
      }
    }
  });

  it.each(RELEASED)("keeps %s, which workbooks store", (signature) => {
    const [, id] = /^(\w+)\(/.exec(signature)!;
    const { params } = catalogue.find((entry) => entry.id === id)!;
    const args = params.map(({ name, optional }) => (optional ? `[${name}]` : name));
    // New arguments go last and are optional.
    expect(`${id}(${args.join(", ")})`.startsWith(signature.slice(0, -1))).toBe(true);
    const added = args.slice(signature.split(", ").length);
    expect(added.every((name) => name.startsWith("["))).toBe(true);
  });
});

// The names of seven of the contract's topics, written out so that none can go missing unseen.
const CONTRACT =
  "SIZE NEAREST STEPRATIO STEPCHECK SEQUENCECHECK STEPCOUNT LADDER SCRATCH AREARATE PASSTIME SPEEDFOR LANES ROOMTIME OPENSHARE EDGETIME TIPSPEED SLIDESPEED PRESSURE CUTPERPASS CUTCOEFFICIENT PASSESTOCLEAR TOOLSUSED TOOLSTOBUY TOOLCOST WEARRATE LIFELEFT BOND GRINDRATIO LIQUID CONTAINERS FILM CREWCOST MACHINECOST PRICEAT MARGIN MARKUP MARKUPFOR HANDARM NOISETIME NOISEDOSE SHROUDAIR HANDTIME DUSTTWA".split(
    " ",
  );
