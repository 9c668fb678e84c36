// Moist air against psychrometric values and a coil against its limits.
import { describe, expect, test } from 'vitest';
import { Coil, dewPointK, humidityRatio, moistEnthalpyJPerKg } from '../../../sim/fluids/moist-air.ts';

const K = 273.15;
const ATMOSPHERE_PA = 101_325;

describe('humidity, enthalpy and dew point', () => {
  // Charts for 101.325 kPa: 25 °C at 50 % W = 9.9 g/kg, h = 50.4 kJ/kg, dew point 13.9 °C (from memory); the others
  // are reckoned here from the Magnus formula p_w = 611.2 Pa·exp(17.62 t/(243.12 + t)) (WMO No. 8, Annex 4.B), which
  // itself is 0.3 % low at 30 °C.
  const magnusPa = (celsius: number) => 611.2 * Math.exp((17.62 * celsius) / (243.12 + celsius));

  test('air at 25 °C and 50 % holds 9.9 g/kg, 50.4 kJ/kg, and sweats below 13.9 °C', () => {
    const ratio = humidityRatio(25 + K, 0.5, ATMOSPHERE_PA);
    expect(Math.abs(ratio - 9.9e-3)).toBeLessThan(0.1e-3);
    expect(Math.abs(moistEnthalpyJPerKg(25 + K, ratio) - 50_400)).toBeLessThan(300);
    expect(Math.abs(dewPointK(ratio, ATMOSPHERE_PA) - (13.9 + K))).toBeLessThan(0.1);
  });

  test.each([
    [10, 0.8, ATMOSPHERE_PA],
    [35, 0.4, ATMOSPHERE_PA],
    [40, 0.65, ATMOSPHERE_PA],
    [30, 0.5, 79_495],
  ])('at %s °C and a relative humidity of %s the ratio is that of the Magnus formula', (celsius, rh, pa) => {
    const vapourPa = rh * magnusPa(celsius);
    const expected = (0.62198 * vapourPa) / (pa - vapourPa);
    expect(Math.abs(humidityRatio(celsius + K, rh, pa) / expected - 1)).toBeLessThan(4e-3);
  });

  test('the dew point of saturated air is its own temperature', () => {
    expect(dewPointK(humidityRatio(12 + K, 1, ATMOSPHERE_PA), ATMOSPHERE_PA)).toBeCloseTo(12 + K, 6);
  });
});

describe('a coil', () => {
  const coil = (relativeHumidity: number, transferUnits = 2) =>
    new Coil({ temperatureK: 30 + K, relativeHumidity, pressurePa: ATMOSPHERE_PA }, 0.12, transferUnits);

  test('dry, takes m·cp·(1 − e^−NTU)·ΔT and leaves the water in the air', () => {
    const duty = coil(0.1).at(10 + K);
    const cp = 1006 + humidityRatio(30 + K, 0.1, ATMOSPHERE_PA) * 1860;
    expect(duty.heatW).toBeCloseTo(0.12 * cp * (1 - Math.exp(-2)) * 20, 6);
    expect(duty.condensateKgPerS).toBe(0);
  });

  test('wet, takes the heat of the condensate on top of that of the cooled air', () => {
    const duty = coil(0.6).at(10 + K);
    const sensibleW = 0.12 * (1006 + 0.016 * 1860) * (30 + K - duty.leavingK);
    expect(duty.condensateKgPerS).toBeGreaterThan(0.0005);
    // 2.52 MJ/kg: vapour at some 10 °C against liquid at 0 °C.
    expect(Math.abs(duty.heatW / (sensibleW + duty.condensateKgPerS * 2.52e6) - 1)).toBeLessThan(0.01);
  });

  test('of endless size brings all the air to its own temperature', () => {
    expect(coil(0.6, 50).at(10 + K).leavingK).toBeCloseTo(10 + K, 6);
  });

  test('as warm as the air does nothing', () => {
    expect(Math.abs(coil(0.5).at(30 + K).heatW)).toBeLessThan(1e-9);
  });

  test('takes more from humid air than from dry: the vent is no measure of the work done', () => {
    const dry = { ...coil(0.2).at(5 + K) };
    const humid = coil(0.7).at(5 + K);
    expect(humid.heatW).toBeGreaterThan(1.8 * dry.heatW);
    expect(humid.leavingK).toBe(dry.leavingK);
  });
});
