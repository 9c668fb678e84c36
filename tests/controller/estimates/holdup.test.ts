// What hoses hold at the end of a charge, at the ends of what the estimate is fitted to and between.
import { describe, expect, test } from 'vitest';
import {
  flashedShare,
  type HoldupInput,
  mixtureDensityKgPerM3,
  predictedHoldupKg,
} from '../../../controller/estimates/holdup.ts';
import { R134A } from '../support/machine.ts';

const K = 273.15;
/** R-134a at 10 and 20 °C (Tillner-Roth and Baehr). */
const AT_10 = { pa: 414_610, liquid: 1_261, vapour: 20.23 };
const AT_20 = { pa: 571_710, liquid: 1_225.3, vapour: 27.78 };

describe('The share that flashes', () => {
  test('is nothing from a tank no warmer than what it blows down to', () => {
    expect(flashedShare(R134A, K + 20, AT_20.pa)).toBeCloseTo(0, 9);
    expect(flashedShare(R134A, K + 10, AT_20.pa)).toBe(0);
  });

  test('takes its heat of evaporation out of ten kelvin of liquid and wall', () => {
    // 2.3 kJ/kgK over 190.7 kJ/kg at 10 °C (R-134a, REFPROP 10), which the curve has within 3 %.
    expect(flashedShare(R134A, K + 20, AT_10.pa) / ((2_300 * 10) / 190_700)).toBeCloseTo(1, 1);
  });

  test('is never more than all of it', () => expect(flashedShare(R134A, K + 150, AT_10.pa)).toBe(1));
});

test('The mixture is as dense as its phases, each by its share of the volume', () => {
  expect(mixtureDensityKgPerM3(R134A, 0, K + 20)).toBeCloseTo(AT_20.liquid, 6);
  expect(mixtureDensityKgPerM3(R134A, 1, K + 20)).toBeCloseTo(AT_20.vapour, 6);
  // A quarter of the mass: 9 mL of vapour and 0.61 mL of liquid for a gram.
  expect(mixtureDensityKgPerM3(R134A, 0.25, K + 20)).toBeCloseTo(1 / (0.008999 + 0.000612), 0);
});

describe('Hose and manifold', () => {
  const holds = (over: Partial<HoldupInput>) =>
    predictedHoldupKg({
      curve: R134A,
      tankTemperatureK: K + 20,
      ambientK: K + 20,
      vehiclePa: AT_20.pa,
      volumeM3: 1e-4,
      lowHose: false,
      ...over,
    });

  test('hold no more than 55 % of a liquid fill, and no less than 15 %', () => {
    expect(holds({})).toBeCloseTo(0.55e-4 * AT_20.liquid, 9);
    expect(holds({ tankTemperatureK: K + 40, vehiclePa: AT_10.pa })).toBeCloseTo(0.15e-4 * AT_10.liquid, 9);
  });

  test('hold three grams more where the vehicle has a low-side hose', () =>
    expect(holds({ lowHose: true }) - holds({})).toBeCloseTo(0.003, 9));

  test('hold a sixth less for every kelvin by which the room is warmer than the vehicle, up to four', () => {
    // A tank a little warmer than the vehicle, so that neither end of the fit is reached.
    const mixed = (warmerK: number) =>
      holds({ tankTemperatureK: K + 12.5, vehiclePa: AT_10.pa, ambientK: K + 10 + warmerK });
    const even = mixed(0);
    expect(even).toBeGreaterThan(0.2e-4 * AT_10.liquid);
    expect(even).toBeLessThan(0.54e-4 * AT_10.liquid);
    expect(mixed(1) / even).toBeCloseTo(Math.exp(-0.18), 6);
    expect(mixed(-1) / even).toBeCloseTo(Math.exp(0.18), 6);
    const flashed = (warmerK: number) =>
      holds({ tankTemperatureK: K + 16, vehiclePa: AT_10.pa, ambientK: K + 10 + warmerK });
    expect(flashed(-5)).toBe(flashed(-4));
    expect(flashed(-4)).toBeGreaterThan(flashed(-3.9));
    expect(mixed(5)).toBe(mixed(4));
  });

  test('are known by the mixture between the ends of the fit', () => {
    const input = { tankTemperatureK: K + 12.5, vehiclePa: AT_10.pa, ambientK: K + 10 };
    const share = flashedShare(R134A, input.tankTemperatureK, AT_10.pa);
    const perM3 = 1 / (share / AT_10.vapour + (1 - share) / AT_10.liquid);
    expect(holds(input)).toBeCloseTo(1e-4 * perM3, 6);
    expect(holds({ ...input, volumeM3: 2e-4 })).toBeCloseTo(2e-4 * perM3, 6);
  });
});
