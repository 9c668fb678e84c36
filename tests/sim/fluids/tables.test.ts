import { describe, expect, it } from 'vitest';
import {
  newPropertyState,
  newSaturationState,
  type PropertyState,
} from '../../../sim/fluids/property-state.ts';
import { SaturationLine } from '../../../sim/fluids/saturation.ts';
import { FluidTables } from '../../../sim/fluids/tables.ts';
import { diluteGasViscosityPaS } from '../../../sim/fluids/viscosity.ts';
import { FLUIDS, randomStates, uniform } from './states.ts';

const CASES = FLUIDS.map(
  (fluid) =>
    [fluid.name, { fluid, line: new SaturationLine(fluid), tables: new FluidTables(fluid) }] as const,
);
const WHOLE = { temperatureK: [170, 410], densityKgPerM3: [1e-6, 1600] } as const;
/** Where the flash is promised: −50 to 95 °C. */
const SERVICE = { temperatureK: [223.15, 368.15], densityKgPerM3: [0.01, 1300] } as const;

describe.each(CASES)('the property tables of %s', (_, { fluid, line, tables }) => {
  const out = newPropertyState();

  it('stay within 1e-6 in pressure, or 5 Pa in liquid, and 0.05 J/kg of the equation over their whole range', () => {
    for (const state of randomStates(fluid, line, WHOLE, 6000, 11)) {
      tables.evaluate(state.densityKgPerM3, state.temperatureK, out);
      const allowed =
        state.region === 'liquid' ? 5 + 1e-7 * Math.abs(state.pressurePa) : 1e-6 * state.pressurePa;
      expect(Math.abs(out.pressurePa - state.pressurePa), JSON.stringify(state)).toBeLessThan(allowed);
      expect(
        Math.abs(out.internalEnergyJPerKg - state.internalEnergyJPerKg),
        JSON.stringify(state),
      ).toBeLessThan(0.05);
      expect(Math.abs(out.quality - state.quality)).toBeLessThan(1e-6);
    }
  });

  it('find temperature within 1 mK and pressure within 5e-6, or 20 Pa in liquid, from density and energy', () => {
    for (const state of randomStates(fluid, line, SERVICE, 6000, 12)) {
      const temperatureK = tables.flash(state.densityKgPerM3, state.internalEnergyJPerKg, out);
      expect(Math.abs(temperatureK - state.temperatureK), JSON.stringify(state)).toBeLessThan(1e-3);
      const allowed =
        state.region === 'liquid' ? 20 + 1e-6 * Math.abs(state.pressurePa) : 5e-6 * state.pressurePa;
      expect(Math.abs(out.pressurePa - state.pressurePa), JSON.stringify(state)).toBeLessThan(allowed);
      expect(Math.abs(out.quality - state.quality)).toBeLessThan(1e-5);
      expect(out.internalEnergyJPerKg).toBeCloseTo(state.internalEnergyJPerKg, 3);
    }
  });

  it('hold up near the critical point: flash and equation agree within 1 mK there too', () => {
    const random = uniform(13);
    for (let i = 0; i < 1000; i++) {
      const temperatureK = fluid.criticalTemperatureK + 8 * (random() - 0.5);
      const density = fluid.criticalDensityKgPerM3 * (0.4 + 1.4 * random());
      tables.evaluate(density, temperatureK, out);
      const { internalEnergyJPerKg: energy, pressurePa } = out;
      expect(Math.abs(tables.flash(density, energy, out) - temperatureK)).toBeLessThan(1e-3);
      expect(Math.abs(out.pressurePa / pressurePa - 1)).toBeLessThan(1e-5);
    }
  });

  it('give slopes that are those of their own values, so that Newton lands where it aims', () => {
    const lower = newPropertyState();
    const upper = newPropertyState();
    const difference = (key: keyof PropertyState, span: number) => (upper[key] - lower[key]) / span;
    for (const { densityKgPerM3: rho, temperatureK: t, region } of randomStates(
      fluid,
      line,
      SERVICE,
      2000,
      14,
    )) {
      const dT = 1e-3;
      const dRho = 1e-5 * rho;
      // Differences across the dome's border would mix two regions.
      const corners = [
        [rho, t - dT],
        [rho, t + dT],
        [rho - dRho, t],
        [rho + dRho, t],
      ] as const;
      const mixed = corners.map(([density, temperature]) => {
        tables.evaluate(density, temperature, lower);
        return lower.quality > 0 && lower.quality < 1;
      });
      if (mixed.some((inside) => inside !== (region === 'dome'))) continue;
      tables.evaluate(rho, t, out);
      tables.evaluate(rho, t - dT, lower);
      tables.evaluate(rho, t + dT, upper);
      expect(Math.abs(difference('pressurePa', 2 * dT) / out.dPdT - 1)).toBeLessThan(1e-4);
      expect(Math.abs(difference('internalEnergyJPerKg', 2 * dT) / out.dUdT - 1)).toBeLessThan(1e-4);
      tables.evaluate(rho - dRho, t, lower);
      tables.evaluate(rho + dRho, t, upper);
      const idealSlope = fluid.gasConstantJPerKgK * t;
      expect(Math.abs(difference('pressurePa', 2 * dRho) - out.dPdRho)).toBeLessThan(
        1e-4 * (out.dPdRho + 0.01 * idealSlope),
      );
      expect(Math.abs(difference('internalEnergyJPerKg', 2 * dRho) - out.dUdRho)).toBeLessThan(
        1e-4 * Math.abs(out.dUdRho) + (1e-6 * idealSlope) / rho,
      );
    }
  });

  it('meet at the dome border: pressure within 1e-6 for gas and 5 Pa for liquid, energy within 0.05 J/kg', () => {
    const saturation = newSaturationState();
    const other = newPropertyState();
    for (let t = 170; t < fluid.criticalTemperatureK - 0.5; t += 0.137) {
      tables.saturation(t, saturation);
      const { liquidDensityKgPerM3: liquid, vapourDensityKgPerM3: vapour } = saturation;
      for (const [density, inside, allowedPa] of [
        [vapour * (1 - 1e-12), vapour * (1 + 1e-12), 1e-6 * saturation.pressurePa],
        [liquid * (1 + 1e-12), liquid * (1 - 1e-12), 5],
      ] as const) {
        tables.evaluate(density, t, out);
        tables.evaluate(inside, t, other);
        expect(Math.abs(out.pressurePa - other.pressurePa), `${t} K`).toBeLessThan(allowedPa);
        expect(Math.abs(out.internalEnergyJPerKg - other.internalEnergyJPerKg), `${t} K`).toBeLessThan(0.05);
      }
    }
  });

  it('do not jump where one cell of theirs ends and the next begins', () => {
    const other = newPropertyState();
    // The cells are 8 kg/m³ by 1.5 K.
    for (let density = 8; density < 1600; density += 8) {
      for (const temperature of [371, 381.5, 400]) {
        tables.evaluate(density * (1 - 1e-13), temperature, out);
        tables.evaluate(density * (1 + 1e-13), temperature, other);
        expect(Math.abs(out.pressurePa / other.pressurePa - 1)).toBeLessThan(1e-9);
        expect(Math.abs(out.dPdT / other.dPdT - 1)).toBeLessThan(1e-9);
        expect(Math.abs(out.dPdRho - other.dPdRho)).toBeLessThan(1e-9 * (out.dPdRho + 1e4));
      }
    }
    for (let temperature = 171.5; temperature < 410; temperature += 1.5) {
      tables.evaluate(0.02, temperature - 1e-11, out);
      tables.evaluate(0.02, temperature + 1e-11, other);
      expect(Math.abs(out.pressurePa / other.pressurePa - 1)).toBeLessThan(1e-9);
      expect(Math.abs(out.dUdT / other.dUdT - 1)).toBeLessThan(1e-9);
    }
  });

  it('have an energy that rises with temperature and a pressure that never falls with density', () => {
    for (let density = 0.01; density < 1600; density *= 1.08) {
      let last = Number.NEGATIVE_INFINITY;
      for (let t = 170; t <= 410; t += 0.83) {
        tables.evaluate(density, t, out);
        expect(out.internalEnergyJPerKg).toBeGreaterThan(last);
        expect(out.dUdT).toBeGreaterThan(0);
        expect(out.dPdRho).toBeGreaterThanOrEqual(0);
        expect(Object.values(out).every(Number.isFinite)).toBe(true);
        last = out.internalEnergyJPerKg;
      }
    }
  });

  it('reach down to no refrigerant at all: pressure 0 and ideal gas', () => {
    tables.evaluate(0, 300, out);
    expect(out.pressurePa).toBe(0);
    expect(out.internalEnergyJPerKg).toBeCloseTo(fluid.equation.idealGas(300).internalEnergyJPerKg, 2);
    expect(out.dPdRho).toBeCloseTo(fluid.gasConstantJPerKgK * 300, 6);
    tables.evaluate(1e-6, 300, out);
    expect(out.pressurePa).toBeCloseTo(1e-6 * fluid.gasConstantJPerKgK * 300, 8);
  });

  it('follow the exact saturation line within 1e-7 in pressure, 1e-6 in density and 0.05 J/kg in energy', () => {
    const saturation = newSaturationState();
    for (let t = 170.3; t < fluid.criticalTemperatureK - 1; t += 0.71) {
      tables.saturation(t, saturation);
      const { pressurePa, dPdT, liquid, vapour } = line.at(t);
      expect(Math.abs(saturation.pressurePa / pressurePa - 1)).toBeLessThan(1e-7);
      expect(Math.abs(saturation.dPdT / dPdT - 1)).toBeLessThan(1e-5);
      expect(Math.abs(saturation.liquidDensityKgPerM3 / liquid.densityKgPerM3 - 1)).toBeLessThan(1e-6);
      expect(Math.abs(saturation.vapourDensityKgPerM3 / vapour.densityKgPerM3 - 1)).toBeLessThan(1e-6);
      expect(saturation.liquidInternalEnergyJPerKg).toBeCloseTo(liquid.internalEnergyJPerKg, 1);
      expect(saturation.vapourInternalEnergyJPerKg).toBeCloseTo(vapour.internalEnergyJPerKg, 1);
      expect(saturation.liquidEnthalpyJPerKg).toBeCloseTo(liquid.enthalpyJPerKg, 1);
      expect(saturation.vapourEnthalpyJPerKg).toBeCloseTo(vapour.enthalpyJPerKg, 1);
      expect(saturation.liquidEntropyJPerKgK).toBeCloseTo(liquid.entropyJPerKgK, 2);
      expect(saturation.vapourEntropyJPerKgK).toBeCloseTo(vapour.entropyJPerKgK, 2);
      expect(tables.saturationTemperatureK(saturation.pressurePa)).toBeCloseTo(t, 7);
    }
    tables.saturation(fluid.criticalTemperatureK, saturation);
    expect(saturation.pressurePa / fluid.criticalPressurePa).toBeCloseTo(1, 9);
    expect(saturation.liquidDensityKgPerM3).toBeCloseTo(saturation.vapourDensityKgPerM3, 3);
  });

  it('answer states at their very ends and refuse those beyond, naming what was asked', () => {
    for (const t of [tables.minimumTemperatureK, tables.maximumTemperatureK]) {
      for (const density of [1e-3, 1, 500, 1300, tables.maximumDensityKgPerM3]) {
        tables.evaluate(density, t, out);
        const energy = out.internalEnergyJPerKg;
        expect(tables.flash(density, energy, out)).toBeCloseTo(t, 6);
        const beyond = energy + (t > 300 ? 100 : -100);
        expect(() => tables.flash(density, beyond, out)).toThrow(RangeError);
        expect(() => tables.flash(density, beyond, out)).toThrow(`${density} kg/m³`);
      }
    }
    for (const [density, t] of [
      [-1e-9, 300],
      [1601, 300],
      [1, 169],
      [1, 411],
      [Number.NaN, 300],
      [1, Number.NaN],
    ] as const) {
      expect(() => tables.evaluate(density, t, out)).toThrow(RangeError);
    }
    expect(() => tables.flash(1, Number.NaN, out)).toThrow(RangeError);
    expect(() => tables.saturation(fluid.criticalTemperatureK + 0.01, newSaturationState())).toThrow(
      RangeError,
    );
    expect(() => tables.saturationTemperatureK(fluid.criticalPressurePa * 1.001)).toThrow(RangeError);
    expect(() => tables.saturationTemperatureK(Number.NaN)).toThrow(RangeError);
  });
});

describe('the viscosity of thin vapour', () => {
  it.each(CASES)(
    'of %s is the correlation itself within 2e-6 between the nodes of the table',
    (_, { fluid, tables }) => {
      for (let t = 170; t <= 410; t += 0.37) {
        const exact = diluteGasViscosityPaS(fluid.diluteGasViscosity, t);
        expect(Math.abs(tables.vapourViscosityPaS(t) / exact - 1)).toBeLessThan(2e-6);
      }
    },
  );

  it.each(CASES)(
    'of %s rises with temperature nearly as fast as temperature itself, as a gas does',
    (_, { tables }) => {
      const exponent =
        Math.log(tables.vapourViscosityPaS(330) / tables.vapourViscosityPaS(270)) / Math.log(330 / 270);
      expect(exponent).toBeGreaterThan(0.8);
      expect(exponent).toBeLessThan(1.1);
    },
  );
});
