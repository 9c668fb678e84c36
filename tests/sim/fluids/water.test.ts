import { describe, expect, it } from 'vitest';
import {
  WATER_VAPOUR,
  waterLatentHeatJPerKg,
  waterSaturationTemperatureK,
  waterVapourPressurePa,
  waterVapourPressureSlope,
} from '../../../sim/fluids/water.ts';

const off = (value: number, reference: number) => Math.abs(value / reference - 1);

describe('the vapour pressure of water', () => {
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
    expect(() => waterSaturationTemperatureK(0)).toThrow(RangeError);
    expect(() => waterSaturationTemperatureK(Number.NaN)).toThrow(RangeError);
  });
});

describe('the latent heat of water', () => {
  it('grows by the heat of melting where ice begins', () => {
    expect(waterLatentHeatJPerKg(273.159) - waterLatentHeatJPerKg(273.161)).toBeCloseTo(333_600, -4);
  });
});

describe('water vapour', () => {
  it('has a cv below its cp by its gas constant', () => {
    expect(WATER_VAPOUR.cpJPerKgK - WATER_VAPOUR.cvJPerKgK).toBeCloseTo(WATER_VAPOUR.gasConstantJPerKgK, 9);
  });
});
