import { describe, expect } from "vitest";
import { NEAREST, SIZE } from "../../functions/grit";
import { ASTM_E11 } from "../../functions/tables/astm-e11";
import { ask, column, expectClose, reference } from "../helpers";

// ISO 3310-1:2016, Table 1, apertures from 5.6 mm to 20 µm, all three series; a standard of its own beside ASTM E11.
const ISO_3310_1 = [
  5600, 5000, 4750, 4500, 4000, 3550, 3350, 3150, 2800, 2500, 2360, 2240, 2000, 1800, 1700, 1600, 1400, 1250, 1180,
  1120, 1000, 900, 850, 800, 710, 630, 600, 560, 500, 450, 425, 400, 355, 315, 300, 280, 250, 224, 212, 200, 180, 160,
  150, 140, 125, 112, 106, 100, 90, 80, 75, 71, 63, 56, 53, 50, 45, 40, 38, 36, 32, 25, 20,
];

// ISO 6106:2013, Table 2 (narrow) and Table 3 (wide): D number, the pair of sieves by mesh number. From memory.
const ISO_6106_NARROW = [
  [1181, 16, 18],
  [1001, 18, 20],
  [851, 20, 25],
  [711, 25, 30],
  [601, 30, 35],
  [501, 35, 40],
  [426, 40, 45],
  [356, 45, 50],
  [301, 50, 60],
  [251, 60, 70],
  [213, 70, 80],
  [181, 80, 100],
  [151, 100, 120],
  [126, 120, 140],
  [107, 140, 170],
  [91, 170, 200],
  [76, 200, 230],
  [64, 230, 270],
  [54, 270, 325],
  [46, 325, 400],
] as const;
const ISO_6106_WIDE = [
  [1182, 16, 20],
  [852, 20, 30],
  [712, 25, 35],
  [602, 30, 40],
  [427, 40, 50],
  [357, 45, 60],
  [302, 50, 70],
  [252, 60, 80],
] as const;

const mesh = (grit: number): number => ask(SIZE, grit);

describe("the mesh scale", () => {
  reference(
    "gives the openings of some sieves",
    "published: ASTM E11-17, Table 1, No. 4, 6, 16, 30, 50, 100, 200, 400 and 635",
    () => {
      expect(ask(SIZE, column(4, 6, 16, 30, 50, 100, 200, 400, 635))).toEqual(
        column(4750, 3350, 1180, 600, 300, 150, 75, 38, 20),
      );
    },
  );

  reference("has only openings that the international series has", "published: ISO 3310-1:2016, Table 1", () => {
    expect(ASTM_E11.filter(([, opening]) => !ISO_3310_1.includes(opening))).toEqual([]);
  });

  reference(
    "steps by the fourth root of two from No. 4 to No. 400, to the rounding of the openings (2.5 % at worst)",
    "published: ASTM E11-17, the openings of consecutive sieves are in the ratio of the fourth root of 2 to 1",
    () => {
      const openings = ASTM_E11.filter(([number]) => number <= 400).map(([, opening]) => opening);
      for (let i = 1; i < openings.length; i++) expectClose(openings[i - 1]! / openings[i]!, 2 ** 0.25, 0.025);
      for (let i = 2; i < openings.length; i++) expectClose(openings[i - 2]! / openings[i]!, 2 ** 0.5, 0.025);
    },
  );

  reference(
    "leaves room for the wire: as many openings as the number go into an inch, and fill 45 to 85 % of it",
    "identity: a mesh number is the number of openings to the inch, and opening + wire = 25400 µm / number",
    () => {
      for (const [number, opening] of ASTM_E11) {
        const open = (number * opening) / 25400;
        expect(open, `No. ${number}`).toBeGreaterThan(0.45);
        expect(open, `No. ${number}`).toBeLessThan(0.85);
      }
    },
  );

  reference(
    "agrees with the names of the diamond grits, upper opening + 1",
    "published: ISO 6106:2013, Table 2, designations and mesh pairs (from memory)",
    () => {
      for (const [designation, upper] of ISO_6106_NARROW) {
        expect(mesh(upper) + 1, `D${designation}`).toBe(designation);
      }
    },
  );

  reference(
    "agrees with the names of the wide diamond grits, upper opening + 2",
    "published: ISO 6106:2013, Table 3, designations and mesh pairs (from memory)",
    () => {
      for (const [designation, upper] of ISO_6106_WIDE) expect(mesh(upper) + 2, `D${designation}`).toBe(designation);
    },
  );

  reference(
    "passes each narrow diamond grit on to the next: the lower sieve of one is the upper of the following",
    "published: ISO 6106:2013, Table 2 (from memory)",
    () => {
      for (let i = 1; i < ISO_6106_NARROW.length; i++) {
        const lower = ISO_6106_NARROW[i - 1]![2];
        expect(mesh(lower) + 1).toBe(ISO_6106_NARROW[i]![0]);
      }
    },
  );

  reference("goes on beyond the sieves", "common practice: from 800 on a grit is 15000 / number µm, no source", () => {
    for (const grit of [800, 1000, 1200, 1500, 1800, 3000, 5000, 8500, 10000]) expectClose(mesh(grit), 15000 / grit);
  });

  reference(
    "bridges the sieves and the resin grits in logarithms",
    "hand: from (635, 20 µm) to (800, 18.75 µm); halfway in ln grit at √(635 × 800) the size is √(20 × 18.75) = 19.3649167 µm",
    () => expectClose(mesh(Math.sqrt(635 * 800)), 19.3649167, 1e-8),
  );
});

describe("the other scales", () => {
  reference(
    "p gives the coarse and the fine grits",
    "published: ISO 6344-2 and ISO 6344-3 (FEPA P), P12, P40, P80, P120, P220, P240, P400, P1000 and P2500",
    () => {
      expect(ask(SIZE, column(12, 40, 80, 120, 220, 240, 400, 1000, 2500), "p")).toEqual(
        column(1815, 425, 201, 125, 68, 58.5, 35, 18.3, 8.4),
      );
    },
  );

  reference(
    "f gives the coarse and the fine grits",
    "published: ISO 8486-1:1996 and ISO 8486-2:2007 (FEPA F), F4, F30, F60, F220, F230, F400, F1200 and F2000 (from memory)",
    () => {
      expect(ask(SIZE, column(4, 30, 60, 220, 230, 400, 1200, 2000), "f")).toEqual(
        column(4890, 625, 260, 58, 53, 17.3, 3, 1.2),
      );
    },
  );

  reference(
    "jis gives the micropowders",
    "published: JIS R 6001:1987, #240, #320, #600, #1000, #2000, #4000 and #8000",
    () => {
      expect(ask(SIZE, column(240, 320, 600, 1000, 2000, 4000, 8000), "jis")).toEqual(
        column(57, 40, 20, 11.5, 6.7, 3, 1.2),
      );
    },
  );

  reference(
    "the same number 400 is a different size on each scale, so a number alone converts to nothing",
    "published: ASTM E11-17 No. 400, ISO 6344-3 P400, JIS R 6001:1987 #400, ISO 8486-2:2007 F400 (the last from memory)",
    () => {
      expect(["mesh", "p", "jis", "f"].map((scale) => ask(SIZE, 400, scale))).toEqual([38, 35, 30, 17.3]);
    },
  );

  reference(
    "a size is found on each scale under that scale's own number",
    "published: 125 µm is ASTM E11 No. 120 and ISO 6344-2 P120; 40 µm is JIS R 6001 #320",
    () => {
      expect(ask(NEAREST, 125)).toBe(120);
      expect(ask(NEAREST, 125, "p")).toBe(120);
      expect(ask(NEAREST, 40, "jis")).toBe(320);
    },
  );
});
