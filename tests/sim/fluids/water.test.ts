import { describe, expect, it } from 'vitest';
import {
  WATER_VAPOUR,
  waterLatentHeatJPerKg,
  waterSaturationTemperatureK,
  waterVapourPressurePa,
  waterVapourPressureSlope,
  waterVapourViscosityPaS,
} from '../../../sim/fluids/water.ts';

const off = (value: number, reference: number) => Math.abs(value / reference - 1);

describe('the vapour pressure of water', () => {
  // IAPWS SR1-86 (Wagner and Pruss 1993): triple point 611.657 Pa, normal boiling point 373.1243 K at 101.325 kPa.
  it('meets the triple point and the normal boiling point of the IAPWS release', () => {
    expect(off(waterVapourPressurePa(273.16), 611.657)).toBeLessThan(1e-6);
    expect(off(waterVapourPressurePa(373.1243), 101_325)).toBeLessThan(1e-6);
  });

  // IAPWS-IF97, table 35 (another equation, fitted to the same data): 300 K, 500 K and 600 K.
  it.each([
    [300, 0.353658941e-2],
    [500, 0.263889776e1],
    [600, 0.123443146e2],
  ])('is within two parts in ten thousand of IAPWS-IF97 at %s K', (temperatureK, mpa) => {
    expect(off(waterVapourPressurePa(temperatureK), mpa * 1e6)).toBeLessThan(2e-4);
  });

  // IAPWS R14-08, sublimation pressure check value at 230 K (quoted from memory): 8.94735 Pa.
  it('over ice is within 0.05 % of the IAPWS sublimation pressure at 230 K', () => {
    expect(off(waterVapourPressurePa(230), 8.94735)).toBeLessThan(5e-4);
  });

  // IAPWS R14-08, sublimation-pressure equation, written out here as a second implementation.
  it('over ice follows the IAPWS sublimation equation from −60 °C to the triple point', () => {
    const iapws = (temperatureK: number) => {
      const theta = temperatureK / 273.16;
      const terms = [
        [-21.2144006, 0.00333333333],
        [27.3203819, 1.20666667],
        [-6.1059813, 1.70333333],
      ] as const;
      const sum = terms.reduce((total, [a, b]) => total + a * theta ** b, 0);
      return 611.657 * Math.exp(sum / theta);
    };
    for (let t = 213.15; t < 273.16; t += 5)
      expect(off(waterVapourPressurePa(t), iapws(t))).toBeLessThan(5e-4);
  });

  it('has ice and liquid meet at the triple point without a jump that a solver could see', () => {
    const below = waterVapourPressurePa(273.16 - 1e-9);
    expect(off(below, waterVapourPressurePa(273.16))).toBeLessThan(1e-6);
    expect(waterVapourPressurePa(263.15)).toBeCloseTo(259.89, 1);
  });

  it('has the slope of its own differences', () => {
    for (const t of [230, 260, 272, 280, 300, 350]) {
      const quotient = (waterVapourPressurePa(t + 0.001) - waterVapourPressurePa(t - 0.001)) / 0.002;
      expect(off(waterVapourPressureSlope(t), quotient)).toBeLessThan(1e-7);
    }
  });

  it('is undone by the saturation temperature, over ice and over liquid', () => {
    for (let t = 200; t < 420; t += 7) {
      expect(waterSaturationTemperatureK(waterVapourPressurePa(t))).toBeCloseTo(t, 8);
    }
    // 500 and 1000 micron of mercury, over ice.
    expect(waterSaturationTemperatureK(66.66) - 273.15).toBeCloseTo(-24.5, 1);
    expect(waterSaturationTemperatureK(133.32) - 273.15).toBeCloseTo(-17.3, 1);
    expect(() => waterSaturationTemperatureK(0)).toThrow(RangeError);
    expect(() => waterSaturationTemperatureK(Number.NaN)).toThrow(RangeError);
  });
});

describe('the latent heat of water', () => {
  // Steam tables (IAPWS-95, handbook figures): 2441.7 kJ/kg at 25 °C, 2308 kJ/kg at 80 °C; sublimation 2834 kJ/kg at 0 °C.
  it.each([
    [298.15, 2.4417e6, 0.002],
    [353.15, 2.308e6, 0.012],
    [273.15, 2.834e6, 0.002],
  ])('at %s K is that of the steam tables within what ideal vapour allows', (t, reference, tolerance) => {
    expect(off(waterLatentHeatJPerKg(t), reference)).toBeLessThan(tolerance);
  });

  it('grows by the heat of melting where ice begins', () => {
    expect(waterLatentHeatJPerKg(273.159) - waterLatentHeatJPerKg(273.161)).toBeCloseTo(333_600, -4);
  });
});

describe('water vapour', () => {
  it('has the gas constant of 18.015 g/mol and a cv below its cp by that constant', () => {
    expect(off(WATER_VAPOUR.gasConstantJPerKgK, 8.314462618 / 0.018015268)).toBeLessThan(2e-5);
    expect(WATER_VAPOUR.cpJPerKgK - WATER_VAPOUR.cvJPerKgK).toBeCloseTo(WATER_VAPOUR.gasConstantJPerKgK, 9);
  });
});

describe('the viscosity of water vapour', () => {
  // IAPWS R12-08, table of check values at 1 kg/m³ less the density term: 298.15 K dilute gas near 9.7 µPa·s (handbook
  // tables give 9.7 to 9.9 at 20 to 25 °C), and 12.27 µPa·s at 373.15 K (from memory of the steam tables: 12.2 to 12.3).
  it('is that of the steam tables at room temperature and at 100 °C within 2 %', () => {
    expect(off(waterVapourViscosityPaS(293.15) * 1e6, 9.7)).toBeLessThan(0.02);
    expect(off(waterVapourViscosityPaS(373.15) * 1e6, 12.27)).toBeLessThan(0.02);
  });
});
