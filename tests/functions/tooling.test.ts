import { describe, expect, it } from "vitest";
import { BOND, GRINDRATIO, LIFELEFT, TOOLCOST, TOOLSTOBUY, TOOLSUSED, WEARRATE } from "../../functions/tooling";
import { ask, column, expectClose, valueError } from "../helpers";

describe("TOOLSUSED", () => {
  it("is one pass when left out", () => {
    expect(ask(TOOLSUSED, 5000, 4000)).toBe(1.25);
  });

  it("of a whole list of tools spills", () => {
    expect(TOOLSUSED([[6000]], column(2000, 4000), column(1, 2))).toEqual([[3], [3]]);
  });

  it("needs a life", () => {
    expect(ask(TOOLSUSED, 5000, null)).toEqual(valueError("life is blank or 0; it must be above 0"));
  });
});

describe("TOOLSTOBUY", () => {
  it("is whole sets beyond those on hand, never fewer than none", () => {
    expect(TOOLSTOBUY([[10000]], [[4000]], [[1]], column(0.5, 1, 2.5, 9))).toEqual([[2], [2], [0], [0]]);
    expect(ask(TOOLSTOBUY, 10000, 4000, 1, 0)).toBe(3);
  });

  it("is not raised by the last digit of a division or a difference", () => {
    expect(ask(TOOLSTOBUY, 4.2, 0.7)).toBe(6);
    expect(ask(TOOLSTOBUY, 100, 1, 0.07)).toBe(7);
    expect(ask(TOOLSTOBUY, 4.2, 0.7, 1, 5)).toBe(1);
  });
});

describe("TOOLCOST", () => {
  it("counts the share used, not the whole sets bought", () => {
    expect(ask(TOOLCOST, 1000, 4000, 360)).toBe(90);
  });

  it("of tools that are given away is 0", () => {
    expect(ask(TOOLCOST, 1000, 4000, 0)).toBe(0);
  });
});

describe("WEARRATE", () => {
  it("of segments that did not wear is 0", () => {
    expect(ask(WEARRATE, 10, 10, 3000)).toBe(0);
  });

  it("refuses segments that grew, each in its own row", () => {
    expect(WEARRATE(column(10, 8.5), column(8.5, 10), [[1500]])).toEqual([
      [1],
      [valueError("endHeight must be at most startHeight (8.5); got 10")],
    ]);
  });

  it("refuses a floor of nothing", () => {
    expect(ask(WEARRATE, 10, 8.5, 0)).toEqual(valueError("area is blank or 0; it must be above 0"));
  });
});

describe("LIFELEFT", () => {
  it("foresees what WEARRATE measures", () => {
    const rate = ask(WEARRATE, 10, 8, 4000);
    // 2 mm took 4000 ft², so the 5 mm from 8 down to 3 take 10000 ft².
    expectClose(ask(LIFELEFT, 8, 3, rate), 10000);
  });

  it("is 0 at the limit and below it", () => {
    expect(LIFELEFT(column(3, 2), [[3]], [[0.25]])).toEqual([[0], [0]]);
  });
});

describe("BOND", () => {
  it("has both its limits in the middle", () => {
    expect(BOND(column(1, 3.999, 4, 6, 6.001, 10))).toEqual([
      ["hard"],
      ["hard"],
      ["medium"],
      ["medium"],
      ["soft"],
      ["soft"],
    ]);
  });

  it("knows no hardness outside the scale", () => {
    expect(ask(BOND, 0.5)).toEqual(valueError("hardness must be from 1 to 10; got 0.5"));
    expect(ask(BOND, 11)).toEqual(valueError("hardness must be from 1 to 10; got 11"));
  });
});

describe("GRINDRATIO", () => {
  it("refuses a tool that did not wear", () => {
    expect(ask(GRINDRATIO, 100, 0)).toEqual(valueError("volumeWorn is blank or 0; it must be above 0"));
  });

  it("needs tools that remove something", () => {
    expect(ask(GRINDRATIO, 0, 3)).toEqual(valueError("volumeRemoved is blank or 0; it must be above 0"));
  });
});
