import { describe, expect, it } from 'vitest';
import { exactFlash } from '../../../sim/fluids/flash.ts';
import { phaseOf } from '../../../sim/fluids/phase.ts';
import { SaturationLine } from '../../../sim/fluids/saturation.ts';
import { FLUIDS, randomStates } from './states.ts';

describe.each(FLUIDS.map((fluid) => [fluid.name, fluid] as const))('the exact flash of %s', (_, fluid) => {
  const line = new SaturationLine(fluid);

  it('gives back temperature, pressure and quality from density and energy', () => {
    const range = { temperatureK: [175, 405], densityKgPerM3: [0.01, 1500] } as const;
    for (const state of randomStates(fluid, line, range, 400, 21)) {
      const found = exactFlash(fluid, line, state.densityKgPerM3, state.internalEnergyJPerKg);
      expect(Math.abs(found.temperatureK - state.temperatureK)).toBeLessThan(1e-7);
      expect(Math.abs(found.pressurePa - state.pressurePa)).toBeLessThan(0.1 + 1e-8 * state.pressurePa);
      expect(Math.abs(found.quality - state.quality)).toBeLessThan(1e-8);
    }
  });

  it('names the phase by what it can do: boil, condense, both or neither', () => {
    const { liquid, vapour } = line.at(293.15);
    const at = (densityKgPerM3: number, temperatureK: number) =>
      exactFlash(
        fluid,
        line,
        densityKgPerM3,
        fluid.equation.at(temperatureK, densityKgPerM3).internalEnergyJPerKg,
      ).phase;
    expect(at(liquid.densityKgPerM3 * 1.02, 293.15)).toBe('liquid');
    expect(at(vapour.densityKgPerM3 * 0.9, 293.15)).toBe('vapour');
    expect(at(5, fluid.criticalTemperatureK + 10)).toBe('vapour');
    expect(at(fluid.criticalDensityKgPerM3, fluid.criticalTemperatureK + 10)).toBe('supercritical');
    const mixed = (liquid.internalEnergyJPerKg + vapour.internalEnergyJPerKg) / 2;
    const density = 2 / (1 / liquid.densityKgPerM3 + 1 / vapour.densityKgPerM3);
    const half = exactFlash(fluid, line, density, mixed);
    expect(half.phase).toBe('two-phase');
    expect(half.quality).toBeCloseTo(0.5, 8);
    expect(half.temperatureK).toBeCloseTo(293.15, 7);
  });

  it('calls liquid under more than critical pressure liquid, and not supercritical', () => {
    const state = { temperatureK: 300, pressurePa: 2 * fluid.criticalPressurePa, quality: 0 };
    expect(phaseOf(fluid, state)).toBe('liquid');
  });

  it('refuses an energy that no temperature of the equation has', () => {
    expect(() => exactFlash(fluid, line, 5, 4.1e6)).toThrow(RangeError);
    expect(() => exactFlash(fluid, line, 5, -4.1e6)).toThrow(RangeError);
    expect(() => exactFlash(fluid, line, 0, 4e5)).toThrow(RangeError);
    expect(() => exactFlash(fluid, line, 5, Number.NaN)).toThrow(RangeError);
  });
});
