// The saturation line that diagrams draw: whole up to the critical point, where liquid and vapour are one.
import { expect, test } from 'vitest';
import { fluidOnce } from '../../../app/bench/whole-jobs.ts';
import { domeOf } from '../../../app/page/server/dome.ts';

const rising = (values: readonly number[]): boolean =>
  values.every((one, at) => at === 0 || one > values[at - 1]!);

// Critical points: Tillner-Roth and Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657 (R-134a); Richter, McLinden and
// Lemmon, J. Chem. Eng. Data 56 (2011) 3254 (R-1234yf).
test.each([
  { refrigerant: 'R-134a', criticalK: 374.21, criticalPa: 4.0593e6, criticalKgPerM3: 511.9 },
  { refrigerant: 'R-1234yf', criticalK: 367.85, criticalPa: 3.3822e6, criticalKgPerM3: 475.55 },
])('the dome of $refrigerant closes at its critical point', (published) => {
  const dome = domeOf(fluidOnce(published.refrigerant));
  expect(rising(dome.temperatureK)).toBe(true);
  expect(rising(dome.pressurePa)).toBe(true);
  expect(rising(dome.liquidJPerKg)).toBe(true);
  expect(dome.temperatureK.at(-1)).toBeCloseTo(published.criticalK, 1);
  expect(Math.abs(dome.pressurePa.at(-1)! / published.criticalPa - 1)).toBeLessThan(0.001);
  expect(dome.vapourJPerKg.at(-1)! - dome.liquidJPerKg.at(-1)!).toBeLessThan(100);
  expect(Math.abs(dome.liquidDensityKgPerM3.at(-1)! / published.criticalKgPerM3 - 1)).toBeLessThan(0.01);
});
