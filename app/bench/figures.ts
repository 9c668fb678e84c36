// The figures of a campaign: what is taken from each job, how it is shown, and how much worse it may become.
import type { JobRow } from './campaign-job.ts';

type Shared = {
  /** Kebab-case: the name in `--bound`. */
  readonly id: string;
  readonly says: string;
};

/** A size: less is better. */
export type Measure = Shared & {
  readonly unit: 'g' | 'min' | '%' | '';
  readonly decimals: number;
  /** Absent: the job did not come to it. */
  readonly valueIn: (row: JobRow) => number | undefined;
  /** The mean may become so much worse, in the unit or of the mean before. */
  readonly bound: { readonly by: number } | { readonly byPercent: number };
};

/** A share of the jobs that could have it: fewer are better. */
export type Rate = Shared & {
  /** Absent: this job says nothing about it. */
  readonly has: (row: JobRow) => boolean | undefined;
  /** The share may become so many percentage points larger. */
  readonly bound: { readonly byPoints: number };
};

const size = (value: number | undefined): number | undefined =>
  value === undefined ? undefined : Math.abs(value);

/** Within what is stated, k = 2. */
function beyond(error: number | undefined, stated: number | undefined): boolean | undefined {
  return error === undefined ? undefined : stated === undefined || Math.abs(error) > stated;
}

/** Published tolerance of a charge (SAE J2788). */
const TOLERANCE_G = 15;

const ran = ({ outcome }: JobRow): boolean => outcome === 'completed' || outcome === 'stopped';

export const MEASURES: readonly Measure[] = [
  {
    id: 'charge-error',
    says: 'charge, truth less nominal',
    unit: 'g',
    decimals: 2,
    valueIn: ({ chargeErrorG }) => size(chargeErrorG),
    bound: { by: 1 },
  },
  {
    id: 'net-error',
    says: 'net charge, stated less truth',
    unit: 'g',
    decimals: 2,
    valueIn: ({ netErrorG }) => size(netErrorG),
    bound: { by: 1 },
  },
  {
    id: 'net-uncertainty',
    says: 'net charge, stated uncertainty',
    unit: 'g',
    decimals: 2,
    valueIn: ({ netUncertaintyG }) => netUncertaintyG,
    bound: { by: 1 },
  },
  {
    id: 'recovered-error',
    says: 'recovered, indicated less truth',
    unit: 'g',
    decimals: 2,
    valueIn: ({ recoveredErrorG }) => size(recoveredErrorG),
    bound: { by: 1 },
  },
  {
    id: 'residual',
    says: 'left in the vehicle by the recovery',
    unit: 'g',
    decimals: 2,
    valueIn: ({ residualG }) => residualG,
    bound: { by: 1 },
  },
  {
    id: 'lost',
    says: 'lost to the room by the machine',
    unit: 'g',
    decimals: 2,
    valueIn: ({ lostG }) => lostG,
    bound: { by: 1 },
  },
  {
    id: 'recovery-time',
    says: 'recovery with its rests',
    unit: 'min',
    decimals: 1,
    valueIn: ({ recoverMin }) => recoverMin,
    bound: { byPercent: 5 },
  },
  {
    id: 'evacuation-time',
    says: 'evacuation',
    unit: 'min',
    decimals: 1,
    valueIn: ({ evacuateMin }) => evacuateMin,
    bound: { byPercent: 5 },
  },
  {
    id: 'total-time',
    says: 'the whole job',
    unit: 'min',
    decimals: 1,
    valueIn: (row) => (row.outcome === 'completed' ? row.totalMin : undefined),
    bound: { byPercent: 5 },
  },
  {
    id: 'prompts',
    says: 'questions to the operator',
    unit: '',
    decimals: 0,
    valueIn: ({ prompts }) => prompts,
    bound: { by: 0.5 },
  },
  {
    id: 'tank-fill',
    says: 'most in the tank, of its limit',
    unit: '%',
    decimals: 1,
    valueIn: ({ tankFill }) => (tankFill === undefined ? undefined : 100 * tankFill),
    bound: { by: 1 },
  },
];

export const RATES: readonly Rate[] = [
  {
    id: 'not-completed',
    says: 'did not complete',
    has: ({ outcome }) => outcome !== 'completed',
    bound: { byPoints: 1 },
  },
  {
    id: 'out-of-tolerance',
    says: `charge more than ${TOLERANCE_G} g off`,
    has: ({ chargeErrorG }) =>
      chargeErrorG === undefined ? undefined : Math.abs(chargeErrorG) > TOLERANCE_G,
    bound: { byPoints: 0 },
  },
  {
    id: 'net-not-covered',
    says: 'net charge beyond its stated k = 2',
    has: ({ netErrorG, netUncertaintyG }) => beyond(netErrorG, netUncertaintyG),
    bound: { byPoints: 2 },
  },
  {
    id: 'recovered-not-covered',
    says: 'recovered mass beyond its stated k = 2',
    has: ({ recoveredErrorG, recoveredUncertaintyG }) => beyond(recoveredErrorG, recoveredUncertaintyG),
    bound: { byPoints: 2 },
  },
  {
    id: 'hold-wrong',
    says: 'hold missed a leak or saw one that is none',
    has: ({ hold }) =>
      hold === undefined || hold.held === 'unknown'
        ? undefined
        : hold.held === 'missed' || hold.held === 'false-alarm',
    bound: { byPoints: 0 },
  },
  {
    id: 'hold-inconclusive',
    says: 'hold came to no verdict',
    has: ({ hold }) => (hold === undefined ? undefined : hold.verdict === 'inconclusive'),
    bound: { byPoints: 1 },
  },
  {
    id: 'tripped',
    says: 'an interlock tripped',
    has: (row) => (ran(row) ? (row.trips?.length ?? 0) > 0 : undefined),
    bound: { byPoints: 1 },
  },
  {
    id: 'harmed',
    says: 'harm in the truth',
    has: (row) => (ran(row) ? row.harm !== undefined : undefined),
    bound: { byPoints: 0 },
  },
  {
    id: 'broke',
    says: 'broke the simulator or the controller',
    has: ({ outcome }) => outcome === 'broke',
    bound: { byPoints: 0 },
  },
];

/** With its unit, as tables show it. */
export const shownValue = ({ unit, decimals }: Measure, value: number): string =>
  `${value.toFixed(decimals)}${unit === '' ? '' : ` ${unit}`}`;
