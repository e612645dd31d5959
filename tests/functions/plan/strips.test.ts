import { describe, expect, it } from "vitest";
import { knownCut, nearestStrips, STRIP_COLUMNS, type Strip, stripsOf } from "../../../functions/plan/strips";
import { expectClose, reference } from "../../helpers";

const strip = (over: Partial<Strip> = {}): Strip => ({
  ...{ date: 46_000, slab: "Bay 1", hardness: 5, machine: null, tool: "Metal 30", size: 600, cut: 120, passes: 1 },
  ...{ width: 24, speed: 20, load: 500, slideSpeed: 1500, overlap: 0 },
  ...over,
});

describe("remembered strips", () => {
  it("are read from their table's rows, blank ones passed over and bad ones told", () => {
    const row = STRIP_COLUMNS.map(({ key }) => strip()[key] ?? "");
    const { good, bad } = stripsOf([row, row.map(() => ""), row.with(6, 0)]);
    expect(good).toEqual([strip()]);
    expect(bad).toEqual([{ row: 3, reason: "Cut µm must be above 0; got 0" }]);
  });

  it("are near where the tool is the same and the slab as hard, to half a step beyond the nearest", () => {
    const at = (hardness: number, tool = "Metal 30") => strip({ hardness, tool });
    const all = [at(3), at(5.5), at(6), at(6.5), at(5, "Resin 200")];
    expect(nearestStrips(all, "Metal 30", 5).map((s) => s.hardness)).toEqual([5.5, 6]);
    expect(nearestStrips(all, "Metal 30", 3.1).map((s) => s.hardness)).toEqual([3]);
    expect(nearestStrips(all, "Resin 100", 5)).toEqual([]);
  });

  reference(
    "show the same coefficient from another machine, by its load, width and speeds",
    "identity: Preston's cut is k × load × sliding speed / (width × travel speed); twice the load and sliding speed on a half wider machine cut 4 / 1.5 as much",
    () => {
      const other = strip({ load: 1000, slideSpeed: 3000, width: 36, cut: (120 * 4) / 1.5 });
      expectClose(knownCut([other], "us").coefficient, knownCut([strip()], "us").coefficient);
      expectClose(knownCut([strip({ cut: 240, passes: 2 })], "us").coefficient, knownCut([strip()], "us").coefficient);
    },
  );

  reference(
    "have a mean in proportion, and the spread of two strips",
    "hand: cuts of 100 and 400 have the mean 200; ln 4 / √2 is their deviation of the logarithms, times √1.5 of a mean of two, so the range is 200 × 4^(±√0.75)",
    () => {
      const one = knownCut([strip({ cut: 1 })], "us").coefficient;
      const { coefficient, low, high, strips } = knownCut([strip({ cut: 100 }), strip({ cut: 400 })], "us");
      expect(strips).toBe(2);
      expectClose(coefficient / one, 200);
      expectClose(high / one, 200 * 4 ** Math.sqrt(0.75));
      expectClose(low / one, 200 / 4 ** Math.sqrt(0.75));
    },
  );

  it("have no spread where there is one", () => {
    const { low, high, coefficient } = knownCut([strip()], "us");
    expect([low, high]).toEqual([coefficient, coefficient]);
  });
});
