// Two campaigns against each other: on the same jobs by pairs, else by their means and shares; each figure with its bound.
import { differenceOf, type Header } from './campaign-file.ts';
import type { JobRow } from './campaign-job.ts';
import { MEASURES, type Measure, RATES, type Rate } from './figures.ts';
import {
  type Changed,
  type Group,
  holm,
  judgeMean,
  pairedShareInterval,
  pairedShareP,
  type Share,
  unpairedShareInterval,
  unpairedShareP,
} from './inference.ts';

export type Campaigned = { readonly header: Header; readonly rows: readonly JobRow[] };

/** Instead of a figure's own bound; undefined: it is shown and not judged. */
export type Bounds = ReadonlyMap<string, Measure['bound'] | Rate['bound'] | undefined>;

export type Compared = {
  readonly id: string;
  readonly figure: { readonly measure: Measure } | { readonly rate: Rate };
  readonly bound: Measure['bound'] | Rate['bound'] | undefined;
  /** Jobs that have the figure: the pairs, or each side's own. */
  readonly jobs: readonly [before: number, after: number];
  /** Mean, or share in per cent. */
  readonly before: number;
  readonly after: number;
  /** After less before, and its interval. Absent where there are too few jobs. */
  readonly difference?: number;
  readonly low?: number;
  readonly high?: number;
  readonly p?: number;
  readonly regressed: boolean;
};

export type Comparison = {
  readonly paired: boolean;
  /** Why not, where they are not. */
  readonly unpairedBecause?: string;
  /** The same figures in every job. */
  readonly equal: boolean;
  readonly confidence: number;
  readonly figures: readonly Compared[];
};

/** Below that, a mean of heavy-tailed differences says nothing. */
const LEAST_JOBS = 10;

type Pairs = readonly (readonly [before: JobRow, after: JobRow])[];
type Sides = { readonly before: readonly JobRow[]; readonly after: readonly JobRow[] };
type Judged = Omit<Compared, 'regressed'> & { readonly beyond: boolean };

const meanOf = (values: Float64Array): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

function measureOf(
  measure: Measure,
  sides: Sides,
  pairs: Pairs | undefined,
): { a: Float64Array; b: Float64Array } {
  const { valueIn } = measure;
  const of = (rows: readonly JobRow[]) => Float64Array.from(rows.flatMap((row) => valueIn(row) ?? []));
  if (pairs === undefined) return { a: of(sides.before), b: of(sides.after) };
  const both = pairs.filter(([a, b]) => valueIn(a) !== undefined && valueIn(b) !== undefined);
  return { a: of(both.map(([a]) => a)), b: of(both.map(([, b]) => b)) };
}

/** After less `factor` times before: of pairs one sample, else two. */
const excess = (a: Float64Array, b: Float64Array, factor: number, paired: boolean): readonly Group[] =>
  paired
    ? [{ values: b.map((value, index) => value - factor * a[index]!), times: 1 }]
    : [
        { values: b, times: 1 },
        { values: a, times: -factor },
      ];

function judgedMeasure(
  measure: Measure,
  { a, b }: { a: Float64Array; b: Float64Array },
  bound: Measure['bound'] | undefined,
  { paired, confidence }: { paired: boolean; confidence: number },
): Judged {
  const { id } = measure;
  const shown = {
    id,
    figure: { measure },
    bound,
    jobs: [a.length, b.length] as const,
    before: meanOf(a),
    after: meanOf(b),
  };
  if (Math.min(a.length, b.length) < LEAST_JOBS) return { ...shown, beyond: false };
  const by = bound !== undefined && 'by' in bound ? bound.by : 0;
  const { estimate, low, high, p } = judgeMean(excess(a, b, 1, paired), by, confidence);
  const difference = { difference: estimate, low, high };
  if (bound === undefined) return { ...shown, ...difference, beyond: false };
  if ('by' in bound) return { ...shown, ...difference, p, beyond: true };
  const relative = judgeMean(excess(a, b, 1 + bound.byPercent / 100, paired), 0, confidence);
  return { ...shown, ...difference, p: relative.p, beyond: true };
}

function shareOf(rate: Rate, rows: readonly JobRow[]): Share {
  const said = rows.flatMap((row) => rate.has(row) ?? []);
  return { jobs: said.length, have: said.filter(Boolean).length };
}

function changedOf({ has }: Rate, pairs: Pairs): Changed {
  const said = pairs.flatMap(([a, b]) => {
    const [before, after] = [has(a), has(b)];
    return before === undefined || after === undefined ? [] : [{ before, after }];
  });
  const count = (before: boolean, after: boolean): number =>
    said.filter((one) => one.before === before && one.after === after).length;
  return { jobs: said.length, came: count(false, true), went: count(true, false), both: count(true, true) };
}

function judgedRate(
  rate: Rate,
  sides: Sides,
  pairs: Pairs | undefined,
  bound: Rate['bound'] | undefined,
  confidence: number,
): Judged {
  const changed = pairs && changedOf(rate, pairs);
  const before = changed
    ? { jobs: changed.jobs, have: changed.both + changed.went }
    : shareOf(rate, sides.before);
  const after = changed
    ? { jobs: changed.jobs, have: changed.both + changed.came }
    : shareOf(rate, sides.after);
  const percent = ({ jobs, have }: Share): number => (100 * have) / jobs;
  const shown = {
    id: rate.id,
    figure: { rate },
    bound,
    jobs: [before.jobs, after.jobs] as const,
    before: percent(before),
    after: percent(after),
  };
  if (before.jobs === 0 || after.jobs === 0) return { ...shown, beyond: false };
  const { estimate, low, high } = changed
    ? pairedShareInterval(changed, confidence)
    : unpairedShareInterval(before, after, confidence);
  const difference = { difference: 100 * estimate, low: 100 * low, high: 100 * high };
  if (bound === undefined) return { ...shown, ...difference, beyond: false };
  const p = changed ? pairedShareP(changed) : unpairedShareP(before, after);
  return { ...shown, ...difference, p, beyond: 100 * estimate > bound.byPoints };
}

const BY_JOB: readonly (keyof Header)[] = ['plan', 'seed'];

function pairsOf(a: Campaigned, b: Campaigned): Pairs {
  const after = new Map(b.rows.map((row) => [row.job, row]));
  return a.rows.flatMap((row) => {
    const other = after.get(row.job);
    return other === undefined ? [] : [[row, other] as const];
  });
}

/**
 * A measure has regressed when its mean is worse by more than its bound, a share when it has grown at all and by more than
 * its bound; each at a confidence that holds for all figures together.
 * @param confidence 0 to 1: of no false alarm in any figure, and of each interval that is shown.
 */
export function compareCampaigns(
  before: Campaigned,
  after: Campaigned,
  bounds: Bounds,
  confidence: number,
): Comparison {
  const unpairedBecause = differenceOf(after.header, before.header, BY_JOB);
  const paired = unpairedBecause === undefined;
  const pairs = paired ? pairsOf(before, after) : undefined;
  const sides = { before: before.rows, after: after.rows };
  const boundOf = <B>({ id, bound }: { id: string; bound: B }): B | undefined =>
    bounds.has(id) ? (bounds.get(id) as B | undefined) : bound;
  const judged: readonly Judged[] = [
    ...MEASURES.map((measure) =>
      judgedMeasure(measure, measureOf(measure, sides, pairs), boundOf(measure), { paired, confidence }),
    ),
    ...RATES.map((rate) => judgedRate(rate, sides, pairs, boundOf(rate), confidence)),
  ];
  const tested = judged.filter(({ p }) => p !== undefined);
  const rejected = holm(
    tested.map(({ p }) => p!),
    1 - confidence,
  );
  const alarmed = new Set(tested.filter((_, index) => rejected[index]).map(({ id }) => id));
  return {
    paired,
    ...(unpairedBecause === undefined ? {} : { unpairedBecause }),
    equal: paired && JSON.stringify(before.rows) === JSON.stringify(after.rows),
    confidence,
    figures: judged.map(({ beyond, ...one }) => ({ ...one, regressed: beyond && alarmed.has(one.id) })),
  };
}
