// Lines, trends, residues, water and losses: small sums, worked out by hand.
import { describe, expect, test } from 'vitest';
import { isAbnormal, lossOf } from '../../../controller/estimates/abnormal-loss.ts';
import { leakKgPerYear } from '../../../controller/estimates/leak.ts';
import { correlationOf, independent, lineThrough } from '../../../controller/estimates/line.ts';
import { residueOf } from '../../../controller/estimates/residue.ts';
import { updateTrend } from '../../../controller/estimates/trend.ts';
import { waterVapourPa } from '../../../controller/estimates/water.ts';
import { planFor, R134A } from '../support/machine.ts';

describe('A line', () => {
  test('through 0, 1, 0, 1 rises by a fifth a sample, with residuals of 0.2 and 0.6', () => {
    const line = lineThrough([0, 1, 0, 1], 1, 0);
    expect(line.slopePerS).toBeCloseTo(0.2, 12);
    expect(line.end).toBeCloseTo(0.8, 12);
    // Squares of 0.8 over two degrees of freedom, over 5 for the places; what alternates is white.
    expect(line.slopeSdPerS).toBeCloseTo(Math.sqrt(0.4 / 5), 12);
    const twice = lineThrough([0, 1, 0, 1], 0.5, 0);
    expect(twice.slopePerS).toBeCloseTo(0.4, 12);
    expect(twice.slopeSdPerS).toBeCloseTo(2 * line.slopeSdPerS, 12);
  });

  test('is no surer than the steps of the sensor: a twelfth of their square', () => {
    const { slopePerS, slopeSdPerS, end } = lineThrough([5, 7, 9, 11], 1, 3);
    expect([slopePerS, end]).toEqual([2, 11]);
    expect(slopeSdPerS).toBeCloseTo(Math.sqrt(9 / 12 / 5), 12);
    expect(lineThrough([4, 6], 1, 0)).toEqual({ slopePerS: 2, slopeSdPerS: 0, end: 6 });
  });

  test('counts samples that wander for what they are worth', () => {
    const bow = [0, 1, 1, 0].flatMap((value) => [value, value, value]);
    const { slopeSdPerS } = lineThrough(bow, 1, 0);
    // Twelve of ±½ about their mean, level: squares of 3; from one to the next 9 − 2 quarters, 7/12 of that.
    const counted = (12 * (1 - 7 / 12)) / (1 + 7 / 12);
    expect(slopeSdPerS).toBeCloseTo(Math.sqrt((3 / 10 / 143) * (12 / counted)), 12);
  });

  test('has residuals that go with each other, at most by 0.98', () => {
    expect(correlationOf([1, 1, 1, 1])).toBe(0.75);
    expect(correlationOf([1, -1, 1, -1])).toBe(0);
    expect(correlationOf([0, 0, 0])).toBe(0);
    expect(correlationOf(new Array(100).fill(2))).toBe(0.98);
    expect(correlationOf([2, 1, 0])).toBeCloseTo(0.4, 12);
  });

  test('is worth so many independent samples, three at least', () => {
    expect(independent(100, 0)).toBe(100);
    expect(independent(90, 0.5)).toBe(30);
    expect(independent(4, 0.9)).toBe(3);
  });
});

describe('A trend', () => {
  /** A time constant of one half-life a second: what is left of an innovation halves from second to second. */
  const HALVES_S = 1 / Math.LN2;
  const from = { value: 10, perS: 2, atMs: 1_000 };

  test('begins at rest', () =>
    expect(updateTrend(undefined, 7, 500, 5)).toEqual({ value: 7, perS: 0, atMs: 500 }));

  test('takes three quarters of what is new in the value, and a quarter in the rate', () => {
    const next = updateTrend(from, 16, 2_000, HALVES_S)!;
    // 12 was foreseen; 4 are new.
    expect(next.value).toBeCloseTo(15, 12);
    expect(next.perS).toBeCloseTo(3, 12);
    expect(next.atMs).toBe(2_000);
    const slow = updateTrend(from, 18, 3_000, 2 * HALVES_S)!;
    expect(slow.value).toBeCloseTo(17, 12);
    expect(slow.perS).toBeCloseTo(2.5, 12);
  });

  test('stands while no time passes', () => {
    expect(updateTrend(from, 99, 1_000, 5)).toBe(from);
    expect(updateTrend(from, 99, 900, 5)).toBe(from);
  });
});

describe('What is still to come of a recovery', () => {
  test('is liquid from seven tenths of the last yield on, and a geometric rest below', () => {
    expect(residueOf([1, 0.7])).toEqual({ kind: 'liquid' });
    expect(residueOf([9, 1, 0.6])).toEqual({ kind: 'falling', leftKg: expect.closeTo(0.9, 12) });
    expect(residueOf([1, -0.1])).toEqual({ kind: 'falling', leftKg: 0 });
  });

  test('is unknown from fewer than two, or after none', () => {
    for (const yields of [[], [1], [0, 1], [-1, 1]]) expect(residueOf(yields)).toEqual({ kind: 'unknown' });
  });
});

describe('Water', () => {
  test.each([
    // IAPWS-95 and IAPWS R14 for ice, rounded.
    [-20, 103.2],
    [-0.001, 611.1],
    [0, 611.2],
    [20, 2_339],
    [40, 7_385],
  ])('has at %d °C the vapour pressure of the steam tables, %d Pa', (celsius, pa) =>
    expect(waterVapourPa(celsius + 273.15) / pa).toBeCloseTo(1, 2),
  );

  test('is ice below freezing, which has less than water would', () => {
    expect(waterVapourPa(272.15)).toBeLessThan(565);
    // Water cooled below freezing has 568 Pa at −1 °C (Goff and Gratch); ice has 562 Pa.
    expect(waterVapourPa(272.15)).toBeGreaterThan(560);
  });
});

describe('A leak', () => {
  test('lets out a year what the same path lets in, by viscous flow at the pressures of each way', () => {
    // 571.71 kPa inside: 30.84 times the difference of squares, 1.583 times as thin; 0.1048 kg/mol of thin vapour.
    const perYear = (3e-3 * 30.836 * 1.5826 * 0.10484 * 31_557_600) / (8.314463 * 293.15);
    expect(leakKgPerYear(1, 3e-3, R134A) / perYear).toBeCloseTo(1, 3);
    expect(leakKgPerYear(0.2, 1.5e-3, R134A)).toBeCloseTo(perYear / 10, 1);
  });
});

describe('An abnormal loss', () => {
  const judged = (recoveredKg: number, vehicleAgeYears?: number, cycles: readonly number[] = [recoveredKg]) =>
    lossOf(planFor(vehicleAgeYears === undefined ? {} : { vehicleAgeYears }), {
      recoveredKg,
      recoveredUncertaintyKg: 0.02,
      cycles: cycles.map((each) => ({ recoveredKg: each })),
    })!;

  test('is of 600 g what was not recovered and is not left, 2 per cent', () => {
    expect(judged(0.4).missingKg).toBeCloseTo(0.6 - 0.4 - 0.012, 12);
    // 20 g of the recovery, 15 g of the last fill, 12 g of what is left.
    expect(judged(0.4).uncertaintyKg).toBeCloseTo(Math.hypot(0.02, 0.015, 0.012), 12);
  });

  test('leaves more in the vehicle where the yields of the recovery still fall', () => {
    // 100 g after 200 g: 100 g more.
    expect(judged(0.3, undefined, [0.2, 0.1]).missingKg).toBeCloseTo(0.2, 12);
    expect(judged(0.3, undefined, [0.15, 0.15]).missingKg).toBeCloseTo(0.288, 12);
  });

  test('allows a tenth of what is there every year, one year where nobody knows, five at most', () => {
    const allowed = (years?: number) => judged(0.4, years);
    expect(allowed()).toMatchObject({ years: 1, allowedKg: expect.closeTo(0.06, 12) });
    expect(allowed(2)).toMatchObject({ years: 2, allowedKg: expect.closeTo(0.114, 12) });
    expect(allowed(9)).toMatchObject({ years: 5, allowedKg: expect.closeTo(0.6 * (1 - 0.59049), 12) });
  });

  test('is one only where it surely exceeds what the age allows', () => {
    const loss = { missingKg: 0.75, allowedKg: 0.25, uncertaintyKg: 0.5, years: 1 };
    expect(isAbnormal(loss)).toBe(false);
    expect(isAbnormal({ ...loss, missingKg: 0.7501 })).toBe(true);
  });

  test('is not judged before anything was recovered, or where that is not known', () => {
    const plan = planFor();
    expect(
      lossOf(plan, { recoveredKg: undefined, recoveredUncertaintyKg: 0.01, cycles: [] }),
    ).toBeUndefined();
    expect(lossOf(plan, { recoveredKg: 0.5, recoveredUncertaintyKg: undefined, cycles: [] })).toBeUndefined();
  });
});
