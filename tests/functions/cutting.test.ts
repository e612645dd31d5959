import { describe, expect, it } from "vitest";
import {
  CUTCOEFFICIENT,
  CUTPERPASS,
  ellipticE,
  meanOfTurningSum,
  PASSESTOCLEAR,
  PRESSURE,
  SLIDESPEED,
  TIPSPEED,
} from "../../functions/cutting";
import { ask, column, expectClose, row, valueError } from "../helpers";

describe("TIPSPEED", () => {
  it("needs a turning speed", () => {
    expect(ask(TIPSPEED, 7, 0)).toEqual(valueError("rpm is blank or 0; it must be above 0"));
  });

  it("is per minute in us and per second in metric", () => {
    // 304.8 mm is 1 ft: π ft/min is π × 0.3048 / 60 m/s.
    expectClose(ask(TIPSPEED, 12, 1), Math.PI);
    expectClose(ask(TIPSPEED, 304.8, 1, "metric"), (Math.PI * 0.3048) / 60);
  });
});

describe("the elliptic integral", () => {
  it("has its known ends", () => {
    expect(ellipticE(0)).toBeCloseTo(Math.PI / 2, 15);
    expect(ellipticE(1)).toBe(1);
  });

  it("falls steadily from one end to the other", () => {
    const samples = Array.from({ length: 101 }, (_, i) => ellipticE(i / 100));
    for (let i = 1; i < samples.length; i++) expect(samples[i]).toBeLessThan(samples[i - 1]!);
  });
});

describe("SLIDESPEED", () => {
  it("of a rotary machine does not depend on where its axis is", () => {
    expect(ask(SLIDESPEED, 0, 6, 600)).toBe(ask(SLIDESPEED, 15, 6, 600));
  });

  it("of a machine that stands still is 0, not an error", () => {
    expect(ask(SLIDESPEED, 12, 3, 0, 0)).toBe(0);
    expect(ask(SLIDESPEED, 0, 0, 600, 30)).toBe(0);
    expect(meanOfTurningSum(0, 0)).toBe(0);
  });

  it("of a head that the carrier exactly undoes is the speed of the head's axis", () => {
    // −30 on +30: the tool does not turn over the floor, it only follows the carrier at 2π × 1 ft × 30.
    expectClose(ask(SLIDESPEED, 12, 3, -30, 30), 60 * Math.PI);
  });

  it("does not change when everything turns the other way", () => {
    expect(ask(SLIDESPEED, 12, 3, -90, -30)).toBe(ask(SLIDESPEED, 12, 3, 90, 30));
  });

  it("counts the head relative to its carrier, so a counter-rotating head slides slower than a following one", () => {
    expect(ask(SLIDESPEED, 12, 3, -300, 30)).toBeLessThan(ask(SLIDESPEED, 12, 3, 300, 30));
  });

  it("is symmetric in the two velocities and scales with them", () => {
    expect(meanOfTurningSum(3, 2)).toBe(meanOfTurningSum(2, 3));
    expectClose(meanOfTurningSum(3e-200, 2e-200), 1e-200 * meanOfTurningSum(3, 2));
    expectClose(meanOfTurningSum(3e200, 2e200), 1e200 * meanOfTurningSum(3, 2));
  });

  it("lies between the faster of the two velocities and their root mean square", () => {
    for (const b of [0, 0.1, 0.5, 0.9, 0.999999, 1]) {
      expect(meanOfTurningSum(1, b)).toBeGreaterThanOrEqual(1 - 1e-15);
      expect(meanOfTurningSum(1, b)).toBeLessThanOrEqual(Math.hypot(1, b) + 1e-15);
    }
  });

  it("takes its carrier's speeds from a range", () => {
    const [[still, turning]] = SLIDESPEED(row(12, 12), [[3]], [[90]], row(0, 30)) as [[number, number]];
    expectClose(still, 2 * Math.PI * 0.25 * 90);
    expectClose(turning, 240);
  });
});

describe("PRESSURE", () => {
  it("is shared by the segments", () => {
    expect(PRESSURE([[450]], column(9, 18), [[0.5]])).toEqual([[100], [50]]);
  });

  it("needs at least one segment", () => {
    expect(ask(PRESSURE, 450, 0, 0.5)).toEqual(
      valueError("segments is blank or 0; it must be a whole number, 1 or more"),
    );
  });
});

describe("CUTPERPASS", () => {
  it("doubles with the load or the sliding speed and halves with the width or the travel speed", () => {
    const once = ask(CUTPERPASS, 200, 440, 2000, 28, 10);
    expectClose(ask(CUTPERPASS, 200, 880, 2000, 28, 10), 2 * once);
    expectClose(ask(CUTPERPASS, 200, 440, 4000, 28, 10), 2 * once);
    expectClose(ask(CUTPERPASS, 200, 440, 2000, 56, 10), once / 2);
    expectClose(ask(CUTPERPASS, 200, 440, 2000, 28, 20), once / 2);
  });

  it("with half of each lane overlapping goes over every point twice", () => {
    expectClose(ask(CUTPERPASS, 200, 440, 2000, 28, 10, 0.5), 2 * ask(CUTPERPASS, 200, 440, 2000, 28, 10));
  });

  it("needs tools that slide and press", () => {
    expect(ask(CUTPERPASS, 200, 440, 0, 28, 10)).toEqual(valueError("slideSpeed is blank or 0; it must be above 0"));
    expect(ask(CUTPERPASS, 200, 0, 2000, 28, 10)).toEqual(valueError("load is blank or 0; it must be above 0"));
  });
});

describe("CUTCOEFFICIENT", () => {
  it("is one number in both systems of units", () => {
    const us = ask(CUTCOEFFICIENT, 50, 440, 2000, 28, 10, 0.1);
    // The same machine in metric: lbf to kgf, ft/min to m/s, in to mm, ft/min to m/min.
    const kgf = (440 * 4.4482216152605) / 9.80665;
    const metric = ask(CUTCOEFFICIENT, 50, kgf, (2000 * 0.3048) / 60, 28 * 25.4, 10 * 0.3048, 0.1, "metric");
    expectClose(metric, us);
  });

  it("needs a strip on which something came off", () => {
    expect(ask(CUTCOEFFICIENT, 0, 440, 2000, 28, 10)).toEqual(valueError("cut is blank or 0; it must be above 0"));
  });

  it("refuses tools that do not slide", () => {
    expect(ask(CUTCOEFFICIENT, 50, 440, 0, 28, 10)).toEqual(valueError("slideSpeed is blank or 0; it must be above 0"));
  });
});

describe("PASSESTOCLEAR", () => {
  it("is the minimum where the scratch is no deeper than the one this stage leaves", () => {
    expect(ask(PASSESTOCLEAR, 40, 40, 30)).toBe(1);
    expect(ask(PASSESTOCLEAR, 10, 40, 30, 2)).toBe(2);
    expect(ask(PASSESTOCLEAR, 10, 40, 30, 0)).toEqual(
      valueError("minimum is blank or 0; type a whole number, 1 or more, or leave the argument out for 1"),
    );
  });

  it("is not raised by the last digit of a division", () => {
    expect(ask(PASSESTOCLEAR, 4.2, 0, 0.7)).toBe(6);
    expect(ask(PASSESTOCLEAR, 0.07 * 100, 0, 1)).toBe(7);
  });

  it("is raised by a real remainder", () => {
    expect(ask(PASSESTOCLEAR, 4.21, 0, 0.7)).toBe(7);
  });

  it("keeps to the minimum where that is more", () => {
    expect(PASSESTOCLEAR(column(30, 90, 150), [[0]], [[30]], [[2]])).toEqual([[2], [3], [5]]);
  });

  it("refuses half a pass as the minimum", () => {
    expect(ask(PASSESTOCLEAR, 40, 0, 30, 0.5)).toEqual(
      valueError("minimum must be a whole number, 1 or more; got 0.5"),
    );
  });
});
