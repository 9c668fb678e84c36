// Leaks stated in grams a year: what they lose under pressure and what they let in under vacuum.
import { describe, expect, test } from 'vitest';
import { newSaturationState } from '../../../sim/fluids/property-state.ts';
import { Network } from '../../../sim/network/network.ts';
import { makeLeak } from '../../../sim/plant/leak.ts';
import { boundary, equilibriumOf, isothermalNode, ROOM_K } from '../network/kit.ts';

const YEAR_S = 365.25 * 86_400;
const AIR_GAS_CONSTANT = 287.05;

describe.each(['R-134a', 'R-1234yf'])('a leak of 100 g a year of %s', (refrigerant) => {
  const equilibrium = equilibriumOf(refrigerant);
  const outside = () => boundary(equilibrium, 101_325);

  test('loses that at 20 °C with liquid in the system', () => {
    const system = isothermalNode('system', 3e-3);
    equilibrium.fill(system, ROOM_K, { refrigerantKg: 0.6 });
    const leak = makeLeak(0.1, system, outside(), equilibrium);
    new Network(equilibrium, [system], [leak]).advance(86_400);
    expect((leak.passedRefrigerantKg * YEAR_S) / 86_400).toBeCloseTo(0.1, 3);
  });
});

describe('a leak of 100 g a year of R-134a', () => {
  const equilibrium = equilibriumOf('R-134a');

  test('passes 7.57e-5 Pa·m³/s at 20 °C (ideal-gas conversion of the mass rate)', () => {
    const saturation = newSaturationState();
    equilibrium.tables.saturation(ROOM_K, saturation);
    const gasConstant = equilibrium.tables.fluid.gasConstantJPerKgK;
    expect((0.1 / YEAR_S) * gasConstant * ROOM_K).toBeCloseTo(7.57e-5, 7);
  });

  test('raises an evacuated 3 L system by 0.31 Pa in ten minutes as air comes in through the same capillary', () => {
    const system = isothermalNode('system', 3e-3);
    equilibrium.fill(system, ROOM_K, { refrigerantKg: 0, airKg: (1 * 3e-3) / (AIR_GAS_CONSTANT * ROOM_K) });
    const before = system.pressurePa;
    const leak = makeLeak(0.1, system, boundary(equilibrium, 101_325), equilibrium);
    new Network(equilibrium, [system], [leak]).advance(600);
    expect(system.pressurePa - before).toBeGreaterThan(0.31 * 0.95);
    expect(system.pressurePa - before).toBeLessThan(0.31 * 1.05);
  });
});
