// Two side sensors held against each other, and a zero that runs away: each at its limits.
import { describe, expect, test } from 'vitest';
import { type Joined, NEVER_JOINED, watchJoined } from '../../../controller/estimates/joined.ts';
import { NO_DRIFT, watchDrift, type ZeroDrift } from '../../../controller/estimates/zero-drift.ts';
import { want } from '../../../controller/stages/stage.ts';
import { EQUIPMENT } from '../support/machine.ts';

describe('Joined hoses', () => {
  const JOINED = want('highSideValve', 'lowSideValve', 'fanStop');
  const watched = (
    watch: Joined,
    sides: object,
    nowMs = 50_000,
    permitted: typeof JOINED | undefined = JOINED,
  ) => watchJoined(watch, permitted, { highSidePa: 500_000, lowSidePa: 500_000, ...sides }, EQUIPMENT, nowMs);
  const since = (sinceMs: number | undefined, apartPa = 0): Joined => ({ sinceMs, apartPa });
  /** 20 kPa, and three deviations of both sensors. */
  const TOLERANCE_PA = 20_000 + 3 * Math.hypot(7_500, 2_500);

  test('are told apart after twenty seconds, beyond what their sensors may differ by', () => {
    const apart = (pa: number, sinceMs = 30_000) =>
      watched(since(sinceMs), { lowSidePa: 500_000 - pa }).apartPa;
    expect(apart(TOLERANCE_PA + 1)).toBeCloseTo(TOLERANCE_PA + 1, 6);
    expect(apart(TOLERANCE_PA - 1)).toBe(0);
    expect(apart(90_000, 30_001)).toBe(0);
    expect(apart(-90_000)).toBe(90_000);
  });

  test('count from when they were joined, and not from when they were not', () => {
    expect(watched(NEVER_JOINED, {}).sinceMs).toBe(50_000);
    expect(watched(since(30_000), {}).sinceMs).toBe(30_000);
    const shut = watched(since(30_000, 90_000), {}, 50_000, want('highSideValve'));
    expect(shut).toEqual({ sinceMs: undefined, apartPa: 90_000 });
    expect(
      watchJoined(since(30_000, 90_000), undefined, { highSidePa: 1, lowSidePa: 1 }, EQUIPMENT, 50_000),
    ).toEqual(shut);
  });

  test('keep what was found while a sensor has no value', () => {
    for (const name of ['highSidePa', 'lowSidePa'])
      expect(watched(since(10_000, 90_000), { [name]: undefined }).apartPa).toBe(90_000);
    expect(watched(since(10_000, 90_000), {}).apartPa).toBe(0);
  });

  test('are the same to whoever compares, while nothing changes', () => {
    const before = since(30_000);
    expect(watched(before, {})).toBe(before);
    const shut = since(undefined);
    expect(watched(shut, {}, 50_000, want('highSideValve'))).toBe(shut);
  });
});

describe('A zero that runs away', () => {
  const FROM: ZeroDrift = { kgPerS: 0, from: { kg: 8, atMs: 100_000 } };
  const look = (watch: ZeroDrift, kg: number | undefined, nowMs: number, stillMs = 500_000) =>
    watchDrift(watch, kg, stillMs, EQUIPMENT, nowMs);

  test('is looked for once everything has been still for two minutes', () => {
    expect(look(NO_DRIFT, 8, 7_000, 119_999)).toBe(NO_DRIFT);
    expect(look(NO_DRIFT, 8, 7_000, 120_000)).toEqual({ kgPerS: 0, from: { kg: 8, atMs: 7_000 } });
    expect(look({ ...FROM, kgPerS: 1e-5 }, undefined, 7_000)).toEqual({ kgPerS: 1e-5, from: undefined });
    expect(look(FROM, 8, 7_000, 100)).toEqual(NO_DRIFT);
  });

  test('is found after two minutes of a look, either way', () => {
    for (const way of [1, -1]) {
      expect(look(FROM, 8 + way * 0.006, 219_999)).toBe(FROM);
      expect(look(FROM, 8 + way * 0.006, 220_000).kgPerS).toBeCloseTo(5e-5, 9);
    }
  });

  test('is more than creep, dew, noise and the warmth of the cell', () => {
    // In two minutes 3 g, a fifth of three times a gram a kelvin, and 0.4 g of noise; in four of them 0.6 g more.
    expect(look(FROM, 8.0041, 220_000).kgPerS).toBeGreaterThan(0);
    expect(look(FROM, 8.0039, 220_000)).toBe(FROM);
    expect(look(FROM, 8.0047, 340_000).kgPerS).toBeGreaterThan(0);
    expect(look(FROM, 8.0045, 340_000)).toBe(FROM);
  });

  test('is faster than a gram a minute and slower than ten', () => {
    expect(look(FROM, 8.0101, 700_000 - 1).kgPerS).toBeCloseTo(0.0101 / 600, 7);
    expect(look(FROM, 8.0099, 700_000 - 1)).toBe(FROM);
    expect(look(FROM, 8.0199, 220_000).kgPerS).toBeCloseTo(0.0199 / 120, 9);
    expect(look(FROM, 8.0201, 220_000)).toBe(FROM);
  });

  test('is the fastest that was seen, and a look begins anew after ten minutes', () => {
    expect(look({ ...FROM, kgPerS: 6e-5 }, 8.006, 220_000).kgPerS).toBe(6e-5);
    expect(look({ ...FROM, kgPerS: 4e-5 }, 8.006, 220_000).kgPerS).toBeCloseTo(5e-5, 9);
    expect(look(FROM, 8.001, 699_999)).toBe(FROM);
    expect(look(FROM, 8.001, 700_000).from).toEqual({ kg: 8.001, atMs: 700_000 });
  });
});
