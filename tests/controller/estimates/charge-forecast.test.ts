// How much runs in by pressure alone, against a balance written down the other way round.
import { describe, expect, test } from 'vitest';
import { forecastFill } from '../../../controller/estimates/charge-forecast.ts';
import { saturationPa } from '../../../controller/estimates/saturation.ts';
import { R134A, R1234YF } from '../support/machine.ts';

const forecast = (tankC: number, vehicleC: number, wantedKg = 0.6, curve = R134A, insideKg = 0) =>
  forecastFill({
    curve,
    tankPa: saturationPa(curve, tankC + 273.15),
    vehicleK: vehicleC + 273.15,
    wantedKg,
    insideKg,
  });

describe('What the tank brings by itself', () => {
  test('is everything into a vehicle that is no warmer, or so little that the first liquid cools it', () => {
    for (const vehicleC of [5, 20, 22]) expect(forecast(20, vehicleC).runsInKg).toBe(0.6);
  });

  // Energy balance m·h′ = U(T, m) + C·ΔT of 3 L and 5 kJ/K at a tank of 20 °C, with property values of CoolProp 8.
  test.each([
    { curve: R134A, vehicleC: 25, balanceKg: 0.0825 },
    { curve: R134A, vehicleC: 40, balanceKg: 0.076 },
    { curve: R1234YF, vehicleC: 25, balanceKg: 0.097 },
    { curve: R1234YF, vehicleC: 40, balanceKg: 0.09 },
  ])('of $curve.refrigerant into a vehicle of $vehicleC °C is within 5 %% of $balanceKg kg', (each) => {
    const { runsInKg } = forecast(20, each.vehicleC, 2.2 / 3, each.curve);
    expect(Math.abs(runsInKg / each.balanceKg - 1)).toBeLessThan(0.05);
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

  test('is less when vapour of a partial charge has taken the warmth of the metal already', () => {
    // 70 g would cool 5 kJ/K by 2.5 K: enough for a vehicle 2 K warmer, and none of it is left to evaporate.
    expect(forecast(20, 22).runsInKg).toBe(0.6);
    expect(forecast(20, 22, 0.6, R134A, 0.07).runsInKg).toBeLessThan(0.1);
    expect(forecast(20, 20, 0.6, R134A, 0.07).runsInKg).toBe(0.6);
  });

  test('says the temperature at which the tank stands', () => {
    expect(forecast(20, 30).tankK).toBeCloseTo(293.15, 1);
  });
});
