import { describe, expect, it } from 'vitest';
import { findFluid } from '../../../sim/fluids/fluid.ts';
import { SaturationLine } from '../../../sim/fluids/saturation.ts';
import { FLUIDS, uniform } from './states.ts';

/** Relative difference. */
const off = (value: number, reference: number) => Math.abs(value / reference - 1);

describe('the refrigerants there are', () => {
  it('are found whatever the case and dashes of their name', () => {
    expect(findFluid('R-134a')?.name).toBe('R-134a');
    expect(findFluid('r134A')?.name).toBe('R-134a');
    expect(findFluid('r1234yf')?.name).toBe('R-1234yf');
    expect(findFluid('R-12')).toBeUndefined();
  });

  it('carry the safety class of ISO 817', () => {
    expect(findFluid('R-134a')?.safetyClass).toBe('A1');
    expect(findFluid('R-1234yf')?.safetyClass).toBe('A2L');
  });
});

describe('the equation of state', () => {
  it.each(FLUIDS.map((fluid) => [fluid.name, fluid] as const))(
    'of %s has slope and bend of its isotherm vanish at its critical point',
    (_, fluid) => {
      const { equation, criticalTemperatureK: tc, criticalDensityKgPerM3: rho } = fluid;
      const idealSlope = fluid.gasConstantJPerKgK * tc;
      expect(Math.abs(equation.at(tc, rho).dPdRho / idealSlope)).toBeLessThan(1e-9);
      const bend = (equation.at(tc, rho * 1.001).dPdRho - equation.at(tc, rho * 0.999).dPdRho) / 0.002;
      expect(Math.abs(bend / idealSlope)).toBeLessThan(1e-3);
    },
  );

  it.each(FLUIDS.map((fluid) => [fluid.name, fluid] as const))(
    'of %s counts from the IIR reference: 200 kJ/kg and 1 kJ/(kg·K) of saturated liquid at 0 °C',
    (_, fluid) => {
      const { liquid } = new SaturationLine(fluid).at(273.15);
      expect(liquid.enthalpyJPerKg).toBeCloseTo(200_000, 0);
      expect(liquid.entropyJPerKgK).toBeCloseTo(1000, 3);
    },
  );

  it.each(FLUIDS.map((fluid) => [fluid.name, fluid] as const))(
    'of %s becomes the ideal gas when thin',
    (_, fluid) => {
      const state = fluid.equation.at(300, 1e-6);
      const ideal = fluid.equation.idealGas(300);
      expect(off(state.pressurePa, 1e-6 * fluid.gasConstantJPerKgK * 300)).toBeLessThan(1e-8);
      expect(off(state.internalEnergyJPerKg, ideal.internalEnergyJPerKg)).toBeLessThan(1e-8);
      expect(off(state.cpJPerKgK - state.cvJPerKgK, fluid.gasConstantJPerKgK)).toBeLessThan(1e-7);
    },
  );
});

describe.each(FLUIDS.map((fluid) => [fluid.name, fluid] as const))(
  'thermodynamic consistency of %s',
  (_, fluid) => {
    const random = uniform(7);
    const { equation } = fluid;
    // Anywhere: the identities hold in metastable and unstable states as well.
    const states = Array.from({ length: 300 }, () => ({
      t: 200 + 200 * random(),
      rho: 0.01 * (1500 / 0.01) ** random(),
    }));
    const slope = (f: (x: number) => number, x: number, h: number) =>
      (8 * (f(x + h) - f(x - h)) - (f(x + 2 * h) - f(x - 2 * h))) / (12 * h);

    it('holds each heat capacity and slope to a difference quotient of what it is the slope of', () => {
      for (const { t, rho } of states) {
        const state = equation.at(t, rho);
        const cv = slope((x) => equation.at(x, rho).internalEnergyJPerKg, t, 0.02);
        expect(off(state.cvJPerKgK, cv)).toBeLessThan(1e-5);
        const dPdT = slope((x) => equation.at(x, rho).pressurePa, t, 0.02);
        expect(Math.abs(state.dPdT - dPdT)).toBeLessThan(
          1e-5 * rho * fluid.gasConstantJPerKgK + 1e-6 * Math.abs(dPdT),
        );
        const dPdRho = slope((x) => equation.at(t, x).pressurePa, rho, 1e-4 * rho);
        expect(Math.abs(state.dPdRho - dPdRho)).toBeLessThan(
          1e-6 * (fluid.gasConstantJPerKgK * t + Math.abs(state.dPdRho)),
        );
      }
    });

    it('obeys du = T ds − p dv along both axes, with entropy and energy differenced separately', () => {
      for (const { t, rho } of states) {
        const state = equation.at(t, rho);
        const dSdT = slope((x) => equation.at(x, rho).entropyJPerKgK, t, 0.02);
        expect(off(t * dSdT, state.cvJPerKgK)).toBeLessThan(1e-5);
        const dSdRho = slope((x) => equation.at(t, x).entropyJPerKgK, rho, 1e-4 * rho);
        const dUdRho = slope((x) => equation.at(t, x).internalEnergyJPerKg, rho, 1e-4 * rho);
        const scale = (fluid.gasConstantJPerKgK * t) / rho + Math.abs(dUdRho);
        expect(Math.abs(dUdRho - t * dSdRho - state.pressurePa / rho ** 2)).toBeLessThan(1e-5 * scale);
        // Maxwell: (∂s/∂v)_T = (∂p/∂T)_v
        expect(Math.abs(dSdRho * rho ** 2 + state.dPdT)).toBeLessThan((1e-5 * (rho * rho * scale)) / t);
      }
    });

    it('has Gibbs energy and enthalpy that agree with their definitions', () => {
      for (const { t, rho } of states) {
        const state = equation.at(t, rho);
        expect(state.enthalpyJPerKg).toBeCloseTo(state.internalEnergyJPerKg + state.pressurePa / rho, 3);
        const gibbs = state.enthalpyJPerKg - t * state.entropyJPerKgK;
        expect(Math.abs(state.gibbsEnergyJPerKg - gibbs)).toBeLessThan(
          1e-9 * (Math.abs(state.enthalpyJPerKg) + t * 1000),
        );
      }
    });

    it('has the speed of sound of the isentrope, found by moving along constant entropy', () => {
      for (const [t, rho] of [
        [300, 5],
        [300, 1250],
        [390, 400],
      ] as const) {
        const state = equation.at(t, rho);
        // dT along the isentrope for a small change of density, by Newton on the entropy.
        const along = (x: number) => {
          let warm = t;
          for (let i = 0; i < 20; i++) {
            const here = equation.at(warm, x);
            warm -= ((here.entropyJPerKgK - state.entropyJPerKgK) * warm) / here.cvJPerKgK;
          }
          return equation.at(warm, x).pressurePa;
        };
        expect(off(state.soundSpeedSquaredM2PerS2, slope(along, rho, 1e-3 * rho))).toBeLessThan(1e-6);
      }
    });
  },
);
