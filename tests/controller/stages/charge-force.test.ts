// The force of the hoses on the scale is learnt on the way, where it is worth a pause.
import { describe, expect, test } from 'vitest';
import { NO_READINGS, withReading } from '../../../controller/estimates/masses.ts';
import { pauseAtKg, watchFall, withForce } from '../../../controller/stages/charge-force.ts';
import { charging, scanOf } from '../support/charging.ts';

describe('The charge pauses', () => {
  /** Hoses 5 bar above the atmosphere, and a force known to so many grams at that. */
  const pausesAt = (doubtG: number, targetKg = 0.6, paused = false) =>
    pauseAtKg(
      charging({ targetKg, paused }),
      scanOf({
        accounts: { hoseForce: { kgPerPa: 0, sdKgPerPa: doubtG / 1000 / 500_000 } },
        seen: { highSidePa: 601_325, lowSidePa: 601_325 },
      }),
    );

  test('once where that force may be off by more than 2 g, at 80 g or two fifths of the charge', () => {
    expect(pausesAt(2.01)).toBe(0.08);
    expect(pausesAt(2.01, 0.15)).toBeCloseTo(0.06, 9);
    expect(pausesAt(2.01, 0.6, true)).toBe(0.6);
  });

  test('NOT where it is known better', () => expect(pausesAt(1.99)).toBe(0.6));

  test('NOT where the hoses stand below the atmosphere and have nothing to press with', () => {
    const accounts = { hoseForce: { kgPerPa: 0, sdKgPerPa: 1e-6 } };
    expect(pauseAtKg(charging(), scanOf({ accounts, seen: { highSidePa: 1_000, lowSidePa: 1_000 } }))).toBe(
      0.6,
    );
  });
});

describe('Readings for it', () => {
  test('are taken once the valve has surely shut, from what the scale shows without the bumps', () => {
    const before = charging({ stepSinceMs: 1_000, falling: withReading(NO_READINGS, 1, 1) });
    const seen = { highSidePa: 401_325, lowSidePa: 301_325 };
    const scale = { counts: 2_050_000, offsetKg: 0.1 };
    expect(watchFall(before, scanOf({ nowMs: 1_799, seen, scale })).falling).toEqual(NO_READINGS);
    expect(watchFall(before, scanOf({ nowMs: 1_799, seen, scale })).step).toBe(before.step);
    const { falling, step } = watchFall(before, scanOf({ nowMs: 1_800, seen, scale }));
    expect(step).toBe(before.step);
    expect(falling.n).toBe(2);
    // 7.5 kg by the counts, of which 0.1 kg leans on the platform; 2.5 bar gauge in the mean of both hoses.
    expect(falling.kg).toBeCloseTo(8.4, 9);
    expect(falling.pa).toBeCloseTo(250_001, 6);
  });

  test('replace what was not known at all', () => {
    const pressures = Array.from({ length: 50 }, (_, n) => 500_000 - 10_000 * n);
    const falling = pressures.reduce((sums, pa) => withReading(sums, pa, 7.5 + 2e-8 * pa), NO_READINGS);
    const accounts = { hoseForce: { kgPerPa: 0, sdKgPerPa: 1 }, hosesSafe: true };
    const after = withForce(charging({ falling }), scanOf({ accounts }));
    expect(after.hoseForce.kgPerPa).toBeCloseTo(2e-8, 12);
    expect(after.hosesSafe).toBe(true);
    expect(withForce(charging(), scanOf({ accounts })).hoseForce).toEqual(accounts.hoseForce);
  });
});
