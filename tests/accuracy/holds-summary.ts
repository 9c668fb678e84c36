// What is kept of a run of holds: who was called what, what limit was stated, and whether it covers.

import { percentile } from '../../app/bench/statistics.ts';
import type { HoldRow } from './holds-job.ts';
import type { Summary } from './topic.ts';

/** What is true of a vehicle, in the order of the table. */
export const TRUTHS = [
  'no leak: never open, recovered by another machine',
  'no leak: never open, recovered by this one',
  'no leak: opened, moist oil',
  'no leak: free water',
  'no leak: water below freezing',
  'leak up to the stated limit',
  'leak of 1 to 3 limits',
  'leak above 3 limits',
  'leak above 3 limits, with free water',
] as const;
type Truth = (typeof TRUTHS)[number];

/** What was said, in the order of the table. */
export const SAID = [
  'tight',
  'outgassing: oil',
  'outgassing: water',
  'outgassing: ice',
  'leak',
  'inconclusive',
] as const;

/** Bounds of the classes of leaks, kg a year. */
const CLASSES = [0.5, 5, 20, 50, 100, 200, 500, 5000] as const;

type Share = { readonly of: number; readonly hold: number };
type Limits = { readonly of: number; readonly p50: number; readonly p99: number; readonly most: number };

export type HoldsProfile = {
  /** Jobs that never came to an evacuation: refrigerant was left in the cold. */
  readonly noHold: number;
  readonly confusion: { readonly [truth: string]: { readonly [said: string]: number } };
  /** Called a leak among those without. */
  readonly falseLeaks: Share;
  /** Called among the leaks above three times, and once, the stated limit. */
  readonly foundAbove3: Share;
  readonly foundAbove1: Share;
  readonly inconclusive: Share;
  /** Leaks no larger than the stated limit, among those that were not called. */
  readonly covered: Share;
  /** Limits in kg a year: of dry holds that ended with the first look after ten minutes, and by verdict. */
  readonly dryLimits: Limits;
  readonly tightLimits: Limits;
  readonly outgassingLimits: Limits;
  /** Called among the leaks of a class. */
  readonly classes: readonly {
    readonly fromKgPerYear: number;
    readonly toKgPerYear: number;
    readonly found: Share;
  }[];
  /** Seeds of what should not have been said. */
  readonly wrong: readonly number[];
};

export type HoldsSummary = Summary<HoldsProfile>;

const saidOf = ({ verdict, cause }: HoldRow): string =>
  cause === undefined ? verdict : `${verdict}: ${cause}`;

function truthOf({ leakKgPerYear, limitKgPerYear = 0, origin, waterG, ambientC }: HoldRow): Truth {
  if (leakKgPerYear === 0) {
    if (waterG > 0) return ambientC < 0 ? TRUTHS[4] : TRUTHS[3];
    if (origin === 'opened') return TRUTHS[2];
    return origin === 'whole' ? TRUTHS[1] : TRUTHS[0];
  }
  if (leakKgPerYear <= limitKgPerYear) return TRUTHS[5];
  if (leakKgPerYear <= 3 * limitKgPerYear) return TRUTHS[6];
  return waterG > 0 ? TRUTHS[8] : TRUTHS[7];
}

const shareOf = (rows: readonly HoldRow[], holds: (row: HoldRow) => boolean): Share => ({
  of: rows.length,
  hold: rows.filter(holds).length,
});

function limitsOf(rows: readonly HoldRow[]): Limits {
  const limits = rows.map(({ limitKgPerYear }) => limitKgPerYear ?? Number.NaN);
  const at = (percent: number): number => Math.round(100 * percentile(limits, percent)) / 100;
  return { of: rows.length, p50: at(50), p99: at(99), most: at(100) };
}

const isLeak = ({ verdict }: HoldRow): boolean => verdict === 'leak';
/** The pump's tail, a minute of evening out and ten minutes of watching. */
const TEN_MINUTES_S = 665;

export function summaryOf(all: readonly HoldRow[]): HoldsProfile {
  const rows = all.filter(({ holds }) => holds > 0);
  const confusion: { [truth: string]: { [said: string]: number } } = {};
  for (const row of rows) {
    const said = saidOf(row);
    const truth = truthOf(row);
    const counts = confusion[truth] ?? {};
    counts[said] = (counts[said] ?? 0) + 1;
    confusion[truth] = counts;
  }
  const sound = rows.filter(({ leakKgPerYear }) => leakKgPerYear === 0);
  const leaking = rows.filter(({ leakKgPerYear }) => leakKgPerYear > 0);
  const above = (limits: number): HoldRow[] =>
    leaking.filter(({ leakKgPerYear, limitKgPerYear = 0 }) => leakKgPerYear > limits * limitKgPerYear);
  const dry = sound.filter(
    ({ waterG, origin, holdS }) => waterG === 0 && origin === 'opened' && holdS < TEN_MINUTES_S,
  );
  const wrong = [...sound.filter(isLeak), ...above(3).filter((row) => !isLeak(row))];
  return {
    noHold: all.length - rows.length,
    confusion,
    falseLeaks: shareOf(sound, isLeak),
    foundAbove3: shareOf(above(3), isLeak),
    foundAbove1: shareOf(above(1), isLeak),
    inconclusive: shareOf(rows, ({ verdict }) => verdict === 'inconclusive'),
    covered: shareOf(
      leaking.filter((row) => !isLeak(row)),
      ({ leakKgPerYear, limitKgPerYear = 0 }) => leakKgPerYear <= limitKgPerYear,
    ),
    dryLimits: limitsOf(dry),
    tightLimits: limitsOf(rows.filter(({ verdict }) => verdict === 'tight')),
    outgassingLimits: limitsOf(rows.filter(({ verdict }) => verdict === 'outgassing')),
    classes: CLASSES.slice(1).map((toKgPerYear, index) => {
      const fromKgPerYear = CLASSES[index]!;
      const within = leaking.filter(
        (row) => row.leakKgPerYear >= fromKgPerYear && row.leakKgPerYear < toKgPerYear,
      );
      return { fromKgPerYear, toKgPerYear, found: shareOf(within, isLeak) };
    }),
    wrong: wrong.map(({ seed }) => seed),
  };
}
