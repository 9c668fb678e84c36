// What is kept of a run for the grams: percentiles, coverage and causes for each profile.

import { mean, percentile, rootMeanSquare, share } from '../../app/bench/statistics.ts';
import type { GramsRow } from './grams-job.ts';
import type { Summary } from './topic.ts';

export type Spread = {
  readonly p50: number;
  readonly p90: number;
  readonly p99: number;
  readonly most: number;
};

/** Mean and root mean square of the signed errors, and the size that 99 of 100 do not exceed. */
export type Cause = { readonly mean: number; readonly rms: number; readonly p99: number };

export type ProfileSummary = {
  readonly jobs: number;
  /** Ended as asked, with the charge in the vehicle. */
  readonly charged: number;
  /** How the others ended, and how often. */
  readonly otherwise: { readonly [how: string]: number };
  readonly chargeError: Spread;
  readonly netError: Spread;
  readonly netUncertainty: Spread;
  /** Per cent of the jobs whose error is within what is stated. */
  readonly netCovered: number;
  readonly chargeCovered: number;
  readonly recoveredError: Spread;
  readonly recoveredUncertainty: Spread;
  readonly recoveredCovered: number;
  readonly minutes: Spread;
  readonly prompts: Spread;
  readonly causes: { readonly [cause: string]: Cause };
  readonly worst: readonly {
    readonly seed: number;
    readonly chargeError: number;
    readonly netError: number;
  }[];
  /** Size of the charge error at each per cent of the jobs, for the plot. */
  readonly curve: readonly number[];
};

export type GramsSummary = Summary<ProfileSummary>;

const rounded = (value: number): number => Math.round(value * 100) / 100;

function spreadOf(values: readonly (number | undefined)[]): Spread {
  const sizes = values.flatMap((value) => (value === undefined ? [] : [Math.abs(value)]));
  const at = (percent: number): number => rounded(percentile(sizes, percent));
  return { p50: at(50), p90: at(90), p99: at(99), most: at(100) };
}

function causeOf(values: readonly number[]): Cause {
  const p99 = percentile(values.map(Math.abs), 99);
  return { mean: rounded(mean(values)), rms: rounded(rootMeanSquare(values)), p99: rounded(p99) };
}

const isCharged = ({ outcome, chargeResult }: GramsRow): boolean =>
  outcome === 'completed' && chargeResult === 'charged';

/** Within what is stated; what is not stated covers nothing. */
const covered = (rows: readonly GramsRow[], error: keyof GramsRow, stated: keyof GramsRow): number =>
  rounded(share(rows, (row) => Math.abs(Number(row[error])) <= Number(row[stated] ?? -1)));

export function summaryOf(rows: readonly GramsRow[]): ProfileSummary {
  const charged = rows.filter(isCharged);
  const otherwise: { [how: string]: number } = {};
  for (const row of rows.filter((row) => !isCharged(row))) {
    const how = row.chargeResult ?? row.notices.findLast((code) => code !== 'hoses-safe') ?? row.outcome;
    otherwise[how] = (otherwise[how] ?? 0) + 1;
  }
  const recovered = rows.filter(({ recoveredError }) => recoveredError !== undefined);
  const causes = charged.flatMap(({ causes }) => (causes === undefined ? [] : [causes]));
  const worst = [...charged].sort((a, b) => Math.abs(b.chargeError ?? 0) - Math.abs(a.chargeError ?? 0));
  const chargeErrors = charged.map(({ chargeError }) => Math.abs(chargeError ?? 0));
  return {
    jobs: rows.length,
    charged: charged.length,
    otherwise,
    chargeError: spreadOf(charged.map((row) => row.chargeError)),
    netError: spreadOf(charged.map((row) => row.netError)),
    netUncertainty: spreadOf(charged.map((row) => row.netUncertainty)),
    netCovered: covered(charged, 'netError', 'netUncertainty'),
    chargeCovered: covered(charged, 'chargeError', 'netUncertainty'),
    recoveredError: spreadOf(recovered.map((row) => row.recoveredError)),
    recoveredUncertainty: spreadOf(recovered.map((row) => row.recoveredUncertainty)),
    recoveredCovered: covered(recovered, 'recoveredError', 'recoveredUncertainty'),
    minutes: spreadOf(charged.map((row) => row.minutes)),
    prompts: spreadOf(charged.map((row) => row.prompts)),
    causes: {
      scale: causeOf(causes.map(({ scale }) => scale)),
      machine: causeOf(causes.map(({ machine }) => machine)),
      residue: causeOf(causes.map(({ residue }) => residue)),
    },
    worst: worst.slice(0, 5).map(({ seed, chargeError, netError }) => ({
      seed,
      chargeError: chargeError ?? Number.NaN,
      netError: netError ?? Number.NaN,
    })),
    curve: Array.from({ length: 101 }, (_, percent) => rounded(percentile(chargeErrors, percent))),
  };
}
