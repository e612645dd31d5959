import { describe, expect } from "vitest";
import { AREARATE, PASSTIME } from "../../functions/coverage";
import { ask, expectClose, reference } from "../helpers";

const FT_PER_MIN_AT_1_MPH = 5280 / 60;
const FT2_PER_ACRE = 43560;
const INCHES_PER_FOOT = 12;

/** Published to one decimal, so within half of it. */
const expectPrinted = (actual: number, printed: number, decimals = 1) =>
  expect(Math.abs(actual - printed)).toBeLessThanOrEqual(0.5 * 10 ** -decimals + 1e-9);

describe("AREARATE", () => {
  const PM_696 =
    "published: Iowa State University Extension PM 696, Estimating Field Capacity of Farm Machines (2001), table of effective capacities";

  const machines: [machine: string, feet: number, mph: number, efficiency: number, acresPerHour: number][] = [
    ["fertilizer spreader, 40 ft", 40, 6, 0.7, 20.4],
    ["fertilizer spreader, 50 ft", 50, 6, 0.7, 25.5],
    ["manure spreader at 5 mph", 15, 5, 0.63, 5.7],
    ["manure spreader at 6 mph", 15, 6, 0.63, 6.9],
    ["plow, 7 × 16 in", (7 * 16) / 12, 5, 0.85, 4.8],
    ["plow, 8 × 16 in", (8 * 16) / 12, 5, 0.85, 5.5],
    ["plow, 8 × 18 in", (8 * 18) / 12, 5, 0.85, 6.2],
    ["plow, 10 × 18 in", (10 * 18) / 12, 5, 0.83, 7.5],
    ["chisel plow, 11 ft 3 in", 11.25, 5.5, 0.85, 6.4],
    ["chisel plow, 16 ft 3 in", 16.25, 5.5, 0.83, 9.0],
  ];

  for (const [machine, feet, mph, efficiency, acresPerHour] of machines) {
    reference(`${machine} covers ${acresPerHour} acres an hour`, PM_696, () => {
      const ft2PerHour = ask(AREARATE, feet * INCHES_PER_FOOT, mph * FT_PER_MIN_AT_1_MPH, 0, efficiency);
      expectPrinted(ft2PerHour / FT2_PER_ACRE, acresPerHour);
    });
  }

  reference(
    "capacity is speed × width × efficiency / 8.25",
    "published: University of Kentucky AEN-73 and Iowa State A3-24, constant of ASABE EP496",
    () => {
      const acres = ask(AREARATE, 23 * INCHES_PER_FOOT, 4.5 * FT_PER_MIN_AT_1_MPH, 0, 0.8) / FT2_PER_ACRE;
      expectClose(acres, (4.5 * 23 * 0.8) / 8.25);
    },
  );

  reference(
    "in metric capacity is km/h × m × efficiency / 10 hectares an hour",
    "published: ASABE EP496, metric form (from memory)",
    () => {
      const kilometresPerHour = 6;
      const hectares = ask(AREARATE, 7000, (kilometresPerHour * 1000) / 60, 0, 0.8, "metric") / 10_000;
      expectClose(hectares, (kilometresPerHour * 7 * 0.8) / 10);
    },
  );
});

describe("PASSTIME", () => {
  reference(
    "a roller of 8 ft at 3 mph and 50 min in the hour compacts 489 yd³ of 6 in lift an hour in four passes",
    "hand: US Army FM 5-434 ch. 11, 16.3 × W × S × L × E / N = 16.3 × 8 × 3 × 6 × (50 / 60) / 4",
    () => {
      const ft2PerCubicYard = 27 / 0.5;
      const hours = ask(PASSTIME, ft2PerCubicYard, 8 * 12, 3 * FT_PER_MIN_AT_1_MPH, 4, 0, 50 / 60);
      expectPrinted(1 / hours, 489, 0);
      // The printed 16.3 stands for 5280 / 12 / 27.
      expectClose(1 / hours, ((5280 / 12 / 27) * 8 * 3 * 6 * (50 / 60)) / 4);
    },
  );

  const graderPasses: [passes: number, mph: number, hours: number][] = [
    [2, 2.3, 7.25],
    [2, 3.7, 4.5],
    [3, 9.7, 2.58],
  ];
  for (const [passes, mph, hours] of graderPasses) {
    reference(
      `a grader makes ${passes} passes of 5 miles at ${mph} mph and 60 % in ${hours} h`,
      "published: US Army FM 5-434 (2000) ch. 4, passes × distance / (speed × efficiency) (numbers from memory)",
      () => {
        const strip = 5 * 5280;
        expectPrinted(ask(PASSTIME, strip, 12, mph * FT_PER_MIN_AT_1_MPH, passes, 0, 0.6), hours, 2);
      },
    );
  }
});
