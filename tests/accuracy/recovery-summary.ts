// What is kept of many recoveries: shares, what they are measured against, and where the rest lies.

import { mean, percentile } from '../../app/bench/statistics.ts';
import type { RecoveryRow } from './recovery-job.ts';
import type { Start } from './recovery-scenario.ts';
import type { Summary } from './topic.ts';

/** Per cent. */
type Shares = { readonly least: number; readonly p10: number; readonly p50: number };

export type Recovered = {
  readonly jobs: number;
  /** Of what was held, within half an hour and at the recovery's end. */
  readonly ofHeld: Shares;
  readonly atEnd: Shares;
  /** Of what the heat of half an hour lets come. */
  readonly ofBound: Shares;
  readonly minutesP50: number;
  readonly minutesP95: number;
  readonly cyclesMost: number;
  /** Mean grams left after half an hour. */
  readonly left: { readonly oil: number; readonly vapour: number; readonly liquid: number };
  /** Jobs that had liquid left after half an hour, and how many of them were advised to warm the vehicle. */
  readonly withLiquid: number;
  readonly withLiquidAdvised: number;
  readonly worst: readonly { readonly seed: number; readonly ofHeld: number; readonly ofBound: number }[];
};

export type StartSummary = {
  readonly all: Recovered;
  /** By refrigerant and expansion device. */
  readonly groups: { readonly [group: string]: Recovered };
  /** Share of what was held at each per cent of the jobs, for the plot. */
  readonly curve: readonly number[];
};

export type RecoverySummary = Summary<{ readonly [S in Start]: StartSummary }>;

const rounded = (value: number): number => Math.round(100 * value) / 100;
const ofHeld = ({ held, left }: RecoveryRow): number => 100 * (1 - left / held);
const ofBound = ({ held, left, bound }: RecoveryRow): number => (100 * (held - left)) / bound;

/** More than a film: a gram of liquid. */
const hasLiquid = ({ liquid }: RecoveryRow): boolean => liquid > 1;

function recovered(rows: readonly RecoveryRow[]): Recovered {
  const sharesOf = (of: (row: RecoveryRow) => number): Shares => {
    const at = (percent: number): number => rounded(percentile(rows.map(of), percent));
    return { least: at(0), p10: at(10), p50: at(50) };
  };
  const minutes = rows.map((row) => row.minutes);
  const grams = (of: (row: RecoveryRow) => number): number => rounded(mean(rows.map(of)));
  const worst = [...rows].sort((a, b) => ofBound(a) - ofBound(b)).slice(0, 3);
  return {
    jobs: rows.length,
    ofHeld: sharesOf(ofHeld),
    atEnd: sharesOf(({ held, leftAtEnd }) => 100 * (1 - leftAtEnd / held)),
    ofBound: sharesOf(ofBound),
    minutesP50: percentile(minutes, 50),
    minutesP95: percentile(minutes, 95),
    cyclesMost: Math.max(...rows.map(({ cycles }) => cycles)),
    left: {
      oil: grams(({ dissolved }) => dissolved),
      vapour: grams(({ left, dissolved, liquid }) => left - dissolved - liquid),
      liquid: grams(({ liquid }) => liquid),
    },
    withLiquid: rows.filter(hasLiquid).length,
    withLiquidAdvised: rows.filter((row) => hasLiquid(row) && row.advised).length,
    worst: worst.map((row) => ({
      seed: row.seed,
      ofHeld: rounded(ofHeld(row)),
      ofBound: rounded(ofBound(row)),
    })),
  };
}

export function summaryOf(rows: readonly RecoveryRow[]): StartSummary {
  const groups = Map.groupBy(
    rows,
    ({ refrigerant, expansionDevice }) => `${refrigerant}, ${expansionDevice}`,
  );
  const shares = rows.map(ofHeld);
  return {
    all: recovered(rows),
    groups: Object.fromEntries([...groups].sort().map(([group, of]) => [group, recovered(of)])),
    curve: Array.from({ length: 101 }, (_, percent) => rounded(percentile(shares, percent))),
  };
}
