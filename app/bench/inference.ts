// How sure it is that a mean or a share has become worse: the tests and intervals that a comparison rests on.
import { Random } from '../../sim/random.ts';
import { percentileOfSorted } from './statistics.ts';

/** Enough that the smallest p-value, one in five thousand, survives the correction for some twenty figures at 1 %. */
const RESAMPLES = 4_999;
/** Chance is fixed: the same two files are always judged alike. */
const SEED = 1;

/** One sample; the statistic is the sum of the means, each times its factor. */
export type Group = { readonly values: Float64Array; readonly times: number };

export type MeanVerdict = {
  readonly estimate: number;
  readonly low: number;
  readonly high: number;
  /** One-sided: how likely as much or more, if the truth were not above the bound. */
  readonly p: number;
};

type Moments = { readonly mean: number; readonly square: number };

/** Mean, and the square of its standard error. */
function momentsOf(values: Float64Array, at: (index: number) => number): Moments {
  const count = values.length;
  let sum = 0;
  let squares = 0;
  const shift = values[0] ?? 0;
  for (let index = 0; index < count; index++) {
    const value = values[at(index)]! - shift;
    sum += value;
    squares += value * value;
  }
  const variance = Math.max(0, (squares - (sum * sum) / count) / (count - 1));
  return { mean: shift + sum / count, square: variance / count };
}

function statistic(groups: readonly Group[], at: (count: number) => (index: number) => number): Moments {
  let mean = 0;
  let square = 0;
  for (const { values, times } of groups) {
    const one = momentsOf(values, at(values.length));
    mean += times * one.mean;
    square += times * times * one.square;
  }
  return { mean, square };
}

const IN_ORDER = () => (index: number) => index;

/**
 * Is the statistic above `bound`? The studentized bootstrap, which needs no normal distribution: differences of grams have
 * heavy tails, and most of them are nought.
 *
 * Source: B. Efron, R. J. Tibshirani, An Introduction to the Bootstrap, Chapman & Hall 1993, sections 12.5 (interval) and
 * 16.4 (test of a mean); the p-value with one added, A. C. Davison, D. V. Hinkley, Bootstrap Methods and their Application,
 * Cambridge 1997, section 4.2. Where all differences are equal there is nothing to resample, and the sign test holds:
 * W. J. Dixon, A. M. Mood, J. Am. Stat. Assoc. 41 (1946) 557.
 * @param groups of two values at least.
 * @param confidence of the two-sided interval, 0 to 1.
 */
export function judgeMean(groups: readonly Group[], bound: number, confidence: number): MeanVerdict {
  const seen = statistic(groups, IN_ORDER);
  const estimate = seen.mean;
  const error = Math.sqrt(seen.square);
  // What is left of a constant by rounding is none.
  if (error <= 1e-12 * Math.max(1, Math.abs(estimate))) {
    const count = Math.min(...groups.map(({ values }) => values.length));
    return { estimate, low: estimate, high: estimate, p: estimate > bound ? 2 ** -count : 1 };
  }
  const random = new Random(SEED, 'bootstrap');
  const drawn = (count: number) => () => Math.floor(random.uniform() * count);
  const reached = (estimate - bound) / error;
  const ratios: number[] = [];
  let asMuch = 0;
  for (let resample = 0; resample < RESAMPLES; resample++) {
    const again = statistic(groups, drawn);
    const off = again.mean - estimate;
    // A resample of equal values has no error of its own.
    const ratio =
      again.square > 0 ? off / Math.sqrt(again.square) : Math.sign(off) * Number.POSITIVE_INFINITY;
    if (ratio >= reached) asMuch++;
    if (Number.isFinite(ratio)) ratios.push(ratio);
  }
  const sorted = Float64Array.from(ratios).sort();
  const tail = (100 * (1 - confidence)) / 2;
  return {
    estimate,
    low: estimate - percentileOfSorted(sorted, 100 - tail) * error,
    high: estimate - percentileOfSorted(sorted, tail) * error,
    p: (1 + asMuch) / (RESAMPLES + 1),
  };
}

/** Logarithm of n!, as a sum; the counts of jobs are small enough. */
function logFactorials(most: number): Float64Array {
  const logs = new Float64Array(most + 1);
  for (let n = 2; n <= most; n++) logs[n] = logs[n - 1]! + Math.log(n);
  return logs;
}

/** Of so many jobs each, how many have it. */
export type Share = { readonly jobs: number; readonly have: number };

/** The same jobs twice: in how many it came, in how many it went, in how many it was both times. */
export type Changed = {
  readonly jobs: number;
  readonly came: number;
  readonly went: number;
  readonly both: number;
};

/**
 * Has it come more often than it went? One-sided and exact, from the binomial distribution.
 * Source: Q. McNemar, Psychometrika 12 (1947) 153; F. Mosteller, Biometrics 8 (1952) 220 (the exact form).
 */
export function pairedShareP({ came, went }: Changed): number {
  const changed = came + went;
  const logs = logFactorials(changed);
  let p = 0;
  for (let k = came; k <= changed; k++)
    p += Math.exp(logs[changed]! - logs[k]! - logs[changed - k]! - changed * Math.LN2);
  return Math.min(1, p);
}

/**
 * Is the share larger after than before? One-sided and exact, from the hypergeometric distribution.
 * Source: R. A. Fisher, J. R. Stat. Soc. 98 (1935) 39.
 */
export function unpairedShareP(before: Share, after: Share): number {
  const jobs = before.jobs + after.jobs;
  const have = before.have + after.have;
  const logs = logFactorials(jobs);
  const choose = (n: number, k: number): number => logs[n]! - logs[k]! - logs[n - k]!;
  let p = 0;
  for (let k = after.have; k <= Math.min(after.jobs, have); k++)
    if (have - k <= before.jobs)
      p += Math.exp(choose(after.jobs, k) + choose(before.jobs, have - k) - choose(jobs, have));
  return Math.min(1, p);
}

/** Upper quantile of the normal distribution, M. Abramowitz, I. A. Stegun 26.2.23, to 4.5e-4. */
function normalQuantile(confidence: number): number {
  const t = Math.sqrt(-2 * Math.log((1 - confidence) / 2));
  const above = 2.515517 + t * (0.802853 + t * 0.010328);
  const below = 1 + t * (1.432788 + t * (0.189269 + t * 0.001308));
  return t - above / below;
}

/** E. B. Wilson's interval of one share, J. Am. Stat. Assoc. 22 (1927) 209. */
function wilson({ jobs, have }: Share, z: number): { share: number; low: number; high: number } {
  const share = have / jobs;
  const centre = have + (z * z) / 2;
  const half = z * Math.sqrt(have * (1 - share) + (z * z) / 4);
  return { share, low: (centre - half) / (jobs + z * z), high: (centre + half) / (jobs + z * z) };
}

type Interval = { readonly estimate: number; readonly low: number; readonly high: number };

function difference(before: Share, after: Share, correlation: number, confidence: number): Interval {
  const z = normalQuantile(confidence);
  const [a, b] = [wilson(before, z), wilson(after, z)];
  const span = (ofB: number, ofA: number): number =>
    Math.sqrt(Math.max(0, ofB * ofB - 2 * correlation * ofB * ofA + ofA * ofA));
  const estimate = b.share - a.share;
  return {
    estimate,
    low: estimate - span(b.share - b.low, a.high - a.share),
    high: estimate + span(b.high - b.share, a.share - a.low),
  };
}

/** After less before, of separate jobs. Source: R. G. Newcombe, Stat. Med. 17 (1998) 873, method 10. */
export const unpairedShareInterval = (before: Share, after: Share, confidence: number): Interval =>
  difference(before, after, 0, confidence);

/** After less before, of the same jobs. Source: R. G. Newcombe, Stat. Med. 17 (1998) 2635, method 10. */
export function pairedShareInterval({ jobs, came, went, both }: Changed, confidence: number): Interval {
  const before = { jobs, have: both + went };
  const after = { jobs, have: both + came };
  const neither = jobs - both - came - went;
  const product = before.have * (jobs - before.have) * after.have * (jobs - after.have);
  const excess = both * neither - came * went;
  // Newcombe's correction for continuity, where the correlation is positive.
  const corrected = excess > jobs / 2 ? excess - jobs / 2 : Math.min(excess, 0);
  return difference(before, after, product === 0 ? 0 : corrected / Math.sqrt(product), confidence);
}

/**
 * Which of several tests reject, if one false alarm among all of them may come with probability `alpha`.
 * Source: S. Holm, Scand. J. Stat. 6 (1979) 65.
 */
export function holm(ps: readonly number[], alpha: number): readonly boolean[] {
  const order = ps.map((_, index) => index).sort((a, b) => ps[a]! - ps[b]!);
  const rejected = ps.map(() => false);
  for (const [rank, index] of order.entries()) {
    if (ps[index]! > alpha / (ps.length - rank)) break;
    rejected[index] = true;
  }
  return rejected;
}
