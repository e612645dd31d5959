/** The list of extra work: the sample one, and an owner's rows. */
import { describe, expect, it } from "vitest";
import { EXTRA_KIND_COLUMNS, extraKindsOf, starterExtras } from "../../../functions/bid/extras";

const rows = (units: "us" | "metric") =>
  starterExtras(units).map((kind) => EXTRA_KIND_COLUMNS.map(({ key }) => kind[key] ?? ""));

describe("the sample list", () => {
  it.each(["us", "metric"] as const)("in %s units reads back as it was written", (units) => {
    const { good, bad } = extraKindsOf(rows(units));
    expect(bad).toEqual([]);
    expect(good).toEqual(starterExtras(units));
  });

  it("costs as much for a floor in either units, to what is rounded", () => {
    const metric = new Map(starterExtras("metric").map((kind) => [kind.name, kind]));
    // NIST SP 811: a foot is 0.3048 m.
    const perUnit: Readonly<Record<string, number>> = { m: 0.3048, "m²": 0.3048 ** 2 };
    for (const { name, unit, material, crewHours } of starterExtras("us")) {
      const other = metric.get(name)!;
      const factor = unit === other.unit ? 1 : perUnit[other.unit]!;
      // Two digits are kept.
      expect(Math.abs((other.material * factor) / material - 1), name).toBeLessThan(0.05);
      if (crewHours > 0) expect(Math.abs((other.crewHours * factor) / crewHours - 1), name).toBeLessThan(0.05);
    }
  });
});

describe("an owner's rows", () => {
  it("keep their words and letter case, and blank rows are skipped", () => {
    const { good, bad } = extraKindsOf([
      [" Core drilling ", "Each", 0.5, 12, 0, "Cores DRILLED"],
      ["", "", "", "", "", ""],
      ["Ramp", "lot", 3, 0, 0, ""],
    ]);
    expect(bad).toEqual([]);
    expect(good).toEqual([
      { name: "Core drilling", unit: "Each", crewHours: 0.5, material: 12, waste: 0, words: "Cores DRILLED" },
      { name: "Ramp", unit: "lot", crewHours: 3, material: 0, waste: 0, words: null },
    ]);
  });

  it.each([
    [["", "ft", 1, 1, 0, ""], "Kind of extra must be a name; got a blank"],
    [["Ramp", "", 1, 1, 0, ""], "Unit must be a name; got a blank"],
    [["Ramp", "ft", -1, 1, 0, ""], "Crew h a unit must be 0 or more; got -1"],
    [["Ramp", "ft", 1, "free", 0, ""], 'Material a unit must be 0 or more; got the text "free"'],
    [["Ramp", "ft", 1, 1, 1, ""], "Waste must be"],
  ])("%j is listed with its reason", (row, reason) => {
    const { good, bad } = extraKindsOf([row]);
    expect(good).toEqual([]);
    expect(bad[0]!.row).toBe(1);
    expect(bad[0]!.reason).toContain(reason);
  });
});
