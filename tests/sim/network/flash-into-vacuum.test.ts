// A trace of cold liquid that flashes into a good vacuum ends colder than the tables of the fluid reach.
import { describe, expect, it } from 'vitest';
import { StateOutOfRange } from '../../../sim/network/equilibrium.ts';
import { adiabaticNode, equilibriumOf, ROOM_K } from './kit.ts';

const HOSE_M3 = 33e-6;
const WINTER_K = 258.15;
const MASSES_KG = [1e-8, 1e-7, 1e-6, 1.7e-6, 1e-5, 1e-4, 1e-3];

describe.each(['R-134a', 'R-1234yf'])('%s let as liquid of −15 °C into an empty hose', (refrigerant) => {
  const equilibrium = equilibriumOf(refrigerant);
  const { liquidEnthalpyJPerKg, pressurePa } = { ...equilibrium.saturationAt(WINTER_K) };

  const hoseWith = (kg: number, energyJPerKg: number) => {
    const hose = adiabaticNode('hose', HOSE_M3);
    equilibrium.fill(hose, ROOM_K, { refrigerantKg: 0 });
    hose.refrigerantKg = kg;
    hose.energyJ = kg * energyJPerKg;
    return hose;
  };

  it.each(MASSES_KG)('%d kg find a state of that energy below the pressure they came from', (kg) => {
    const hose = hoseWith(kg, liquidEnthalpyJPerKg);
    equilibrium.settle(hose, 0);
    expect(hose.energyJ).toBe(kg * liquidEnthalpyJPerKg);
    expect(hose.temperatureK).toBeLessThan(WINTER_K);
    expect(hose.pressurePa).toBeGreaterThan(0);
    expect(hose.pressurePa).toBeLessThan(pressurePa);
  });

  it('colder than any liquid that was ever let in is still refused', () => {
    const hose = hoseWith(1.7e-6, liquidEnthalpyJPerKg - 4e6);
    expect(() => equilibrium.settle(hose, 0)).toThrow(StateOutOfRange);
  });
});
