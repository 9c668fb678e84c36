// A gas followed along the slopes of a state near by, against the tables asked each time.
import { describe, expect, test } from 'vitest';
import { newPropertyState } from '../../../sim/fluids/property-state.ts';
import { followAnchor, newGasAnchor, setAnchor } from '../../../sim/network/gas-anchor.ts';
import { uniform } from '../fluids/states.ts';
import { tablesOf } from '../hand.ts';

describe.each(['R-134a', 'R-1234yf'])('An anchor in the gas of %s', (refrigerant) => {
  const tables = tablesOf(refrigerant);
  const found = newPropertyState();
  const followed = newPropertyState();

  /** Random states of gas below 80 kg/m³ with an anchor at each, and a place somewhere near it. */
  function* places() {
    const random = uniform(5);
    for (let i = 0; i < 20_000; i++) {
      const density = 10 ** (-4 + 5.9 * random());
      const temperatureK = 220 + 140 * random();
      const anchor = newGasAnchor();
      tables.evaluate(density, temperatureK, found);
      setAnchor(anchor, density, temperatureK, found, tables);
      yield {
        anchor,
        density: density + 6e-3 * (random() - 0.5) * Math.sqrt(density),
        temperatureK: temperatureK + 0.2 * (random() - 0.5),
      };
    }
  }

  test('gives pressure within 2e-7 and energy within 0.05 J/kg of the tables as far as it reaches', () => {
    let reached = 0;
    for (const { anchor, density, temperatureK } of places()) {
      if (!followAnchor(anchor, density, temperatureK, followed)) continue;
      reached++;
      tables.evaluate(density, temperatureK, found);
      expect(Math.abs(followed.pressurePa / found.pressurePa - 1), `${density} ${temperatureK}`).toBeLessThan(
        2e-7,
      );
      expect(Math.abs(followed.internalEnergyJPerKg - found.internalEnergyJPerKg)).toBeLessThan(0.05);
      expect(Math.abs(followed.dPdT / found.dPdT - 1)).toBeLessThan(1e-3);
      expect(Math.abs(followed.dPdRho / found.dPdRho - 1)).toBeLessThan(1e-3);
      expect(found.quality).toBe(1);
    }
    expect(reached).toBeGreaterThan(5_000);
  });

  test('does NOT reach into the dome, nor out of a mixture or a liquid', () => {
    const anchor = newGasAnchor();
    for (const density of [tables.fluid.criticalDensityKgPerM3 / 5, 1250]) {
      tables.evaluate(density, 280, found);
      expect(found.quality).toBeLessThan(1);
      setAnchor(anchor, density, 280, found, tables);
      expect(followAnchor(anchor, density, 280, followed)).toBe(false);
    }
    for (const { anchor: near, density, temperatureK } of places())
      if (followAnchor(near, density, temperatureK, followed))
        expect(tables.isMixture(density, temperatureK)).toBe(false);
  });
});
