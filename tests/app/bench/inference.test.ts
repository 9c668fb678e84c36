import { describe, expect, test } from 'vitest';
import {
  holm,
  judgeMean,
  pairedShareInterval,
  pairedShareP,
  unpairedShareInterval,
  unpairedShareP,
} from '../../../app/bench/inference.ts';
import { Random } from '../../../sim/random.ts';

const sample = (count: number, draw: () => number): Float64Array =>
  Float64Array.from({ length: count }, draw);
const alone = (values: Float64Array) => [{ values, times: 1 }];

describe('shares', () => {
  test('of pairs: ten came and two went, by the binomial coefficients', () => {
    expect(pairedShareP({ jobs: 50, came: 10, went: 2, both: 5 })).toBeCloseTo((66 + 12 + 1) / 4096, 12);
    expect(pairedShareP({ jobs: 50, came: 0, went: 0, both: 5 })).toBe(1);
  });

  test("of others: Fisher's cups of tea, three of four right", () => {
    expect(unpairedShareP({ jobs: 4, have: 1 }, { jobs: 4, have: 3 })).toBeCloseTo(17 / 70, 12);
    expect(unpairedShareP({ jobs: 4, have: 0 }, { jobs: 4, have: 0 })).toBe(1);
  });

  test('the interval is the published one for 56 of 70 against 48 of 80 (Newcombe 1998, method 10)', () => {
    const { estimate, low, high } = unpairedShareInterval(
      { jobs: 80, have: 48 },
      { jobs: 70, have: 56 },
      0.95,
    );
    expect(estimate).toBeCloseTo(0.2, 12);
    expect([low.toFixed(4), high.toFixed(4)]).toEqual(['0.0524', '0.3339']);
  });

  test('the interval of pairs holds the truth as often as it says', () => {
    const random = new Random(11, 'pairs');
    const jobs = 80;
    const sets = 1500;
    let held = 0;
    for (let set = 0; set < sets; set++) {
      const counts = { both: 0, came: 0, went: 0 };
      for (let job = 0; job < jobs; job++) {
        const chance = random.uniform();
        if (chance < 0.1) counts.both++;
        else if (chance < 0.2) counts.came++;
        else if (chance < 0.24) counts.went++;
      }
      const { low, high } = pairedShareInterval({ jobs, ...counts }, 0.95);
      if (low <= 0.06 && high >= 0.06) held++;
    }
    expect(held / sets).toBeGreaterThan(0.95 - 4 * Math.sqrt((0.95 * 0.05) / sets));
  });
});

describe('means', () => {
  /** A lognormal less its mean: most are small, some are very large. */
  const heavy = (random: Random) => (): number => Math.exp(1.2 * random.normal()) - Math.exp(0.72);

  test.each([
    ['pairs', (random: Random) => alone(sample(60, () => heavy(random)() - heavy(random)()))],
    [
      'separate jobs',
      (random: Random) => [
        { values: sample(50, heavy(random)), times: 1 },
        { values: sample(50, heavy(random)), times: -1 },
      ],
    ],
  ])('of heavy-tailed %s that do not differ are seen to differ no more often than allowed', (_, groups) => {
    const random = new Random(5, 'heavy');
    const sets = 120;
    let alarms = 0;
    for (let set = 0; set < sets; set++) if (judgeMean(groups(random), 0, 0.95).p <= 0.05) alarms++;
    expect(alarms).toBeLessThanOrEqual(0.05 * sets + 4 * Math.sqrt(sets * 0.05 * 0.95));
  });

  test('a shift of 5 among differences of 2 is seen to be above 1, and not above 5', () => {
    const random = new Random(7, 'shift');
    const groups = alone(sample(40, () => 5 + 2 * random.normal()));
    const above = judgeMean(groups, 1, 0.99);
    expect(above.p).toBe(1 / 5000);
    expect(above.low).toBeGreaterThan(3);
    expect(above.low).toBeLessThan(5);
    expect(above.high).toBeGreaterThan(5);
    expect(judgeMean(groups, 5, 0.99).p).toBeGreaterThan(0.05);
    expect(judgeMean(groups, 1, 0.99)).toEqual(above);
  });

  test('the interval of a normal sample is that of Student', () => {
    const random = new Random(3, 'normal');
    const values = sample(200, () => random.normal());
    const mean = values.reduce((sum, value) => sum + value, 0) / 200;
    const error = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / 199 / 200);
    const { estimate, low, high } = judgeMean(alone(values), 0, 0.95);
    expect(estimate).toBeCloseTo(mean, 12);
    // t of 199 degrees of freedom at 97.5 %.
    expect(Math.abs(mean - low - 1.972 * error)).toBeLessThan(0.15 * error);
    expect(Math.abs(high - mean - 1.972 * error)).toBeLessThan(0.15 * error);
  });

  test('equal differences are judged by their number', () => {
    expect(judgeMean(alone(sample(20, () => 5)), 1, 0.99)).toEqual({
      estimate: 5,
      low: 5,
      high: 5,
      p: 2 ** -20,
    });
    expect(judgeMean(alone(sample(20, () => 0)), 0, 0.99).p).toBe(1);
  });
});

test("Holm's correction stops at the first that does not hold", () => {
  expect(holm([0.03, 0.01, 0.04, 0.02], 0.05)).toEqual([false, true, false, false]);
  expect(holm([0.001, 0.012, 0.02, 0.05], 0.05)).toEqual([true, true, true, true]);
});
