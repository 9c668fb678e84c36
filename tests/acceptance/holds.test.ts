// A few dozen seeded vehicles, dry, wet and leaking, evacuated and held: what is said must be true.
import { beforeAll, describe, expect, test } from 'vitest';
import { type HoldRow, holdsJob } from '../accuracy/holds-job.ts';
import { type HoldsProfile, summaryOf } from '../accuracy/holds-summary.ts';

/** Seeds with every kind of vehicle among them; the thousand are run by `npm run accuracy -- holds`. */
const SEEDS = Array.from({ length: 16 }, (_, index) => index + 1);
const MORE = SEEDS.slice(0, 4);

let good: readonly HoldRow[] = [];
let hobby: readonly HoldRow[] = [];
let summary: HoldsProfile;

const run = async (profile: 'good' | 'hobby', seeds: readonly number[]): Promise<HoldRow[]> => {
  const rows: HoldRow[] = [];
  for (const seed of seeds)
    rows.push(await holdsJob({ profile, policy: 'adaptive', population: 'hard' }, seed));
  return rows;
};

beforeAll(async () => {
  good = await run('good', SEEDS);
  hobby = await run('hobby', MORE);
  summary = summaryOf(good);
}, 300_000);

const leaksAbove = (rows: readonly HoldRow[], limits: number): HoldRow[] =>
  rows.filter(({ leakKgPerYear, limitKgPerYear = 0 }) => leakKgPerYear > limits * limitKgPerYear);

describe('seeded holds', () => {
  test('the seeds are of every kind', () => {
    expect(new Set(good.map(({ origin }) => origin)).size).toBe(3);
    expect(good.some(({ waterG }) => waterG > 0)).toBe(true);
    expect(good.filter(({ leakKgPerYear }) => leakKgPerYear > 0).length).toBeGreaterThan(5);
  });

  test('no leak is called where there is none, by either machine', () => {
    for (const { seed, leakKgPerYear, verdict } of [...good, ...hobby])
      if (leakKgPerYear === 0) expect(verdict, `seed ${seed}`).not.toBe('leak');
  });

  test('a leak above three times the stated limit is called, NOT passed as tight', () => {
    const real = leaksAbove([...good, ...hobby], 3);
    expect(real.length).toBeGreaterThan(2);
    for (const { seed, verdict } of real) expect(verdict, `seed ${seed}`).toBe('leak');
  });

  test('a leak that cold water hides from a coarse sensor is within three times what is said to hide', async () => {
    for (const { seed, verdict, leakKgPerYear, limitKgPerYear } of await run('hobby', [176, 235])) {
      expect(verdict, `seed ${seed}`).not.toBe('leak');
      expect(leakKgPerYear, `seed ${seed}`).toBeLessThan(3 * limitKgPerYear!);
    }
  });

  test('nothing is tight that may lose more than 10 kg a year', () => {
    const tight = good.filter(({ verdict }) => verdict === 'tight');
    expect(tight.length).toBeGreaterThan(5);
    for (const { seed, limitKgPerYear } of tight) expect(limitKgPerYear, `seed ${seed}`).toBeLessThan(10);
    expect(summary.dryLimits.of).toBeGreaterThan(0);
    expect(summary.dryLimits.most).toBeLessThan(10);
  });

  test('hardly anything is inconclusive, and what gives off gas has a cause', () => {
    expect(summary.inconclusive.hold).toBeLessThanOrEqual(0.1 * summary.inconclusive.of);
    for (const { verdict, cause } of good) expect(cause !== undefined).toBe(verdict === 'outgassing');
  });

  test('a dry system is pumped no longer than common practice has it', () => {
    for (const { seed, leakKgPerYear, waterG, origin, pumpedMinutes } of good)
      if (leakKgPerYear === 0 && waterG === 0 && origin !== 'whole')
        expect(pumpedMinutes, `seed ${seed}`).toBeLessThan(origin === 'opened' ? 45.1 : 20.1);
  });
});
