import { expect, test } from 'vitest';
import { loss } from '../../app/run/loss.ts';

test('650 g filled and 480 g recovered after four years is 6.54 % a year linear and 7.30 % compound', () => {
  const { linearPercentPerYear, compoundPercentPerYear } = loss(0.65, 0.48, 4);
  expect(linearPercentPerYear).toBeCloseTo(6.54, 2);
  expect(compoundPercentPerYear).toBeCloseTo(7.3, 2);
});

test('the compound rate, applied every year, leads from the nominal charge to the recovered one', () => {
  const { compoundPercentPerYear } = loss(0.8, 0.3, 7);
  expect(0.8 * (1 - compoundPercentPerYear / 100) ** 7).toBeCloseTo(0.3, 12);
});

test('a vehicle that held its charge has lost nothing', () => {
  expect(loss(0.6, 0.6, 5)).toEqual({ linearPercentPerYear: 0, compoundPercentPerYear: 0 });
});
