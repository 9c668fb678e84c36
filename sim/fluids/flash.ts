// The exact state at a density and internal energy, from the equation of state itself.
import type { Fluid } from './fluid.ts';
import { type Phase, phaseOf } from './phase.ts';
import type { SaturationLine } from './saturation.ts';

export type FlashResult = {
  readonly temperatureK: number;
  readonly pressurePa: number;
  /** Vapour mass fraction: 1 in gas, 0 in liquid; above the critical temperature by the critical density. */
  readonly quality: number;
  readonly phase: Phase;
};

const MAX_ITERATIONS = 200;

/** Equilibrium at a density and temperature: one phase from the equation, two phases by the lever rule. */
export function equilibriumAt(
  fluid: Fluid,
  line: SaturationLine,
  densityKgPerM3: number,
  temperatureK: number,
) {
  if (temperatureK <= line.maximumTemperatureK) {
    const { liquid, vapour, pressurePa, dPdT } = line.at(temperatureK);
    if (densityKgPerM3 > vapour.densityKgPerM3 && densityKgPerM3 < liquid.densityKgPerM3) {
      const volume = 1 / densityKgPerM3 - 1 / liquid.densityKgPerM3;
      const quality = volume / (1 / vapour.densityKgPerM3 - 1 / liquid.densityKgPerM3);
      const latentEnergy = vapour.internalEnergyJPerKg - liquid.internalEnergyJPerKg;
      return {
        temperatureK,
        pressurePa,
        dPdT,
        quality,
        internalEnergyJPerKg: liquid.internalEnergyJPerKg + quality * latentEnergy,
      };
    }
  }
  const { pressurePa, internalEnergyJPerKg, dPdT } = fluid.equation.at(temperatureK, densityKgPerM3);
  const quality = densityKgPerM3 < fluid.criticalDensityKgPerM3 ? 1 : 0;
  return { temperatureK, pressurePa, dPdT, quality, internalEnergyJPerKg };
}

/**
 * Finds the temperature by regula falsi with bisection (energy rises with temperature at constant density), to
 * rounding. Slow and sure: the tables are held to it.
 * @throws RangeError when no temperature of the equation's range has that energy
 */
export function exactFlash(
  fluid: Fluid,
  line: SaturationLine,
  densityKgPerM3: number,
  internalEnergyJPerKg: number,
): FlashResult {
  const excess = (temperatureK: number) =>
    equilibriumAt(fluid, line, densityKgPerM3, temperatureK).internalEnergyJPerKg - internalEnergyJPerKg;
  let low = line.minimumTemperatureK;
  let high = fluid.maximumTemperatureK;
  let atLow = densityKgPerM3 > 0 ? excess(low) : Number.NaN;
  let atHigh = excess(high);
  if (!(atLow <= 0 && atHigh >= 0)) {
    throw new RangeError(
      `${fluid.name} at ${densityKgPerM3} kg/m³ has no temperature between ${low} and ${high} K with ` +
        `${internalEnergyJPerKg} J/kg`,
    );
  }
  for (let i = 0; i < MAX_ITERATIONS && high - low > 1e-11 * high; i++) {
    const share = atLow / (atLow - atHigh);
    // Every third turn halves the bracket, so that one stiff side cannot hold it open.
    const t = i % 3 === 2 || !(share > 0 && share < 1) ? (low + high) / 2 : low + share * (high - low);
    const there = excess(t);
    if (there === 0) {
      low = t;
      high = t;
    } else if (there < 0) {
      low = t;
      atLow = there;
    } else {
      high = t;
      atHigh = there;
    }
  }
  const state = equilibriumAt(fluid, line, densityKgPerM3, (low + high) / 2);
  const { temperatureK, pressurePa, quality } = state;
  return { temperatureK, pressurePa, quality, phase: phaseOf(fluid, state) };
}
