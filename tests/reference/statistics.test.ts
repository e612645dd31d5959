import tQuantileOf from "@stdlib/stats-base-dists-t-quantile";
import fc from "fast-check";
import { mad, mean as meanOf, median as medianOf, std } from "mathjs";
import { describe, expect } from "vitest";
import { mean, median, medianDeviation, sampleDeviation, tQuantile } from "../../functions/statistics";
import { expectClose, reference } from "../helpers";

// NIST Statistical Reference Datasets, univariate summary statistics, with the certified values of each.
const MAVRO = [
  2.0018, 2.0017, 2.0018, 2.0019, 2.0018, 2.0017, 2.0015, 2.0014, 2.0015, 2.0015, 2.0017, 2.0018, 2.0018, 2.0019,
  2.0019, 2.0021, 2.002, 2.0016, 2.0014, 2.0013, 2.0013, 2.0015, 2.0015, 2.0016, 2.0015, 2.0014, 2.0013, 2.0014, 2.0015,
  2.0014, 2.0015, 2.0016, 2.0015, 2.0016, 2.0019, 2.002, 2.002, 2.0021, 2.0022, 2.0023, 2.0024, 2.0025, 2.0027, 2.0026,
  2.0026, 2.0026, 2.0027, 2.0026, 2.0025, 2.0024,
];
const MICHELSO = [
  299.85, 299.74, 299.9, 300.07, 299.93, 299.85, 299.95, 299.98, 299.98, 299.88, 300, 299.98, 299.93, 299.65, 299.76,
  299.81, 300, 300, 299.96, 299.96, 299.96, 299.94, 299.96, 299.94, 299.88, 299.8, 299.85, 299.88, 299.9, 299.84,
  299.83, 299.79, 299.81, 299.88, 299.88, 299.83, 299.8, 299.79, 299.76, 299.8, 299.88, 299.88, 299.88, 299.86, 299.72,
  299.72, 299.62, 299.86, 299.97, 299.95, 299.88, 299.91, 299.85, 299.87, 299.84, 299.84, 299.85, 299.84, 299.84,
  299.84, 299.89, 299.81, 299.81, 299.82, 299.8, 299.77, 299.76, 299.74, 299.75, 299.76, 299.91, 299.92, 299.89, 299.86,
  299.88, 299.72, 299.84, 299.85, 299.85, 299.78, 299.89, 299.84, 299.78, 299.81, 299.76, 299.81, 299.79, 299.81,
  299.82, 299.85, 299.87, 299.87, 299.81, 299.74, 299.81, 299.94, 299.95, 299.8, 299.81, 299.87,
];

/** The made-up sets NumAcc3 and NumAcc4: one value, then the pair of a tenth below and a tenth above it 500 times. */
const alternating = (center: number, below: number, above: number) => [
  center,
  ...Array.from({ length: 500 }, () => [below, above]).flat(),
];

describe("mean and sample standard deviation", () => {
  const sets: [name: string, data: number[], mean: number, deviation: number, tolerance: number][] = [
    ["Mavro", MAVRO, 2.001856, 0.000429123454003053, 1e-12],
    ["Michelso", MICHELSO, 299.8524, 0.0790105478190518, 1e-12],
    ["NumAcc1", [10000001, 10000003, 10000002], 10000002, 1, 1e-15],
    // The data themselves are rounded when stored: 10000000.2 only holds its tenth to 1e-9.
    ["NumAcc3", alternating(1000000.2, 1000000.1, 1000000.3), 1000000.2, 0.1, 1e-9],
    ["NumAcc4", alternating(10000000.2, 10000000.1, 10000000.3), 10000000.2, 0.1, 1e-7],
  ];
  for (const [name, data, certifiedMean, certifiedDeviation, tolerance] of sets) {
    reference(
      `${name}, ${data.length} values: ${certifiedMean} and ${certifiedDeviation}`,
      "published: NIST StRD, certified values",
      () => {
        expectClose(mean(data), certifiedMean, 1e-15);
        expectClose(sampleDeviation(data), certifiedDeviation, tolerance);
      },
    );
  }

  reference(
    "the ages of 20 pupils spread by 0.715891",
    "published: OpenStax Introductory Statistics 2e, ch. 2.7, fifth-grade ages",
    () => {
      const ages = [9, 9.5, 9.5, 10, 10, 10, 10, 10.5, 10.5, 10.5, 10.5, 11, 11, 11, 11, 11, 11, 11.5, 11.5, 11.5];
      expectClose(mean(ages), 10.525);
      expect(Math.abs(sampleDeviation(ages) - 0.715891)).toBeLessThanOrEqual(5e-7);
    },
  );
});

describe("mean, median and deviations", () => {
  const expectNear = (actual: number, expected: number) =>
    expect(Math.abs(actual - expected)).toBeLessThanOrEqual(1e-12);

  reference("of random samples", "library: mathjs 15.2.0 mean, std, median and mad", () => {
    const sample = fc.array(fc.double({ min: -50, max: 50, noNaN: true }), { minLength: 2, maxLength: 40 });
    fc.assert(
      fc.property(sample, (values) => {
        expectNear(mean(values), meanOf(values));
        expectNear(median(values), medianOf(values));
        expectNear(medianDeviation(values), mad(values));
        expectNear(sampleDeviation(values), Number(std(values)));
      }),
    );
  });

  reference(
    "1, 1, 2, 2, 4, 6, 9 deviate from their median by a median of 1",
    "hand: median 2; distances 1, 1, 0, 0, 2, 4, 7 in order are 0, 0, 1, 1, 2, 4, 7, their median 1",
    () => {
      expect(median([1, 1, 2, 2, 4, 6, 9])).toBe(2);
      expect(medianDeviation([9, 1, 6, 2, 4, 2, 1])).toBe(1);
    },
  );
});

describe("Student's t quantile", () => {
  const PROBABILITIES = [0.9, 0.95, 0.975, 0.99, 0.995, 0.999];
  // Computed to 30 digits; each agrees with the three decimals of the NIST/SEMATECH table 1.3.6.7.2, whose column
  // for 0.001 is misprinted in a few rows.
  const TABLE: [degrees: number, quantiles: number[]][] = [
    [
      1,
      [
        3.0776835371752536, 6.313751514675043, 12.706204736174705, 31.82051595377396, 63.65674116287158,
        318.30883898555044,
      ],
    ],
    [
      2,
      [
        1.8856180831641267, 2.9199855803537256, 4.302652729749464, 6.964556734283274, 9.924843200918293,
        22.327124770119877,
      ],
    ],
    [
      3,
      [
        1.6377443536962102, 2.3533634348018238, 3.1824463052837095, 4.5407028585681335, 5.840909309733357,
        10.214531852407386,
      ],
    ],
    [
      4,
      [
        1.5332062740589438, 2.1318467863266504, 2.7764451051977943, 3.746947387979197, 4.604094871349993,
        7.1731822197823085,
      ],
    ],
    [
      5,
      [
        1.475884048824481, 2.0150483733330242, 2.5705818356363155, 3.3649299989072188, 4.032142983555228,
        5.89342953135601,
      ],
    ],
    [
      6,
      [
        1.4397557472651483, 1.9431802805153031, 2.44691185114497, 3.1426684032909833, 3.70742802132478,
        5.207626238725363,
      ],
    ],
    [
      7,
      [
        1.4149239276505086, 1.8945786050900073, 2.3646242515927853, 2.9979515668685286, 3.4994832973504937,
        4.785289628638334,
      ],
    ],
    [
      8,
      [
        1.3968153097438647, 1.8595480375308984, 2.3060041352041667, 2.8964594477096224, 3.3553873313333953,
        4.500790933723724,
      ],
    ],
    [
      9,
      [
        1.3830287383966322, 1.8331129326562372, 2.2621571627982053, 2.821437925025809, 3.2498355415921263,
        4.296805662729919,
      ],
    ],
    [
      10,
      [
        1.3721836411103356, 1.8124611228116765, 2.228138851986275, 2.763769458112696, 3.1692726726169513,
        4.143700494046589,
      ],
    ],
    [
      15,
      [
        1.3406056078504556, 1.7530503556925734, 2.1314495455597755, 2.6024802950111234, 2.946712883475239,
        3.7328344253109003,
      ],
    ],
    [
      20,
      [
        1.3253407069850462, 1.7247182429207872, 2.085963447265865, 2.5279770027415736, 2.8453397097861086,
        3.551808343203333,
      ],
    ],
    [
      25,
      [
        1.3163450726738701, 1.7081407612518993, 2.0595385527532977, 2.485107175410763, 2.7874358136769706,
        3.450188726973064,
      ],
    ],
    [
      30,
      [
        1.3104150253913955, 1.6972608865939578, 2.042272456301238, 2.4572615424005915, 2.7499956535672254,
        3.385184866829305,
      ],
    ],
    [
      40,
      [
        1.3030770526071946, 1.6838510133356526, 2.0210753903062733, 2.4232567793348583, 2.7044592674331627,
        3.3068777140858225,
      ],
    ],
    [
      60,
      [
        1.2958210935157308, 1.6706488649046365, 2.0002978220142604, 2.3901194726249133, 2.660283028855037,
        3.23170912602436,
      ],
    ],
    [
      120,
      [
        1.288646233656378, 1.6576508993552357, 1.979930405082441, 2.3578246126487556, 2.617421145106866,
        3.1595387433171105,
      ],
    ],
  ];
  for (const [degrees, quantiles] of TABLE) {
    reference(
      `${degrees} degrees of freedom`,
      "library: mpmath 1.3.0, beside the t table of the NIST/SEMATECH e-Handbook 1.3.6.7.2",
      () => {
        for (const [i, t] of quantiles.entries()) expectClose(tQuantile(PROBABILITIES[i]!, degrees), t, 1e-13);
      },
    );
  }

  const PRINTED: [degrees: number, probability: number, t: number][] = [
    [1, 0.95, 6.314],
    [2, 0.975, 4.303],
    [5, 0.975, 2.571],
    [10, 0.95, 1.812],
    [10, 0.99, 2.764],
    [20, 0.975, 2.086],
    [30, 0.975, 2.042],
    [60, 0.9, 1.296],
    [100, 0.975, 1.984],
  ];
  for (const [degrees, probability, t] of PRINTED) {
    reference(
      `t(${probability}, ${degrees}) is printed ${t}`,
      "published: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, critical values of Student's t",
      () => expect(Math.abs(tQuantile(probability, degrees) - t)).toBeLessThanOrEqual(5.01e-4),
    );
  }

  reference("with one degree of freedom is the Cauchy quantile", "identity: tan(π (p − ½))", () => {
    for (const p of [0.01, 0.2, 0.4, 0.6, 0.9, 0.999])
      expectClose(tQuantile(p, 1), Math.tan(Math.PI * (p - 0.5)), 1e-12);
  });

  reference("with two degrees of freedom has a closed form", "identity: (2p − 1) / √(2p(1 − p))", () => {
    const exact = (p: number) => (2 * p - 1) / Math.sqrt(2 * p * (1 - p));
    for (const p of [1e-100, 1e-20, 0.001, 0.2, 0.4, 0.6, 0.9, 0.9999]) expectClose(tQuantile(p, 2), exact(p), 1e-12);
    // So far out the density is below every number.
    for (const p of [1e-300, 1e-250]) expectClose(tQuantile(p, 2), exact(p), 1e-8);
  });

  reference(
    "with very many degrees of freedom is the normal quantile",
    "published: normal quantile of 0.975, 1.959963984540054, with the first term of the expansion (z³ + z) / 4ν (A&S 26.7.5)",
    () => {
      const z = 1.959963984540054;
      const degrees = 1_000_000;
      expectClose(tQuantile(0.975, degrees), z + (z ** 3 + z) / (4 * degrees), 1e-11);
    },
  );

  reference("anywhere, for 1 to 20000 degrees of freedom", "library: @stdlib/stats-base-dists-t-quantile 0.2.3", () => {
    const probability = fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true });
    fc.assert(
      fc.property(probability, fc.integer({ min: 1, max: 20_000 }), (p, degrees) => {
        fc.pre(Math.abs(p - 0.5) > 1e-3);
        expectClose(tQuantile(p, degrees), tQuantileOf(p, degrees), 1e-10);
      }),
      { numRuns: 300 },
    );
  });
});
