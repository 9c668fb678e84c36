// The standard atmosphere, air, and what a gauge shows of a full vacuum at altitude.
import { toInchesOfMercury } from '../../../app/units.ts';
import { AIR, airViscosityPaS, barometerPa } from '../../../sim/fluids/air.ts';
import type { Check, Topic } from '../check.ts';
import { ISO_2533 } from '../sources.ts';

const pressures: readonly Check[] = (
  [
    [-500, 1074.78],
    [0, 1013.25],
    [500, 954.61],
    [1000, 898.75],
    [1500, 845.56],
    [2000, 794.95],
    [3000, 701.09],
    [4000, 616.4],
  ] as const
).map(
  ([altitudeM, hPa]): Check => ({
    id: `barometer-${altitudeM}-m`,
    title: `Barometric pressure at ${altitudeM} m`,
    source: ISO_2533,
    unit: 'hPa',
    expected: hPa,
    tolerance: { absolute: 0.05 },
    obtain: () => barometerPa(altitudeM) / 100,
  }),
);

/** A gauge counts from the barometer: nothing at all reads less by it. */
const vacuumOnGaugePa = (altitudeM: number): number => 0 - barometerPa(altitudeM);

const vacuum: readonly Check[] = (
  [
    [0, -1.013, 29.92],
    [500, -0.955, 28.19],
    [1000, -0.899, 26.54],
    [1609, -0.834, 24.64],
    [2000, -0.795, 23.47],
    [3000, -0.701, 20.7],
  ] as const
).flatMap(([altitudeM, bar, inches]): readonly Check[] => [
  {
    id: `full-vacuum-gauge-${altitudeM}-m-bar`,
    title: `Full vacuum on a gauge at ${altitudeM} m`,
    source: ISO_2533,
    unit: 'bar gauge',
    expected: bar,
    tolerance: { relative: 0.003 },
    obtain: () => vacuumOnGaugePa(altitudeM) / 1e5,
  },
  {
    id: `full-vacuum-gauge-${altitudeM}-m-inhg`,
    title: 'the same in inches of mercury of vacuum',
    source: `${ISO_2533}; 3386.389 Pa per inch (NIST SP 811)`,
    unit: 'inHg',
    expected: inches,
    tolerance: { relative: 0.003 },
    obtain: () => toInchesOfMercury(-vacuumOnGaugePa(altitudeM)),
  },
]);

const air: readonly Check[] = [
  {
    id: 'air-density',
    title: 'Density of air at 15 °C and 101.325 kPa',
    source: ISO_2533,
    unit: 'kg/m³',
    expected: 1.225,
    tolerance: { absolute: 5e-5 },
    obtain: () => 101_325 / (AIR.gasConstantJPerKgK * 288.15),
  },
  {
    id: 'air-viscosity',
    title: 'Viscosity of air at 15 °C',
    source: ISO_2533,
    unit: '10⁻⁵ Pa·s',
    expected: 1.7894,
    tolerance: { absolute: 5e-5 },
    obtain: () => airViscosityPaS(288.15) * 1e5,
  },
  {
    id: 'air-sound',
    title: 'Speed of sound in air at 15 °C',
    source: ISO_2533,
    unit: 'm/s',
    expected: 340.294,
    tolerance: { absolute: 0.5 },
    obtain: () => Math.sqrt((AIR.cpJPerKgK / AIR.cvJPerKgK) * AIR.gasConstantJPerKgK * 288.15),
  },
];

export const atmosphere: Topic = { heading: 'Atmosphere and air', checks: [...pressures, ...vacuum, ...air] };
