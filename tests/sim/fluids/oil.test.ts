import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findFluid } from '../../../sim/fluids/fluid.ts';
import { type OilKind, oilDensityKgPerM3, Solubility } from '../../../sim/fluids/oil.ts';
import { newSaturationState } from '../../../sim/fluids/property-state.ts';
import { FluidTables } from '../../../sim/fluids/tables.ts';

const tables = {
  'R-134a': new FluidTables(findFluid('R-134a')!),
  'R-1234yf': new FluidTables(findFluid('R-1234yf')!),
};

function heldG(
  kind: OilKind,
  refrigerant: keyof typeof tables,
  oilG: number,
  celsius: number,
  bar: number,
): number {
  const saturation = newSaturationState();
  tables[refrigerant].saturation(celsius + 273.15, saturation);
  const solubility = new Solubility(kind, tables[refrigerant].fluid);
  const activity = (bar * 1e5) / saturation.pressurePa;
  return oilG * solubility.content(activity, celsius + 273.15, saturation.liquidDensityKgPerM3);
}

describe('refrigerant in oil', () => {
  it('gives back through activity the pressure that content was found at, for both oils and both refrigerants', () => {
    fc.assert(
      fc.property(
        fc.constantFrom<OilKind>('PAG', 'POE'),
        fc.constantFrom<keyof typeof tables>('R-134a', 'R-1234yf'),
        fc.double({ min: 240, max: 350, noNaN: true }),
        fc.double({ min: 1e-4, max: 0.9, noNaN: true }),
        (kind, refrigerant, temperatureK, activity) => {
          const density = 1100;
          const solubility = new Solubility(kind, tables[refrigerant].fluid);
          const content = solubility.content(activity, temperatureK, density);
          const share = content / density / (content / density + 1 / oilDensityKgPerM3(kind, temperatureK));
          // Below the largest dissolved share; at it the activity is lower than what was asked for.
          if (share < 0.34) {
            const back = solubility.activity(content, temperatureK, density);
            expect(back <= activity * (1 + 1e-6)).toBe(true);
          }
        },
      ),
      { seed: 11, numRuns: 2000 },
    );
  });

  it('takes more at a lower temperature and never more than its own volume, however much liquid lies beside it', () => {
    for (const celsius of [-30, 0, 30, 60]) {
      const held = heldG('PAG', 'R-134a', 100, celsius, 50);
      expect(held).toBeLessThan(160);
      expect(heldG('PAG', 'R-134a', 100, celsius, 1)).toBeGreaterThan(
        heldG('PAG', 'R-134a', 100, celsius + 10, 1),
      );
    }
  });

  it('does not count a miscibility gap as dissolved: POE of a poor kind in the cold stops at the spinodal', () => {
    // R-1234yf at −60 °C: χ = 0.949 + 0.1 + 450.7·(1/213.15 − 1/298.15) = 1.65, where the oil-rich side ends near 0.25.
    const cold = heldG('POE', 'R-1234yf', 100, -60, 50);
    const share = cold / 1.35 / (cold / 1.35 + 100 / 1.013);
    expect(share).toBeGreaterThan(0.15);
    expect(share).toBeLessThan(0.33);
  });
});
