import { describe, expect, it } from 'vitest';
import { AIR, airViscosityPaS, barometerPa } from '../../../sim/fluids/air.ts';

describe('the standard atmosphere', () => {
  // ISO 2533, pressure over geopotential altitude, hPa.
  it.each([
    [-500, 1074.78],
    [0, 1013.25],
    [500, 954.61],
    [1000, 898.75],
    [1500, 845.56],
    [2000, 794.95],
    [3000, 701.09],
    [4000, 616.4],
  ])('has at %s m the pressure of ISO 2533', (altitudeM, hPa) => {
    expect(barometerPa(altitudeM) / 100).toBeCloseTo(hPa, 1);
  });
});

describe('air', () => {
  // ISO 2533 at 15 °C: density 1.225 kg/m³, dynamic viscosity 1.7894e-5 Pa·s, speed of sound 340.294 m/s.
  it('has at 15 °C the density, viscosity and speed of sound of ISO 2533', () => {
    expect(101_325 / (AIR.gasConstantJPerKgK * 288.15)).toBeCloseTo(1.225, 4);
    expect(airViscosityPaS(288.15) * 1e5).toBeCloseTo(1.7894, 4);
    const ratio = AIR.cpJPerKgK / AIR.cvJPerKgK;
    expect(Math.sqrt(ratio * AIR.gasConstantJPerKgK * 288.15)).toBeCloseTo(340.294, 0);
  });
});
