/** The little statistics that past jobs need, on plain numbers; each keeps its digits where a textbook formula loses them. */

/** Sum of the distances to a value, and of their squares. Past jobs may be many, so nothing is set aside for them. */
function distances(values: ArrayLike<number>, from: number): { sum: number; squares: number } {
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < values.length; i++) {
    const distance = values[i]! - from;
    sum += distance;
    squares += distance * distance;
  }
  return { sum, squares };
}

/** Arithmetic mean, in two passes: the second adds what rounding lost in the first. */
export function mean(values: ArrayLike<number>): number {
  const rough = distances(values, 0).sum / values.length;
  return rough + distances(values, rough).sum / values.length;
}

/** Sample standard deviation (n − 1), from the distances to the mean and never from a sum of squares. */
export const sampleDeviation = (values: ArrayLike<number>, center = mean(values)): number =>
  Math.sqrt(distances(values, center).squares / (values.length - 1));

/** Median of the values in an array of its own, which it sorts; typed, so that no comparison has to be called. */
function medianIn(ascending: Float64Array): number {
  ascending.sort();
  const middle = ascending.length >> 1;
  return ascending.length % 2 === 1 ? ascending[middle]! : (ascending[middle - 1]! + ascending[middle]!) / 2;
}

export const median = (values: ArrayLike<number>): number => medianIn(new Float64Array(values));

/** Median distance from the median, as it is, without the factor that makes it a standard deviation. */
export function medianDeviation(values: ArrayLike<number>, center = median(values)): number {
  const far = new Float64Array(values.length);
  for (let i = 0; i < far.length; i++) far[i] = Math.abs(values[i]! - center);
  return medianIn(far);
}

/** Means of groups, each known the better the larger its weight: its variance is `within` over its weight. */
export interface Groups {
  readonly means: readonly number[];
  /** Counts, or whatever stands for them. */
  readonly weights: readonly number[];
  readonly within: number;
}

const sum = (values: readonly number[]): number => values.reduce((all, value) => all + value, 0);
const weighted = (values: readonly number[], weights: readonly number[]): number =>
  sum(values.map((value, i) => value * weights[i]!)) / sum(weights);

/** How far groups differ beyond chance: the variance between them, and the mean that they have in common. */
export function betweenGroups({ means, weights, within }: Groups): { between: number; common: number } {
  const spread = means.length > 1 ? sum(weights) - sum(weights.map((w) => w * w)) / sum(weights) : 0;
  const fixed = weighted(means, weights);
  const apart = sum(means.map((value, i) => weights[i]! * (value - fixed) ** 2));
  // DerSimonian and Laird (1986), multiplied by `within`, which may be 0.
  const between = spread > 0 ? Math.max(0, (apart - (means.length - 1) * within) / spread) : 0;
  const variances = weights.map((w) => within / w + between);
  const common = variances.some((variance) => variance <= 0)
    ? fixed
    : weighted(
        means,
        variances.map((v) => 1 / v),
      );
  return { between, common };
}

/** A group's mean drawn toward the common one, the variance of what that leaves unknown, and how far it was drawn. */
export interface Drawn {
  readonly center: number;
  readonly variance: number;
  /** 0 is its own mean, 1 the common one. */
  readonly drawn: number;
}

/**
 * Each group's mean drawn toward the common one by how little it is known by itself. The variance allows for the spread
 * between groups being estimated, too: Morris (1983), from memory. It needs four groups; with fewer, it is the group's own.
 */
export function drawnTogether(groups: Groups): Drawn[] {
  const { means, weights, within } = groups;
  const { between, common } = betweenGroups(groups);
  const count = means.length;
  return means.map((own, i) => {
    const variance = within / weights[i]!;
    const drawn = variance + between > 0 ? variance / (variance + between) : 1;
    const center = drawn * common + (1 - drawn) * own;
    if (count <= MOST_WITHOUT) return { center, variance, drawn };
    const less = (drawn * (count - 3)) / (count - 1);
    const off = own - common;
    return {
      center,
      variance: variance * (1 - ((count - 1) / count) * less) + (2 / (count - 3)) * less * less * off * off,
      drawn,
    };
  });
}
const MOST_WITHOUT = 3;

/**
 * Γ((ν + 1)/2) / (Γ(ν/2) √(νπ)), the height of Student's t density at 0, for whole ν.
 * With r(ν) = Γ((ν + 1)/2) / Γ(ν/2): r(1) = 1/√π, r(2) = √π/2 and r(ν + 2) = r(ν) (ν + 1)/ν.
 */
function densityAtZero(degrees: number): number {
  const odd = degrees % 2 === 1;
  let ratio = odd ? 1 / Math.sqrt(Math.PI) : Math.sqrt(Math.PI) / 2;
  for (let v = odd ? 1 : 2; v < degrees; v += 2) ratio *= (v + 1) / v;
  return ratio / Math.sqrt(degrees * Math.PI);
}

/** The continued fraction of the incomplete beta function (DLMF 8.17.22), from its far end back to the front. */
function betaFraction(x: number, a: number, b: number): number {
  // Below (a + 1)/(a + b + 2), where it is used, it settles after a number of terms in proportion to √max(a, b).
  const terms = 60 + Math.ceil(3 * Math.sqrt(Math.max(a, b)));
  let tail = 1;
  for (let m = terms; m >= 1; m--) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    tail = 1 + even / (1 + odd / tail);
  }
  return 1 / (1 - ((a + b) * x) / ((a + 1) * tail));
}

/**
 * Student's t distribution with a whole number of degrees of freedom ν: its density, and its tail beyond some t ≥ 0.
 * The tail is half the incomplete beta function I_x(ν/2, ½) at x = ν/(ν + t²); so it keeps its digits however small.
 */
function studentT(degrees: number) {
  const height = densityAtZero(degrees);
  const half = degrees / 2;

  const density = (t: number) => height * Math.exp(-(half + 0.5) * Math.log1p((t * t) / degrees));

  function tail(t: number): number {
    const x = degrees / (degrees + t * t);
    if (x < (half + 1) / (half + 2.5)) return ((density(t) * t) / degrees) * betaFraction(x, half, 0.5);
    return 0.5 - density(t) * t * betaFraction((t * t) / (degrees + t * t), 0.5, half);
  }

  /**
   * A t whose tail is at least this, and far out hardly more. With r² = ν + s² the density falls as r^−(ν + 1), and a step
   * of s is at least as long as that of r: so the tail is at least height × ν^((ν − 1)/2) × (ν + t²)^(−ν/2).
   */
  function startBelow(beyond: number): number {
    const logR = (Math.log(height) + ((degrees - 1) / 2) * Math.log(degrees) - Math.log(beyond)) / degrees;
    const r = Math.exp(Math.min(logR, 700));
    // Beside a square beyond every number, ν is nothing.
    const t = r > 1e100 ? r : Math.sqrt(Math.max(0, r * r - degrees));
    // A hair less, so that rounding does not carry it past the answer.
    return (1 - 1e-9) * t;
  }

  return { density, tail, startBelow };
}

/**
 * The t that a Student variable stays below with this probability.
 * Newton's steps from below: the tail is convex, so they climb to the answer and never past it.
 */
export function tQuantile(probability: number, degrees: number): number {
  const { density, tail, startBelow } = studentT(degrees);
  const beyond = Math.min(probability, 1 - probability);
  let t = startBelow(beyond);
  for (;;) {
    const next = t + (tail(t) - beyond) / density(t);
    if (!(next > t * (1 + Number.EPSILON))) return probability < 0.5 ? -t : t;
    t = next;
  }
}
