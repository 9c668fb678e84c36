// How much air a charge of R-1234yf can spoil.
import { spoiltAirM3 } from '../../../sim/fluids/flammability.ts';
import { findFluid } from '../../../sim/fluids/fluid.ts';
import { MOLAR_GAS_CONSTANT } from '../bench-top.ts';
import type { Check, Topic } from '../check.ts';

const limit = (): number => findFluid('R-1234yf')?.lowerFlammableLimitKgPerM3 ?? Number.NaN;
const PUBLISHED =
  'Minor, Herrmann & Gravell, Process Safety Progress 29 (2010) 150: 6.2 % by volume (from memory)';

const checks: readonly Check[] = [
  {
    id: 'lower-flammable-limit',
    title:
      'Lower flammable limit of R-1234yf, 6.2 % by volume, as mass in air of 25 °C and one atmosphere: x·p·M/(R·T)',
    source: PUBLISHED,
    unit: 'kg/m³',
    expected: (0.062 * 101_325 * 0.1140416) / (MOLAR_GAS_CONSTANT * 298.15),
    tolerance: { relative: 0.005 },
    obtain: limit,
  },
  {
    id: 'flammable-volume-500-g',
    title: '500 g of R-1234yf bring to that limit',
    source: PUBLISHED,
    unit: 'm³',
    expected: 1.73,
    tolerance: { relative: 0.01 },
    obtain: () => spoiltAirM3(0.5, limit()),
  },
  {
    id: 'flammable-volume-500-g-quarter',
    title: 'and to a quarter of it, where a gas alarm must have acted',
    source: PUBLISHED,
    unit: 'm³',
    expected: 6.92,
    tolerance: { relative: 0.01 },
    obtain: () => spoiltAirM3(0.5, limit(), 0.25),
  },
];

export const flammability: Topic = { heading: 'Flammability', checks };
