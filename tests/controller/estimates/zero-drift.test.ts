// A zero that runs away while nothing flows: told from creep, dew and a room that warms, and stated in what is weighed.

import { describe, expect, test } from 'vitest';
import { gainOf, type Weighing, withDrift } from '../../../controller/estimates/masses.ts';
import { NO_DRIFT, watchDrift } from '../../../controller/estimates/zero-drift.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { TANK_KG, weighingOf } from '../support/weighings.ts';

const still = (kgAt: (s: number) => number, seconds: number, stillFromS = 0): number => {
  let watch = NO_DRIFT;
  for (let s = 0; s <= seconds; s += 0.1)
    watch = watchDrift(watch, kgAt(s), 1000 * (s - stillFromS), EQUIPMENT, 1000 * s);
  return watch.kgPerS * 60_000;
};

describe('A scale with nothing flowing', () => {
  test.each([2, -2, 5])('that drifts by %d g a minute is found, as fast as that', (rate) => {
    expect(still((s) => 8 + (rate / 60_000) * s, 900)).toBeCloseTo(Math.abs(rate), 1);
  });

  test('that drifts by 2 g a minute is found within three minutes of a look', () => {
    expect(still((s) => 8 + (0.002 / 60) * s, 120 + 180)).toBeGreaterThan(1.9);
  });

  test.each([
    { what: 'stands', of: () => 8 },
    { what: 'creeps by 0.6 g', of: (s: number) => 8 + 6e-4 * (1 - Math.exp(-s / 300)) },
    {
      what: 'creeps, and warms by a degree in ten minutes',
      of: (s: number) => 8 + 2e-3 * (1 - Math.exp(-s / 300)) + 5e-6 * s,
    },
    { what: 'gathers dew, 3 g in an hour', of: (s: number) => 8 + 0.003 * (s / 3600) },
    { what: 'gains what drips from the condenser', of: (s: number) => 8 + 0.03 * (1 - Math.exp(-s / 20)) },
  ])('that $what is NOT said to drift', ({ of }) => {
    expect(still(of, 1800)).toBe(0);
  });

  test('is NOT judged before it has been still for two minutes', () => {
    expect(still((s) => 8 + 1e-4 * s, 200, 100)).toBe(0);
  });
});

test('a gain is stated with the doubt of a known drift over its time, and without one as before', () => {
  const weighing = (atMs: number, driftKgPerS: number): Weighing =>
    weighingOf(TANK_KG, { atMs, driftKgPerS });
  const force = { kgPerPa: 0, sdKgPerPa: 0 };
  const sdKg = (driftKgPerS: number, minutes: number) =>
    gainOf(weighing(0, 0), weighing(60_000 * minutes, driftKgPerS), EQUIPMENT, force).sdKg;
  // 2 g a minute over ten minutes are 20 g; two deviations hold them.
  expect(2 * sdKg(0.002 / 60, 10)).toBeGreaterThan(0.02);
  expect(2 * sdKg(0.002 / 60, 1)).toBeLessThan(0.006);
  expect(sdKg(0, 10)).toBe(sdKg(0, 1));
});

test('what was stated before the drift was known is stated anew, and twice found is as once', () => {
  const tenMinutes = 600_000;
  const perS = 0.002 / 60;
  expect(withDrift(0.005, tenMinutes, 0, perS)).toBeGreaterThan(0.02);
  const twice = withDrift(withDrift(0.005, tenMinutes, 0, perS / 2), tenMinutes, perS / 2, perS);
  expect(twice).toBeCloseTo(withDrift(0.005, tenMinutes, 0, perS), 12);
  expect(withDrift(0.005, 0, 0, perS)).toBe(0.005);
});
