import { expect, test } from 'vitest';
import { loss } from '../../app/run/loss.ts';

test('the compound rate, applied every year, leads from the nominal charge to the recovered one', () => {
  const { compoundPercentPerYear } = loss(0.8, 0.3, 7);
  expect(0.8 * (1 - compoundPercentPerYear / 100) ** 7).toBeCloseTo(0.3, 12);
});

test('a vehicle that held its charge has lost nothing', () => {
  expect(loss(0.6, 0.6, 5)).toEqual({ linearPercentPerYear: 0, compoundPercentPerYear: 0 });
});
