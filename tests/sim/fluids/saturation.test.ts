import { describe, expect, it } from 'vitest';
import { findFluid } from '../../../sim/fluids/fluid.ts';
import { SaturationLine } from '../../../sim/fluids/saturation.ts';
import { FLUIDS } from './states.ts';

const CASES = FLUIDS.map((fluid) => [fluid.name, fluid, new SaturationLine(fluid)] as const);

// Computed with CoolProp 8 from the same equations of state, an independent implementation; rounded as shown.
// °C, bar absolute, liquid and vapour density, heat of evaporation in kJ/kg.
const R134A = [
  [-30, 0.8438, 1388.4, 4.426, 219.5],
  [-20, 1.3273, 1358.3, 6.784, 212.9],
  [0, 2.928, 1294.8, 14.43, 198.6],
  [20, 5.7171, 1225.3, 27.78, 182.3],
  [40, 10.166, 1146.7, 50.09, 163.0],
  [60, 16.818, 1052.9, 87.38, 139.1],
] as const;
const R1234YF = [
  [-30, 0.9893, 1264.7, 5.843, 181.1],
  [-20, 1.5086, 1236.3, 8.698, 175.6],
  [0, 3.1588, 1176.1, 17.63, 163.5],
  [20, 5.9184, 1109.7, 32.77, 149.4],
  [40, 10.185, 1033.6, 57.67, 132.4],
  [60, 16.418, 940.6, 99.55, 110.6],
] as const;

describe('the saturation line', () => {
  it.each([
    ['R-134a', R134A],
    ['R-1234yf', R1234YF],
  ] as const)('of %s gives the values of an independent implementation', (name, rows) => {
    const line = new SaturationLine(findFluid(name)!);
    for (const [celsius, bar, liquidDensity, vapourDensity, latentKJ] of rows) {
      const { pressurePa, liquid, vapour } = line.at(celsius + 273.15);
      expect(Math.abs(pressurePa / 1e5 / bar - 1)).toBeLessThan(6e-5);
      expect(Math.abs(liquid.densityKgPerM3 - liquidDensity)).toBeLessThan(0.051);
      expect(Math.abs(vapour.densityKgPerM3 / vapourDensity - 1)).toBeLessThan(3e-4);
      expect(Math.abs((vapour.enthalpyJPerKg - liquid.enthalpyJPerKg) / 1000 - latentKJ)).toBeLessThan(0.051);
    }
  });

  // ASHRAE Handbook, Fundamentals, thermophysical properties of R-134a (which follow Tillner-Roth & Baehr); the
  // figures are quoted from memory: °C, MPa, kg/m³, m³/kg, kJ/kg and kJ/(kg·K) of liquid and vapour.
  it.each([
    [0, 0.2928, 1294.8, 0.06931, 200.0, 398.6, 1.0, 1.7271],
    [20, 0.57171, 1225.3, 0.036, 227.47, 409.75, 1.0962, 1.718],
    [40, 1.0166, 1146.7, 0.01997, 256.41, 419.43, 1.1905, 1.7111],
    [60, 1.6818, 1052.9, 0.01144, 287.5, 426.63, 1.2848, 1.7024],
  ])('of R-134a gives the handbook table at %s °C', (celsius, mpa, rho, volume, hL, hV, sL, sV) => {
    const { pressurePa, liquid, vapour } = new SaturationLine(findFluid('R-134a')!).at(celsius + 273.15);
    expect(pressurePa / 1e6 / mpa).toBeCloseTo(1, 3);
    expect(liquid.densityKgPerM3).toBeCloseTo(rho, 0);
    expect(1 / vapour.densityKgPerM3 / volume).toBeCloseTo(1, 2);
    expect(liquid.enthalpyJPerKg / 1000).toBeCloseTo(hL, 1);
    expect(vapour.enthalpyJPerKg / 1000).toBeCloseTo(hV, 1);
    expect(liquid.entropyJPerKgK / 1000).toBeCloseTo(sL, 3);
    expect(vapour.entropyJPerKgK / 1000).toBeCloseTo(sV, 3);
  });

  // Normal boiling points by CoolProp 8 from the same equations.
  it.each([
    ['R-134a', -26.07],
    ['R-1234yf', -29.46],
  ])('of %s boils at 101.325 kPa at %s °C', (name, celsius) => {
    const point = new SaturationLine(findFluid(name)!).atPressure(101_325);
    expect(point.temperatureK - 273.15).toBeCloseTo(celsius, 2);
  });

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
