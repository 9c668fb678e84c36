// What shape a pressure has that rises in an isolated system: constant, straight, settling, or settling and straight.
// Least squares of four models, chosen by the Bayesian information criterion; the time constant is searched for
// continuously, because a coarse grid prefers the larger model at low noise.
import { correlationOf, independent } from './line.ts';

export type DecayFit = {
  readonly model: 'constant' | 'straight' | 'settling' | 'settling-and-straight';
  /** Steady slope: a leak's share; zero where the model has none. */
  readonly slopePaPerS: number;
  /** One standard deviation of a straight slope, from the residuals of the chosen model. */
  readonly slopeSdPaPerS: number;
  /** Where the settling part ends, else the last fitted pressure. */
  readonly plateauPa: number;
  readonly endPa: number;
  /** Of the settling part; zero where the model has none. */
  readonly tauS: number;
  readonly noisePa: number;
  /** Of the residuals from one sample to the next, 0 to 1: a sensor's own wandering is no new knowledge. */
  readonly correlation: number;
};

export type DecayInput = {
  readonly samplesPa: readonly number[];
  readonly intervalS: number;
  /** Finest step of the sensor: residuals below its quantisation are no knowledge. */
  readonly resolutionPa: number;
};

/** A larger model must earn its parameters (Kass and Raftery 1995: 6 is strong evidence). */
const STRONG = 6;
const SHORTEST_TAU_S = 20;
/** Longer than a few times the hold, an exponential is a straight line. */
const LONGEST_TAU_HOLDS = 3;
const GOLDEN = (Math.sqrt(5) - 1) / 2;
const SEARCH_STEPS = 24;

/** Of doubles alone: a fit goes a hundred times over a thousand samples. */
type Column = Float64Array;
type Solved = {
  readonly coefficients: readonly number[];
  readonly residuals: Column;
  readonly rss: number;
};

/** Least squares by the normal equations, at most three columns; none when they are degenerate. */
function coefficientsOf(columns: readonly Column[], values: Column): readonly number[] | undefined {
  const n = columns.length;
  const rows: number[][] = [];
  for (let i = 0; i < n; i += 1) {
    const row: number[] = [];
    for (let k = 0; k < n; k += 1) row.push(k < i ? rows[k]![i]! : dot(columns[i]!, columns[k]!));
    row.push(dot(columns[i]!, values));
    rows.push(row);
  }
  for (let pivot = 0; pivot < n; pivot += 1) {
    const head = rows[pivot]!;
    if (!(Math.abs(head[pivot]!) > 1e-12)) return undefined;
    for (let below = pivot + 1; below < n; below += 1) {
      const row = rows[below]!;
      const factor = row[pivot]! / head[pivot]!;
      for (let k = pivot; k <= n; k += 1) row[k] = row[k]! - factor * head[k]!;
    }
  }
  const coefficients: number[] = new Array(n).fill(0);
  for (let i = n - 1; i >= 0; i -= 1) {
    let sum = rows[i]![n]!;
    for (let k = i + 1; k < n; k += 1) sum -= rows[i]![k]! * coefficients[k]!;
    coefficients[i] = sum / rows[i]![i]!;
  }
  return coefficients;
}

/** @param residuals overwritten with what the model leaves of the values */
function leastSquares(columns: readonly Column[], values: Column, residuals: Column): Solved | undefined {
  const coefficients = coefficientsOf(columns, values);
  if (coefficients === undefined) return undefined;
  residuals.set(values);
  for (let k = 0; k < columns.length; k += 1) takeAway(residuals, coefficients[k]!, columns[k]!);
  return { coefficients, residuals, rss: dot(residuals, residuals) };
}

function takeAway(from: Column, factor: number, column: Column): void {
  for (let s = 0; s < from.length; s += 1) from[s] = from[s]! - factor * column[s]!;
}

function dot(a: Column, b: Column): number {
  let sum = 0;
  for (let i = 0; i < a.length; i += 1) sum += a[i]! * b[i]!;
  return sum;
}

/** What settles with this time constant. */
function settle(into: Column, tauS: number, intervalS: number): Column {
  for (let i = 0; i < into.length; i += 1) into[i] = Math.exp(-(i * intervalS) / tauS);
  return into;
}

type Candidate = {
  readonly model: DecayFit['model'];
  readonly solved: Solved;
  readonly tauS: number;
  readonly size: number;
};

export function fitDecay({ samplesPa, intervalS, resolutionPa }: DecayInput): DecayFit | undefined {
  const n = samplesPa.length;
  if (n < 30) return undefined;
  const values = Float64Array.from(samplesPa);
  const holdS = (n - 1) * intervalS;
  const ones = new Float64Array(n).fill(1);
  const times = new Float64Array(n).map((_, i) => i * intervalS);
  const settling = new Float64Array(n);
  const scratch = new Float64Array(n);
  const candidates: Candidate[] = [];
  const add = (model: Candidate['model'], columns: readonly Column[], tauS: number, size: number): void => {
    const solved = leastSquares(columns, values, new Float64Array(n));
    if (solved !== undefined) candidates.push({ model, solved, tauS, size });
  };
  const search = (columns: readonly Column[]): number => {
    const rssOf = (tauS: number) => {
      settle(settling, tauS, intervalS);
      return leastSquares(columns, values, scratch)?.rss;
    };
    const tauS = bestTauS(rssOf, holdS);
    settle(settling, tauS, intervalS);
    return tauS;
  };
  add('constant', [ones], 0, 1);
  add('straight', [ones, times], 0, 2);
  const settled = [ones, settling];
  add('settling', settled, search(settled), 3);
  const both = [ones, settling, times];
  add('settling-and-straight', both, search(both), 4);
  const floor = (n * (resolutionPa * resolutionPa)) / 12;
  const fullest = candidates.at(-1);
  if (fullest === undefined) return undefined;
  const correlation = correlationOf(fullest.solved.residuals);
  const chosen = choose(candidates.filter(isPhysical), { n, counted: independent(n, correlation), floor });
  return chosen === undefined ? undefined : describe(chosen, { n, holdS, floor, correlation });
}

/** Gas is given off or leaks in; the other way round is noise. */
function isPhysical({ model, solved }: Candidate): boolean {
  const [, second = 0, third = 0] = solved.coefficients;
  if (model === 'settling') return second <= 0;
  return model === 'settling-and-straight' ? second <= 0 && third >= 0 : true;
}

function bestTauS(rssOf: (tauS: number) => number | undefined, holdS: number): number {
  let low = Math.log(SHORTEST_TAU_S);
  let high = Math.log(LONGEST_TAU_HOLDS * holdS);
  const rss = (logTau: number): number => rssOf(Math.exp(logTau)) ?? Number.MAX_VALUE;
  let a = high - GOLDEN * (high - low);
  let b = low + GOLDEN * (high - low);
  let [rssA, rssB] = [rss(a), rss(b)];
  for (let step = 0; step < SEARCH_STEPS; step += 1) {
    if (rssA < rssB) {
      [high, b, rssB] = [b, a, rssA];
      a = high - GOLDEN * (high - low);
      rssA = rss(a);
    } else {
      [low, a, rssA] = [a, b, rssB];
      b = low + GOLDEN * (high - low);
      rssB = rss(b);
    }
  }
  return Math.exp((low + high) / 2);
}

type Weight = {
  readonly n: number;
  /** As many independent samples the residuals are worth. */
  readonly counted: number;
  readonly floor: number;
};

function choose(candidates: readonly Candidate[], { n, counted, floor }: Weight): Candidate | undefined {
  const score = ({ solved, size }: Candidate): number =>
    counted * Math.log(Math.max(solved.rss, floor, Number.MIN_VALUE) / n) + size * Math.log(counted);
  let best = candidates[0];
  for (const candidate of candidates.slice(1)) {
    if (best !== undefined && score(candidate) < score(best) - STRONG) best = candidate;
  }
  return best;
}

type Span = {
  readonly n: number;
  readonly holdS: number;
  readonly floor: number;
  readonly correlation: number;
};

function describe(
  { model, solved, size, tauS }: Candidate,
  { n, holdS, floor, correlation }: Span,
): DecayFit {
  const [first = 0, second = 0, third = 0] = solved.coefficients;
  const noisePa = Math.sqrt(Math.max(solved.rss, floor) / Math.max(n - size, 1));
  const slopePaPerS = model === 'straight' ? second : model === 'settling-and-straight' ? third : 0;
  const settled = model === 'settling' || model === 'settling-and-straight';
  const endPa = model === 'straight' ? first + second * holdS : settled ? first + slopePaPerS * holdS : first;
  return {
    model,
    slopePaPerS,
    slopeSdPaPerS: (noisePa * Math.sqrt(12 / independent(n, correlation))) / holdS,
    plateauPa: settled ? first : endPa,
    endPa,
    tauS: settled ? tauS : 0,
    noisePa,
    correlation,
  };
}
