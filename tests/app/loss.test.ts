import { describe, expect, test } from 'vitest';
import { estimateLoss, loss, type Missing } from '../../app/run/loss.ts';

test('the compound rate, applied every year, leads from the nominal charge to what is left', () => {
  const { compoundPercentPerYear } = loss(0.8, 0.3, 7);
  expect(0.8 * (1 - compoundPercentPerYear / 100) ** 7).toBeCloseTo(0.3, 12);
});

test('a vehicle that held its charge has lost nothing', () => {
  expect(loss(0.6, 0.6, 5)).toEqual({ linearPercentPerYear: 0, compoundPercentPerYear: 0 });
});

describe('a yearly loss', () => {
  const OLD: Missing = { nominalKg: 0.6, missingKg: 0.15, uncertaintyKg: 0.02, ageYears: 5, mixed: false };

  test('has the bounds that the doubt of what is missing leads to', () => {
    const estimate = estimateLoss(OLD);
    if ('refused' in estimate) throw new Error(estimate.refused);
    const { likely, least, most } = estimate;
    // 150 ± 20 g of 600 g in five years: 5 % a year, two thirds of a percent either way.
    expect(likely.linearPercentPerYear).toBeCloseTo(5, 9);
    expect(most.linearPercentPerYear - likely.linearPercentPerYear).toBeCloseTo(20 / 30, 9);
    expect(likely.linearPercentPerYear - least.linearPercentPerYear).toBeCloseTo(20 / 30, 9);
    // The compound rate that leads to 430 g, and to 470 g.
    expect(0.6 * (1 - most.compoundPercentPerYear / 100) ** 5).toBeCloseTo(0.43, 12);
    expect(0.6 * (1 - least.compoundPercentPerYear / 100) ** 5).toBeCloseTo(0.47, 12);
  });

  test.each<[string, Partial<Missing>]>([
    ['within-doubt', { missingKg: 0.019 }],
    ['within-doubt', { missingKg: -0.05 }],
    ['all-but-empty', { missingKg: 0.53 }],
    ['all-but-empty', { missingKg: 0.6 }],
    ['mixed', { mixed: true }],
  ])('is refused where it would be a guess: %s %o', (refused, other) => {
    expect(estimateLoss({ ...OLD, ...other })).toEqual({ refused });
  });
});
