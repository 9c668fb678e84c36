// Water: vapour pressure over liquid and ice, latent heats, and what saturates a volume.
import {
  WATER_VAPOUR,
  waterLatentHeatJPerKg,
  waterSaturationTemperatureK,
  waterVapourPressurePa,
} from '../../../sim/fluids/water.ts';
import { CELSIUS_K } from '../bench-top.ts';
import type { Check, Tolerance, Topic } from '../check.ts';
import { IAPWS_SR1 } from '../sources.ts';

const STEAM_TABLES = 'steam tables (IAPWS-95, another equation)';
const IF97 = 'IAPWS-IF97, table 35 (another equation)';
const MURPHY_KOOP = 'Murphy & Koop, Q. J. R. Meteorol. Soc. 131 (2005) 1539, check values (from memory)';
const SUBLIMATION = 'IAPWS R14-08, worked out by its equation';

/** IAPWS R14-08, sublimation pressure of ice: a second implementation. */
function sublimationPa(temperatureK: number): number {
  const theta = temperatureK / 273.16;
  const terms = [
    [-21.2144006, 0.00333333333],
    [27.3203819, 1.20666667],
    [-6.1059813, 1.70333333],
  ] as const;
  return 611.657 * Math.exp(terms.reduce((sum, [a, b]) => sum + a * theta ** b, 0) / theta);
}

const pressure = (
  id: string,
  temperatureK: number,
  expected: number,
  tolerance: Tolerance,
  source: string,
  over: 'liquid water' | 'ice' = 'liquid water',
): Check => ({
  id: `water-${id}`,
  title: `Vapour pressure over ${over} at ${Number(temperatureK.toFixed(4))} K (${Number((temperatureK - CELSIUS_K).toFixed(3))} °C)`,
  source,
  unit: 'Pa',
  expected,
  tolerance,
  obtain: () => waterVapourPressurePa(temperatureK),
});

const close = { relative: 2e-6 };

const vapourPressures: readonly Check[] = [
  pressure('triple-point', 273.16, 611.657, close, IAPWS_SR1),
  pressure('10-c', 283.15, 1228.2, { relative: 2e-4 }, STEAM_TABLES),
  pressure('20-c', 293.15, 2339.3, { relative: 2e-4 }, STEAM_TABLES),
  pressure('25-c', 298.15, 3169.9, { relative: 5e-5 }, IAPWS_SR1),
  pressure('30-c', 303.15, 4247.0, { relative: 2e-4 }, STEAM_TABLES),
  pressure('40-c', 313.15, 7384.9, { relative: 2e-4 }, STEAM_TABLES),
  pressure('boiling-point', 373.1243, 101_325, close, IAPWS_SR1),
  pressure('if97-300-k', 300, 3536.58941, { relative: 2e-4 }, IF97),
  pressure('if97-500-k', 500, 2_638_897.76, { relative: 2e-4 }, IF97),
  pressure('if97-600-k', 600, 12_344_314.6, { relative: 2e-4 }, IF97),
  pressure('ice-180-k', 180, 0.0053975, { relative: 1e-4 }, MURPHY_KOOP, 'ice'),
  pressure('ice-210-k', 210, 0.70202, { relative: 1e-4 }, MURPHY_KOOP, 'ice'),
  pressure('ice-240-k', 240, 27.272, { relative: 1e-4 }, MURPHY_KOOP, 'ice'),
  pressure('ice-0-c', 273.15, 611.154, close, MURPHY_KOOP, 'ice'),
  pressure('ice-230-k', 230, 8.94735, { relative: 5e-4 }, 'IAPWS R14-08, check value (from memory)', 'ice'),
  ...([-60, -55, -50, -45, -40, -35, -30, -25, -20, -15, -10, -5] as const).map((celsius) =>
    pressure(
      `ice-${celsius}-c`,
      CELSIUS_K + celsius,
      sublimationPa(CELSIUS_K + celsius),
      { relative: 5e-4 },
      SUBLIMATION,
      'ice',
    ),
  ),
];

const temperatures: readonly Check[] = (
  [
    [133.322, 1000, -17.3],
    [66.661, 500, -24.5],
  ] as const
).map(
  ([pascal, micron, celsius]): Check => ({
    id: `ice-at-${micron}-micron`,
    title: `Ice that evaporates at ${pascal} Pa (${micron} micron of mercury) is at`,
    source: 'IAPWS R14-08, sublimation temperature',
    unit: '°C',
    expected: celsius,
    tolerance: { absolute: 0.1 },
    obtain: () => waterSaturationTemperatureK(pascal) - CELSIUS_K,
  }),
);

const latent: readonly Check[] = (
  [
    ['25-c', 298.15, 2441.7, 0.002, 'evaporation of liquid at 25 °C'],
    ['80-c', 353.15, 2308, 0.012, 'evaporation of liquid at 80 °C'],
    ['ice-0-c', 273.15, 2834, 0.002, 'sublimation of ice at 0 °C'],
  ] as const
).map(
  ([id, temperatureK, kJ, relative, what]): Check => ({
    id: `water-latent-${id}`,
    title: `Heat of ${what}`,
    source: 'steam tables (IAPWS-95), handbook figure',
    unit: 'kJ/kg',
    expected: kJ,
    tolerance: { relative },
    obtain: () => waterLatentHeatJPerKg(temperatureK) / 1000,
  }),
);

const vapour: readonly Check[] = [
  {
    id: 'water-gas-constant',
    title: 'Gas constant of water vapour: R/M with 18.015268 g/mol',
    source: 'CODATA 2018; IAPWS-95',
    unit: 'J/(kg·K)',
    expected: 8.314462618 / 0.018015268,
    tolerance: { relative: 2e-5 },
    obtain: () => WATER_VAPOUR.gasConstantJPerKgK,
  },
  {
    id: 'water-to-saturate-3-l',
    title: '3 L at 20 °C are saturated with water vapour by (17.3 g/m³)',
    source: 'steam tables (IAPWS-95)',
    unit: 'mg',
    expected: 17.314 * 3,
    tolerance: { relative: 0.01 },
    obtain: () => (waterVapourPressurePa(293.15) * 3e-3 * 1e6) / (WATER_VAPOUR.gasConstantJPerKgK * 293.15),
  },
];

export const water: Topic = {
  heading: 'Water',
  checks: [...vapourPressures, ...temperatures, ...latent, ...vapour],
};
