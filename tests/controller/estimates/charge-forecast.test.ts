// How much runs in by pressure alone, against a balance written down the other way round.
import { describe, expect, test } from 'vitest';
import { forecastFill } from '../../../controller/estimates/charge-forecast.ts';
import { saturationPa } from '../../../controller/estimates/saturation.ts';
import { R134A, R1234YF } from '../support/machine.ts';

const forecast = (tankC: number, vehicleC: number, wantedKg = 0.6, curve = R134A) =>
  forecastFill({
    curve,
    tankPa: saturationPa(curve, tankC + 273.15),
    vehicleK: vehicleC + 273.15,
    wantedKg,
  });

describe('What the tank brings by itself', () => {
  test('is everything into a vehicle that is no warmer, or so little that the first liquid cools it', () => {
    for (const vehicleC of [5, 20, 22]) expect(forecast(20, vehicleC).runsInKg).toBe(0.6);
  });

  test('into a vehicle that is 5 K warmer is some 70 g, as an outside estimate of 76 to 83 g has it within a fifth', () => {
    const { runsInKg } = forecast(20, 25);
    expect(runsInKg).toBeGreaterThan(0.062);
    expect(runsInKg).toBeLessThan(0.083);
  });

  test('fills the vehicle with vapour of the pressure of the tank and of the metal it has cooled', () => {
    const { runsInKg } = forecast(15, 35, 0.65);
    const volumeM3 = 0.8e-3 + 3e-3 * 0.65;
    // Saturated vapour of R-134a at 15 °C (NIST): 23.8 kg/m³; heat of evaporation 186.6 kJ/kg.
    const metalK = 308.15 - (runsInKg * 186_600) / 5000;
    expect(runsInKg).toBeCloseTo((23.8 * volumeM3 * 288.15) / metalK, 2);
  });

  test('falls with the warmth of the vehicle and rises with that of the tank', () => {
    expect(forecast(20, 45).runsInKg).toBeLessThan(forecast(20, 30).runsInKg);
    expect(forecast(25, 45).runsInKg).toBeGreaterThan(forecast(20, 45).runsInKg);
    expect(forecast(15, 35, 0.6, R1234YF).runsInKg).toBeLessThan(0.12);
  });

  test('says the temperature at which the tank stands', () => {
    expect(forecast(20, 30).tankK).toBeCloseTo(293.15, 1);
  });
});
