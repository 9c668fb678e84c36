// The look-up of the saturation curve, row by row, between the rows and at the ends of its table.
import { describe, expect, test } from 'vitest';
import {
  evaporationJPerKg,
  liquidDensityKgPerM3,
  saturatedK,
  saturationK,
  saturationPa,
  thinVapourKgPerM3,
  vapourDensityKgPerM3,
} from '../../../controller/estimates/saturation.ts';
import { R134A, R1234YF } from '../support/machine.ts';

const [COLDEST_K, HOTTEST_K] = [233.15, 343.15];

describe.each([R134A, R1234YF])('The table of $refrigerant', (curve) => {
  test('answers with its own figures at every row', () => {
    for (const [row, kelvin] of curve.temperatureK.entries()) {
      expect(saturationPa(curve, kelvin)).toBeCloseTo(curve.pressurePa[row]!, 3);
      expect(saturationK(curve, curve.pressurePa[row]!)).toBeCloseTo(kelvin, 9);
      expect(liquidDensityKgPerM3(curve, kelvin)).toBeCloseTo(curve.liquidDensityKgPerM3[row]!, 9);
      expect(vapourDensityKgPerM3(curve, kelvin)).toBeCloseTo(curve.vapourDensityKgPerM3[row]!, 9);
    }
  });

  test('answers with densities in proportion between two rows', () => {
    for (let row = 1; row < curve.temperatureK.length; row += 1) {
      const [cold, warm] = [curve.temperatureK[row - 1]!, curve.temperatureK[row]!];
      const quarter = (of: readonly number[]) => 0.75 * of[row - 1]! + 0.25 * of[row]!;
      const kelvin = 0.75 * cold + 0.25 * warm;
      expect(liquidDensityKgPerM3(curve, kelvin)).toBeCloseTo(quarter(curve.liquidDensityKgPerM3), 9);
      expect(vapourDensityKgPerM3(curve, kelvin)).toBeCloseTo(quarter(curve.vapourDensityKgPerM3), 9);
    }
  });
});

describe('Outside the table', () => {
  test('the nearest end answers', () => {
    expect(saturationPa(R134A, 200)).toBeCloseTo(51_210, 3);
    expect(saturationPa(R134A, 400)).toBeCloseTo(2_116_800, 3);
    expect(liquidDensityKgPerM3(R134A, 200)).toBe(1417.7);
    expect(liquidDensityKgPerM3(R134A, 400)).toBeCloseTo(996.25, 9);
    expect(vapourDensityKgPerM3(R134A, 400)).toBeCloseTo(115.57, 9);
    expect(evaporationJPerKg(R134A, 200)).toBeCloseTo(evaporationJPerKg(R134A, COLDEST_K + 0.5), 3);
    expect(evaporationJPerKg(R134A, 400)).toBeCloseTo(evaporationJPerKg(R134A, HOTTEST_K - 0.5), 3);
    // A sensor near vacuum may show a little less than nothing.
    for (const pressurePa of [40_000, 0, -500])
      expect(saturationK(R134A, pressurePa)).toBeCloseTo(COLDEST_K, 9);
    expect(saturationK(R134A, 3e6)).toBeCloseTo(HOTTEST_K, 9);
  });

  test('nothing is said of what is saturated, and at its ends it is', () => {
    expect(saturatedK(51_210, R134A)).toBeCloseTo(COLDEST_K, 9);
    expect(saturatedK(2_116_800, R134A)).toBeCloseTo(HOTTEST_K, 9);
    expect(saturatedK(571_710, R134A)).toBeCloseTo(293.15, 9);
    for (const pressurePa of [51_200, 2_117_000, undefined])
      expect(saturatedK(pressurePa, R134A)).toBeUndefined();
  });
});

describe('The heat of evaporation', () => {
  // Equation of Tillner-Roth and Baehr (1994), kJ/kg; the table and its straight lines are within 3 % of it.
  test.each([
    [-20, 212.9],
    [0, 198.6],
    [40, 163.0],
  ])('of R-134a at %d °C is %d kJ/kg', (celsius, kJPerKg) =>
    expect(Math.abs(evaporationJPerKg(R134A, celsius + 273.15) / (1000 * kJPerKg) - 1)).toBeLessThan(0.03),
  );
});

test('Thin vapour is an ideal gas: as the table has it at its cold end, and in proportion to pressure over temperature', () => {
  expect(thinVapourKgPerM3(R134A, 51_210, COLDEST_K)).toBeCloseTo(2.7695, 9);
  expect(thinVapourKgPerM3(R134A, 51_210 / 4, COLDEST_K)).toBeCloseTo(2.7695 / 4, 9);
  expect(thinVapourKgPerM3(R134A, 51_210, 2 * COLDEST_K)).toBeCloseTo(2.7695 / 2, 9);
});
