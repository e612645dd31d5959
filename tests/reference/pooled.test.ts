/** Means of groups drawn together: published meta-analyses, and how often the intervals hold. */
import tQuantileOf from "@stdlib/stats-base-dists-t-quantile";
import { describe, expect } from "vitest";
import { calibrateGroups } from "../../functions/jobs";
import { betweenGroups, drawnTogether } from "../../functions/statistics";
import { expectClose, reference } from "../helpers";

/** Vaccinated with and without tuberculosis, then those not vaccinated. */
const BCG: readonly [number, number, number, number][] = [
  [4, 119, 11, 128],
  [6, 300, 29, 274],
  [3, 228, 11, 209],
  [62, 13536, 248, 12619],
  [33, 5036, 47, 5761],
  [180, 1361, 372, 1079],
  [8, 2537, 10, 619],
  [505, 87886, 499, 87892],
  [29, 7470, 45, 7232],
  [17, 1699, 65, 1600],
  [186, 50448, 141, 27197],
  [5, 2493, 3, 2338],
  [27, 16886, 29, 17825],
];
/** Effect and standard error in each school. */
const SCHOOLS: readonly [number, number][] = [
  ...([
    [28, 15],
    [8, 10],
    [-3, 16],
    [7, 11],
  ] as const),
  ...([
    [-1, 9],
    [1, 11],
    [18, 10],
    [12, 18],
  ] as const),
].map(([effect, error]) => [effect, error]);

/** Normal numbers by Box and Muller (1958), from a generator that gives the same ones each time. */
function normals(seed: number): () => number {
  let state = seed;
  const uniform = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

describe("groups drawn together", () => {
  reference(
    "the 13 BCG trials have a between-trial variance of 0.3088 and a common log risk ratio of -0.7141",
    "published: Colditz et al. (1994), the data as in R's metafor, dat.bcg; DerSimonian and Laird, from memory",
    () => {
      const risks = BCG.map(([a, b, c, d]) => ({
        y: Math.log(a / (a + b) / (c / (c + d))),
        v: 1 / a - 1 / (a + b) + 1 / c - 1 / (c + d),
      }));
      const { between, common } = betweenGroups({
        means: risks.map(({ y }) => y),
        weights: risks.map(({ v }) => 1 / v),
        within: 1,
      });
      expect(Math.abs(between - 0.3088)).toBeLessThan(5e-5);
      expect(Math.abs(common + 0.7141)).toBeLessThan(5e-5);
    },
  );

  reference(
    "the eight schools don't differ beyond chance: all are drawn to their common mean of 7.7",
    "published: Rubin (1981); Gelman et al., Bayesian Data Analysis, 5.5, from memory",
    () => {
      const groups = {
        means: SCHOOLS.map(([effect]) => effect),
        weights: SCHOOLS.map(([, error]) => 1 / error ** 2),
        within: 1,
      };
      const { between, common } = betweenGroups(groups);
      expect(between).toBe(0);
      expect(Math.abs(common - 7.7)).toBeLessThan(0.05);
      for (const { center, drawn } of drawnTogether(groups)) {
        expectClose(center, common);
        expect(drawn).toBe(1);
      }
    },
  );

  // 4,000 lists of five groups each: the share that holds is known to 0.01 with a certainty of 99.7%, as
  // 3 × √(0.9 × 0.1 / 20,000) is 0.006, and groups of one list are not independent.
  reference(
    "9 in 10 intervals at 90% hold what they are of, or more, however far the groups differ",
    "common practice: no source; simulated with normal log ratios",
    () => {
      const normal = normals(1983);
      for (const between of [0, 0.05, 0.1, 0.2]) {
        for (const sizes of [
          [2, 5, 8],
          [2, 3, 5, 8, 12],
          [1, 2, 3, 4, 6, 8, 10],
        ]) {
          let held = 0;
          let all = 0;
          for (let list = 0; list < 4000; list++) {
            const groups = sizes.map((size, i) => {
              const truth = between * normal();
              return {
                truth,
                value: String(i),
                logRatios: Array.from({ length: size }, () => truth + 0.15 * normal()),
              };
            });
            for (const [i, { low, high }] of calibrateGroups(groups, 0.9).entries()) {
              const truth = Math.exp(groups[i]!.truth);
              if (low <= truth && truth <= high) held++;
              all++;
            }
          }
          expect(held / all, `${between}, ${sizes}`).toBeGreaterThan(0.89);
        }
      }
    },
  );

  reference(
    "three groups, as written out by hand",
    "hand: DerSimonian and Laird on paper; library: stdlib, t quantile",
    () => {
      // Means 0.1, 0.3 and -0.2 of 2, 2 and 4 jobs, each job 0.1 away from its mean.
      const around = (center: number, jobs: number) =>
        Array.from({ length: jobs }, (_, i) => center + (i % 2 === 0 ? 0.1 : -0.1));
      const groups = [around(0.1, 2), around(0.3, 2), around(-0.2, 4)].map((logRatios, i) => ({
        value: `g${i}`,
        logRatios,
      }));
      // 8 squares of 0.01 over 8 - 3; fixed mean (2 × 0.1 + 2 × 0.3 - 4 × 0.2) / 8 = 0.
      const within = 0.08 / 5;
      const apart = 2 * 0.01 + 2 * 0.09 + 4 * 0.04;
      const between = (apart - 2 * within) / (8 - 24 / 8);
      const variances = [within / 2, within / 2, within / 4];
      const weights = variances.map((v) => 1 / (v + between));
      const common =
        (0.1 * weights[0]! + 0.3 * weights[1]! - 0.2 * weights[2]!) / (weights[0]! + weights[1]! + weights[2]!);
      const t = tQuantileOf(0.95, 5);
      calibrateGroups(groups, 0.9).forEach(({ factor, low, borrowed }, i) => {
        const drawn = variances[i]! / (variances[i]! + between);
        const center = drawn * common + (1 - drawn) * [0.1, 0.3, -0.2][i]!;
        expectClose(factor, Math.exp(center));
        expectClose(borrowed, drawn);
        // With three groups the interval is as wide as the group's own.
        expectClose(low, Math.exp(center - t * Math.sqrt(variances[i]!)));
      });
    },
  );
});
