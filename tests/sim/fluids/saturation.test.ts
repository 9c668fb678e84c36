import { describe, expect, it } from 'vitest';
import { SaturationLine } from '../../../sim/fluids/saturation.ts';
import { FLUIDS } from './states.ts';

const CASES = FLUIDS.map((fluid) => [fluid.name, fluid, new SaturationLine(fluid)] as const);

describe('the saturation line', () => {
  it.each(CASES)(
    'of %s balances pressure and Gibbs energy from 170 K to 1 K below critical and beyond',
    (_, fluid, line) => {
      const last = fluid.criticalTemperatureK - 0.01;
      for (let t = 170; t < last; t += t < last - 2 ? 0.7 : 0.05) {
        const { liquid, vapour, pressurePa } = line.at(t);
        // The liquid is so stiff that rounding of its density alone is worth some pascals' fraction.
        expect(Math.abs(liquid.pressurePa - vapour.pressurePa)).toBeLessThan(
          1e-9 * pressurePa + 1e-12 * liquid.dPdRho * 1500,
        );
        expect(Math.abs(liquid.gibbsEnergyJPerKg - vapour.gibbsEnergyJPerKg)).toBeLessThan(1e-5);
        expect(liquid.densityKgPerM3).toBeGreaterThan(fluid.criticalDensityKgPerM3);
        expect(vapour.densityKgPerM3).toBeLessThan(fluid.criticalDensityKgPerM3);
        expect(Math.min(liquid.dPdRho, vapour.dPdRho)).toBeGreaterThan(0);
      }
    },
  );

  it.each(CASES)(
    'of %s has the slope that Clapeyron asks for, against differences of the pressure',
    (_, fluid, line) => {
      for (let t = 180; t < fluid.criticalTemperatureK - 1; t += 5) {
        const h = 0.01;
        const slope = (line.at(t + h).pressurePa - line.at(t - h).pressurePa) / (2 * h);
        expect(Math.abs(line.at(t).dPdT / slope - 1)).toBeLessThan(1e-6);
      }
    },
  );

  it.each(CASES)('of %s is the same by pressure as by temperature', (_, fluid, line) => {
    for (let t = 172; t < fluid.criticalTemperatureK - 0.5; t += 3.3) {
      expect(line.atPressure(line.at(t).pressurePa).temperatureK).toBeCloseTo(t, 7);
    }
  });

  it.each(CASES)('of %s refuses temperatures and pressures where there is none', (_, fluid, line) => {
    expect(() => line.at(fluid.criticalTemperatureK + 0.1)).toThrow(RangeError);
    expect(() => line.at(fluid.minimumTemperatureK - 0.1)).toThrow(RangeError);
    expect(() => line.at(Number.NaN)).toThrow(RangeError);
    expect(() => line.atPressure(fluid.criticalPressurePa * 1.01)).toThrow(RangeError);
    expect(() => line.atPressure(0)).toThrow(RangeError);
  });
});
