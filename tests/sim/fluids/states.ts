// Seeded random states for the property tests, drawn where tables tend to fail.
import { equilibriumAt } from '../../../sim/fluids/flash.ts';
import { FLUID_NAMES, type Fluid, findFluid } from '../../../sim/fluids/fluid.ts';
import type { SaturationLine } from '../../../sim/fluids/saturation.ts';

export const FLUIDS: readonly Fluid[] = FLUID_NAMES.map((name) => findFluid(name)!);

/** Uniform numbers in [0, 1): a linear congruential generator, Numerical Recipes constants. */
export function uniform(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

export type State = {
  readonly densityKgPerM3: number;
  readonly temperatureK: number;
  readonly region: 'gas' | 'dome' | 'liquid';
  /** Exact values. */
  readonly pressurePa: number;
  readonly internalEnergyJPerKg: number;
  readonly quality: number;
};

type Range = {
  readonly temperatureK: readonly [number, number];
  readonly densityKgPerM3: readonly [number, number];
};

/** Log-uniform and uniform densities, and both sides of both dome borders down to a relative distance of 1e-6. */
export function* randomStates(fluid: Fluid, line: SaturationLine, range: Range, count: number, seed: number) {
  const random = uniform(seed);
  const [coldest, warmest] = range.temperatureK;
  const [thinnest, densest] = range.densityKgPerM3;
  for (let made = 0, tried = 0; made < count; tried++) {
    const temperatureK = coldest + random() * (warmest - coldest);
    const distance = 10 ** (-6 + 5 * random()) * (random() < 0.5 ? 1 : -1);
    let density = thinnest * (densest / thinnest) ** random();
    if (tried % 4 === 1) density = thinnest + random() * (densest - thinnest);
    if (tried % 4 >= 2 && temperatureK < line.maximumTemperatureK) {
      const { liquid, vapour } = line.at(temperatureK);
      density = (tried % 4 === 2 ? liquid : vapour).densityKgPerM3 * (1 + distance);
    }
    if (density < thinnest || density > densest || nearCritical(fluid, temperatureK, density)) continue;
    made++;
    yield exactState(fluid, line, density, temperatureK);
  }
}

function exactState(fluid: Fluid, line: SaturationLine, densityKgPerM3: number, temperatureK: number): State {
  const exact = equilibriumAt(fluid, line, densityKgPerM3, temperatureK);
  const { pressurePa, internalEnergyJPerKg, quality } = exact;
  const mixed = quality > 0 && quality < 1;
  const region = mixed ? 'dome' : densityKgPerM3 < fluid.criticalDensityKgPerM3 ? 'gas' : 'liquid';
  return { densityKgPerM3, temperatureK, region, pressurePa, internalEnergyJPerKg, quality };
}

const nearCritical = (fluid: Fluid, temperatureK: number, density: number): boolean =>
  Math.abs(temperatureK - fluid.criticalTemperatureK) < 5 &&
  density > 0.4 * fluid.criticalDensityKgPerM3 &&
  density < 1.8 * fluid.criticalDensityKgPerM3;
