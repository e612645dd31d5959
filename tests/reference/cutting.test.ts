import { unit } from "mathjs";
import { describe, expect } from "vitest";
import { CUTPERPASS, ellipticE, meanOfTurningSum, PRESSURE, SLIDESPEED, TIPSPEED } from "../../functions/cutting";
import { ask, expectClose, reference } from "../helpers";

describe("the complete elliptic integral of the second kind", () => {
  const rows: [m: number, table: number, library: number][] = [
    [0, 1.570796327, 1.570796326794897],
    [0.1, 1.530757637, 1.530757636897763],
    [0.2, 1.489035058, 1.489035058095853],
    [0.3, 1.445363064, 1.445363064412665],
    [0.4, 1.399392139, 1.399392138897432],
    [0.5, 1.350643881, 1.350643881047676],
    [0.6, 1.298428034, 1.298428035046913],
    [0.7, 1.241670567, 1.241670567945823],
    [0.8, 1.178489924, 1.178489924327838],
    [0.9, 1.104774733, 1.104774732704073],
    [1, 1, 1],
  ];
  for (const [m, table, library] of rows) {
    reference(
      `E(${m}) is ${table}`,
      "published: Abramowitz and Stegun, Handbook of Mathematical Functions (1964), Table 17.1 (from memory, the ninth decimal in doubt)",
      () => expect(Math.abs(ellipticE(m) - table)).toBeLessThanOrEqual(1.1e-9),
    );

    reference(`E(${m}) is ${library}`, "library: mpmath 1.3.0 ellipe", () => expectClose(ellipticE(m), library, 1e-15));
  }

  reference(
    "E(m) by direct integration",
    "hand: √(1 − m sin² φ) is smooth and periodic, so its mean over equal steps times π/2 is exact to rounding",
    () => {
      const steps = 4096;
      for (const m of [0.05, 0.35, 0.75, 0.95, 0.99]) {
        let sum = 0;
        for (let k = 0; k < steps; k++) sum += Math.sqrt(1 - m * Math.sin((Math.PI * k) / steps) ** 2);
        expectClose(ellipticE(m), (Math.PI / 2) * (sum / steps), 1e-13);
      }
    },
  );

  reference("E(0.999999999999) near its steep end", "library: mpmath 1.3.0 ellipe, 1.00000000000735075", () => {
    expectClose(ellipticE(0.999999999999), 1.000000000007351, 1e-15);
  });
});

describe("the mean of two velocities that turn against one another", () => {
  const cases: [a: number, b: number, mean: number][] = [
    [1, 1, 1.2732395447351628],
    [1, 0, 1],
    [2, 1, 2.12708881994673],
    [1, 0.5, 1.063544409973365],
  ];
  for (const [a, b, mean] of cases) {
    reference(
      `of ${a} and ${b} is ${mean}`,
      "library: 30-digit evaluation of (2/π)(a + b)·E(4ab/(a + b)²), arbitrary-precision arithmetic",
      () => expectClose(meanOfTurningSum(a, b), mean, 1e-14),
    );
  }
});

describe("SLIDESPEED", () => {
  /** Path of a tool per minute, followed in small straight steps over whole turns of head against carrier. */
  function pathPerMinute(headRadius: number, toolRadius: number, headRpm: number, carrierRpm: number): number {
    const turns = 50;
    const steps = 200_000;
    const minutes = turns / Math.abs(headRpm);
    const at = (step: number): [number, number] => {
      const carrier = 2 * Math.PI * carrierRpm * minutes * (step / steps);
      const head = carrier + 2 * Math.PI * headRpm * minutes * (step / steps);
      return [
        headRadius * Math.cos(carrier) + toolRadius * Math.cos(head),
        headRadius * Math.sin(carrier) + toolRadius * Math.sin(head),
      ];
    };
    let length = 0;
    let before = at(0);
    for (let step = 1; step <= steps; step++) {
      const now = at(step);
      length += Math.hypot(now[0] - before[0], now[1] - before[1]);
      before = now;
    }
    return length / minutes;
  }

  const machines: [what: string, headRadius: number, toolRadius: number, headRpm: number, carrierRpm: number][] = [
    ["a rotary machine", 0, 6, 600, 0],
    ["heads that turn with their carrier", 12, 4, 300, 40],
    ["heads that turn against their carrier", 12, 4, -300, 40],
    ["equal speeds, where the tool comes to rest once a turn", 12, 3, 90, 30],
  ];
  for (const [what, headRadius, toolRadius, headRpm, carrierRpm] of machines) {
    reference(what, "hand: the tool's path followed in 200000 straight steps", () => {
      const inchesPerMinute = pathPerMinute(headRadius, toolRadius, headRpm, carrierRpm);
      expectClose(ask(SLIDESPEED, headRadius, toolRadius, headRpm, carrierRpm), inchesPerMinute / 12, 1e-6);
    });
  }
});

describe("TIPSPEED", () => {
  reference("a 7 in wheel at 6000 rpm", "library: mathjs 15.2.0", () => {
    expectClose(ask(TIPSPEED, 7, 6000), Math.PI * unit(7, "in").toNumber("ft") * 6000);
  });

  reference(
    "a 230 mm wheel at 6650 rpm runs at its marked 80 m/s",
    "common practice: the speed pair that such wheels are marked with (from memory)",
    () => expect(Math.round(ask(TIPSPEED, 230, 6650, "metric"))).toBe(80),
  );
});

describe("PRESSURE", () => {
  reference("450 lbf on 18 segments of 0.5 in² as kPa", "library: mathjs 15.2.0", () => {
    const kPa = unit(450, "lbf").toNumber("N") / (18 * unit(0.5, "in^2").toNumber("m^2")) / 1000;
    expectClose(ask(PRESSURE, unit(450, "lbf").toNumber("kgf"), 18, unit(0.5, "in^2").toNumber("mm^2"), "metric"), kPa);
    expectClose(unit(ask(PRESSURE, 450, 18, 0.5), "psi").toNumber("kPa"), kPa, 1e-10);
  });
});

describe("CUTPERPASS", () => {
  reference("Preston's law with every factor a physical quantity", "library: mathjs 15.2.0", () => {
    const depth = (load: string, slide: string, width: string, speed: string) => {
      const power = unit(load).toNumber("N") * unit(slide).toNumber("m/s");
      const swept = unit(width).toNumber("m") * 0.9 * unit(speed).toNumber("m/s");
      return (unit("200 mm^3/kJ").toNumber("m^3/J") * power * 1e6) / swept;
    };
    expectClose(
      ask(CUTPERPASS, 200, 440, 2000, 28, 10, 0.1),
      depth("440 lbf", "2000 ft/minute", "28 in", "10 ft/minute"),
    );
    expectClose(
      ask(CUTPERPASS, 200, 200, 10, 700, 6, 0.1, "metric"),
      depth("200 kgf", "10 m/s", "700 mm", "6 m/minute"),
    );
  });

  reference(
    "Preston's law point by point under a row of tools",
    "hand: a floor of strips, each cut by k × pressure × speed × time for as long as the tools stand over it",
    () => {
      const newtons = 200 * 9.80665;
      const [slide, width, speed, coefficient] = [10, 0.7, 0.1, 200e-12];
      // Tools as deep as this in the direction of travel, across the whole width; the depth must not matter.
      for (const toolDepth of [0.02, 0.3]) {
        const pascals = newtons / (width * toolDepth);
        const seconds = toolDepth / speed;
        const micrometres = coefficient * pascals * slide * seconds * 1e6;
        expectClose(ask(CUTPERPASS, 200, 200, 10, 700, 6, 0, "metric"), micrometres);
      }
    },
  );
});
