// What is kept of a comparison of evacuations: how many took longer, how many left more water, by kind of vehicle.

import { percentile } from '../../app/bench/statistics.ts';
import { FIXED_MS, type HoldRow } from './holds-job.ts';
import type { Summary } from './topic.ts';

const KINDS = [
  'never open',
  'never open, recovered first',
  'opened, moist oil',
  'free water',
  'leak',
] as const;
type Kind = (typeof KINDS)[number];

/** Less than this is no difference: a vehicle's desiccant holds a thousand times as much. */
export const SAME_WATER_G = 0.01;
const SAME_MINUTES = 0.05;

export type Compared = {
  readonly jobs: number;
  readonly longer: number;
  readonly wetter: number;
  /** Neither longer nor wetter. */
  readonly asGood: number;
  /** All evacuations of the job, less the fixed time. */
  readonly minutesP50: number;
  readonly minutesP95: number;
  readonly waterP50G: number;
  readonly waterMostG: number;
};

type EvacuationProfile = { readonly [kind: string]: Compared; readonly all: Compared };

export type EvacuationSummary = Summary<EvacuationProfile>;

function kindOf({ leakKgPerYear, waterG, origin }: HoldRow): Kind {
  if (leakKgPerYear > 0) return 'leak';
  if (waterG > 0) return 'free water';
  return origin === 'opened'
    ? 'opened, moist oil'
    : origin === 'whole'
      ? 'never open, recovered first'
      : 'never open';
}

type Pair = { readonly minutes: number; readonly waterG: number; readonly kind: Kind };

function compared(pairs: readonly Pair[]): Compared {
  const isLonger = ({ minutes }: Pair): boolean => minutes > SAME_MINUTES;
  const isWetter = ({ waterG }: Pair): boolean => waterG > SAME_WATER_G;
  const minutes = (percent: number): number =>
    Math.round(
      10 *
        percentile(
          pairs.map((pair) => pair.minutes),
          percent,
        ),
    ) / 10;
  const water = (percent: number): number =>
    Math.round(
      1e4 *
        percentile(
          pairs.map((pair) => pair.waterG),
          percent,
        ),
    ) / 1e4;
  return {
    jobs: pairs.length,
    longer: pairs.filter(isLonger).length,
    wetter: pairs.filter(isWetter).length,
    asGood: pairs.filter((pair) => !isLonger(pair) && !isWetter(pair)).length,
    minutesP50: minutes(50),
    minutesP95: minutes(95),
    waterP50G: water(50),
    waterMostG: water(100),
  };
}

/** Rows of the same seeds; jobs that never came to an evacuation are left out. */
export function summaryOf(adaptive: readonly HoldRow[], fixed: readonly HoldRow[]): EvacuationProfile {
  const pairs = adaptive.flatMap((row, index): Pair[] => {
    const other = fixed[index];
    if (other === undefined || row.pumpedMinutes === 0) return [];
    const fixedMs = row.origin === 'opened' ? FIXED_MS.opened : FIXED_MS.unopened;
    const minutes = row.pumpedMinutes - fixedMs / 60_000;
    return [{ minutes, waterG: row.waterLeftG - other.waterLeftG, kind: kindOf(row) }];
  });
  const kinds = KINDS.filter((kind) => pairs.some((pair) => pair.kind === kind));
  return {
    ...Object.fromEntries(kinds.map((kind) => [kind, compared(pairs.filter((pair) => pair.kind === kind))])),
    all: compared(pairs),
  };
}
