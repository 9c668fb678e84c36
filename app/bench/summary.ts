// What a campaign comes to: quantiles of its figures, counts of how its jobs ended, and the jobs that were worst.
import type { JobRow } from './campaign-job.ts';
import { MEASURES, type Measure, RATES, type Rate } from './figures.ts';
import { mean, percentileOfSorted } from './statistics.ts';

export const QUANTILES = [50, 90, 99, 100] as const;

export type MeasureSummary = {
  readonly measure: Measure;
  /** Jobs that came to it. */
  readonly jobs: number;
  readonly mean: number;
  /** At each of `QUANTILES`, by the nearest rank: always a value that was met. */
  readonly quantiles: readonly number[];
  /** At each whole per cent of the jobs, for the plot. */
  readonly curve: readonly number[];
};

export type RateSummary = { readonly rate: Rate; readonly jobs: number; readonly have: number };

export type WorstJob = { readonly row: JobRow; readonly why: string };

export type CampaignSummary = {
  readonly jobs: number;
  readonly outcomes: readonly (readonly [outcome: string, jobs: number])[];
  readonly measures: readonly MeasureSummary[];
  readonly rates: readonly RateSummary[];
  /** By kind of harm, tripping row and fault: in how many jobs. */
  readonly counts: { readonly [C in Counted]: readonly (readonly [name: string, jobs: number])[] };
  readonly worst: readonly WorstJob[];
};

const COUNTED = {
  harm: ({ harm }: JobRow) => Object.keys(harm ?? {}),
  trips: ({ trips }: JobRow) => trips ?? [],
  holding: ({ holding }: JobRow) => holding ?? [],
  faults: ({ faults }: JobRow) => [...new Set(faults ?? [])],
} as const;
type Counted = keyof typeof COUNTED;
const NAMES = Object.keys(COUNTED) as readonly Counted[];

const WORST_JOBS = 10;

type Names = readonly (readonly [name: string, jobs: number])[];

/** What broke or was harmed comes first, then what was stopped, then the largest errors of a charge. */
function severityOf({ outcome, why = '', harm, chargeErrorG }: JobRow): {
  rank: number;
  within: number;
  why: string;
} {
  const off = Math.abs(chargeErrorG ?? 0);
  if (outcome === 'broke' || outcome === 'invalid') return { rank: 4, within: 0, why: `${outcome}: ${why}` };
  if (harm !== undefined) {
    const kinds = Object.keys(harm);
    return { rank: 3, within: kinds.length, why: `harm: ${kinds.join(', ')}` };
  }
  if (outcome !== 'completed') return { rank: 2, within: off, why: `${outcome}: ${why}` };
  return {
    rank: 1,
    within: off,
    why: chargeErrorG === undefined ? 'no charge' : `charge ${chargeErrorG} g off`,
  };
}

type Ranked = WorstJob & { readonly rank: number; readonly within: number };

const worseFirst = (a: Ranked, b: Ranked): number =>
  b.rank - a.rank || b.within - a.within || a.row.job - b.row.job;

class Counter {
  readonly #counts = new Map<string, number>();

  add(name: string): void {
    this.#counts.set(name, (this.#counts.get(name) ?? 0) + 1);
  }

  /** The most frequent first. */
  get all(): Names {
    return [...this.#counts].sort(([a, many], [b, more]) => more - many || (a < b ? -1 : 1));
  }
}

/** Takes the jobs one by one and keeps of each its figures alone, so that a million of them fit. */
export class Tally {
  readonly #values = new Map<Measure, number[]>(MEASURES.map((measure) => [measure, []]));
  readonly #rates = new Map<Rate, { jobs: number; have: number }>(
    RATES.map((rate) => [rate, { jobs: 0, have: 0 }]),
  );
  readonly #outcomes = new Counter();
  readonly #counters = new Map<Counted, Counter>(NAMES.map((name) => [name, new Counter()]));
  #worst: readonly Ranked[] = [];
  #jobs = 0;

  add(row: JobRow): void {
    this.#jobs++;
    this.#outcomes.add(row.outcome);
    for (const [{ valueIn }, values] of this.#values) {
      const value = valueIn(row);
      if (value !== undefined) values.push(value);
    }
    for (const [{ has }, count] of this.#rates) {
      const said = has(row);
      if (said === undefined) continue;
      count.jobs++;
      if (said) count.have++;
    }
    for (const [name, counter] of this.#counters) for (const one of COUNTED[name](row)) counter.add(one);
    this.#worst = [...this.#worst, { row, ...severityOf(row) }].sort(worseFirst).slice(0, WORST_JOBS);
  }

  get jobs(): number {
    return this.#jobs;
  }

  get summary(): CampaignSummary {
    const count = (name: Counted): Names => this.#counters.get(name)?.all ?? [];
    return {
      jobs: this.#jobs,
      outcomes: this.#outcomes.all,
      measures: [...this.#values].flatMap(([measure, values]) => measured(measure, values) ?? []),
      rates: [...this.#rates].map(([rate, counted]) => ({ rate, ...counted })),
      counts: {
        harm: count('harm'),
        trips: count('trips'),
        holding: count('holding'),
        faults: count('faults'),
      },
      worst: this.#worst.map(({ row, why }) => ({ row, why })),
    };
  }
}

function measured(measure: Measure, values: readonly number[]): MeasureSummary | undefined {
  if (values.length === 0) return undefined;
  const sorted = Float64Array.from(values).sort();
  const at = (percent: number): number => percentileOfSorted(sorted, percent);
  return {
    measure,
    jobs: values.length,
    mean: mean(values),
    quantiles: QUANTILES.map(at),
    curve: Array.from({ length: 101 }, (_, percent) => at(percent)),
  };
}
