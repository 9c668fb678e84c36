// Gas and liquid through orifices and valves, choked and not.
import { areaOfKv, areasInSeries } from '../../../sim/network/edge.ts';
import type { Node } from '../../../sim/network/node.ts';
import { airKgAt, boundary, isothermalNode, ROOM_K, restriction } from '../../sim/network/kit.ts';
import {
  AIR_MOLAR_MASS,
  ATMOSPHERE_PA,
  equilibrium,
  flowOf,
  MOLAR_GAS_CONSTANT,
  ONE_MILLIMETRE_M2,
  type Refrigerant,
} from '../bench-top.ts';
import type { Check, Topic } from '../check.ts';
import { IEC_60534, referenceOf } from '../sources.ts';

const AIR_GAS_CONSTANT = MOLAR_GAS_CONSTANT / AIR_MOLAR_MASS;

/** Choked mass flux of an ideal gas over √(p·ρ). */
const chokedIdeal = (gamma: number): number =>
  Math.sqrt(gamma) * (2 / (gamma + 1)) ** ((gamma + 1) / (2 * (gamma - 1)));

function airNode(pressurePa: number): Node {
  const node = isothermalNode('up', 1e-3);
  equilibrium('R-134a').fill(node, ROOM_K, { refrigerantKg: 0, airKg: airKgAt(pressurePa, 1e-3) });
  return node;
}

function vapourNode(refrigerant: Refrigerant, temperatureK: number, pressurePa: number): Node {
  const node = isothermalNode('up', 1e-3);
  let kg = pressurePa * 5e-8;
  for (let i = 0; i < 80; i++) {
    equilibrium(refrigerant).fill(node, temperatureK, { refrigerantKg: kg });
    kg *= pressurePa / node.pressurePa;
  }
  return node;
}

/** Liquid at 20 °C under a pressure above saturation: a litre, filled by trial. */
function liquidNode(pressurePa: number): Node {
  const node = isothermalNode('up', 1e-3);
  let low = 1.2;
  let high = 1.3;
  for (let i = 0; i < 60; i++) {
    const kg = (low + high) / 2;
    equilibrium('R-134a').fill(node, ROOM_K, { refrigerantKg: kg });
    if (node.pressurePa > pressurePa) high = kg;
    else low = kg;
  }
  return node;
}

const throughPa = (up: Node, downPa: number, areaM2: number, refrigerant: Refrigerant, more = {}): number => {
  const of = equilibrium(refrigerant);
  return flowOf(restriction(up, boundary(of, downPa), areaM2, more), of);
};

/** Isentropic nozzles of the real gas, the mass flux maximised along the isentrope: refrigerant, °C, bar, g/s in 1.0 mm. */
const NOZZLES = [
  ['R-134a', 40, 5, 1.5977],
  ['R-134a', 25, 5.71709, 1.9027],
  ['R-134a', 20, 1, 0.32299],
  ['R-1234yf', 40, 5, 1.6783],
  ['R-1234yf', 25, 5.91837, 2.0708],
  ['R-1234yf', 20, 1, 0.33912],
] as const;

const chokedGas: readonly Check[] = [
  {
    id: 'choked-orifice-air',
    title: 'Air from one atmosphere and 20 °C into vacuum through 1.0 mm: ideal-gas nozzle with γ = 1.4',
    source: 'closed form (Saint-Venant & Wantzel)',
    unit: 'g/s',
    expected:
      (1000 * (Math.PI / 4) * 1e-6 * ATMOSPHERE_PA * chokedIdeal(1.4)) / Math.sqrt(AIR_GAS_CONSTANT * ROOM_K),
    tolerance: { relative: 0.01 },
    obtain: () => 1000 * throughPa(airNode(ATMOSPHERE_PA), 10, ONE_MILLIMETRE_M2, 'R-134a'),
  },
  {
    id: 'choked-orifice-air-volume',
    title: 'The same as a volume at the pressure before the orifice',
    source: 'closed form (Saint-Venant & Wantzel)',
    unit: 'L/s',
    expected: 1000 * (Math.PI / 4) * 1e-6 * chokedIdeal(1.4) * Math.sqrt(AIR_GAS_CONSTANT * ROOM_K),
    tolerance: { relative: 0.01 },
    obtain: () => {
      const up = airNode(ATMOSPHERE_PA);
      return (1000 * throughPa(up, 10, ONE_MILLIMETRE_M2, 'R-134a')) / up.gasDensityKgPerM3;
    },
  },
  ...NOZZLES.map(
    ([refrigerant, celsius, bar, gramsPerS]): Check => ({
      id: `choked-orifice-${refrigerant.toLowerCase()}-${celsius}-c-${Math.round(bar)}-bar`,
      title: `${refrigerant} vapour of ${bar.toFixed(2)} bar and ${celsius} °C into vacuum through 1.0 mm: isentropic nozzle of the real gas`,
      source: referenceOf(refrigerant),
      unit: 'g/s',
      expected: gramsPerS,
      tolerance: { relative: 0.02 },
      obtain: () => {
        const up = vapourNode(refrigerant, celsius + 273.15, bar * 1e5);
        return 1000 * throughPa(up, 10, ONE_MILLIMETRE_M2, refrigerant);
      },
    }),
  ),
];

/** Numerical constants of the standard for Kv, bar and kilograms: N1 = 1 (m³/h), N6 = 31.6 (kg/h). */
const N6 = 31.6;
/** The valves here are small seats that behave like a nozzle: pressure differential ratio factor for air. */
const X_T = 0.53;
const KV = 0.1;

/** Liquid by the standard, kg/h: turbulent, without fittings; F_L = 0.9. */
function liquidByStandard(p1Bar: number, p2Bar: number, vapourBar: number, density: number): number {
  const criticalBar = 40.593;
  const ff = 0.96 - 0.28 * Math.sqrt(vapourBar / criticalBar);
  const chokedBar = 0.9 ** 2 * (p1Bar - ff * vapourBar);
  return KV * density * Math.sqrt(Math.min(p1Bar - p2Bar, chokedBar) / (density / 1000));
}

/** Gas by the standard, kg/h. */
function gasByStandard(p1Bar: number, p2Bar: number, density: number, gamma: number): number {
  const limit = (gamma / 1.4) * X_T;
  const x = Math.min((p1Bar - p2Bar) / p1Bar, limit);
  const y = 1 - x / (3 * limit);
  return N6 * KV * y * Math.sqrt(x * p1Bar * density);
}

const LIQUID_BAR = 10;
const SATURATION_BAR = 5.7171;
/** Compressed liquid at 20 °C and 10 bar. */
const LIQUID_DENSITY = 1227.7;
const liquidFlow = (upPa: number, downPa: number): number =>
  3600 * throughPa(liquidNode(upPa), downPa, areaOfKv(KV), 'R-134a', { portA: 'liquid' });

const valves: readonly Check[] = [
  {
    id: 'kv-of-water',
    title: 'Kv 1 passes 1 m³/h of water of 1000 kg/m³ at a drop of 1 bar: the definition',
    source: 'IEC 60534-2-1:2011, definition of Kv',
    unit: 'm³/h',
    expected: 1,
    tolerance: { relative: 1e-9 },
    obtain: () => 3600 * areaOfKv(1) * Math.sqrt(2e5 / 1000),
  },
  {
    id: 'kv-published-example',
    title: 'Water of 965.4 kg/m³ from 680 to 220 kPa through Kv 165, not choked',
    source: 'IEC 60534-2-1, worked example of an annex (from memory)',
    unit: 'm³/h',
    expected: 360,
    tolerance: { relative: 0.003 },
    obtain: () => 3600 * areaOfKv(165) * Math.sqrt((2 * 460e3) / 965.4),
  },
  {
    id: 'kv-in-series',
    title: 'Kv 0.16 and Kv 0.3 in series: 1/Kv² adds',
    source: 'closed form',
    unit: 'm³/h',
    expected: 1 / Math.sqrt(1 / 0.16 ** 2 + 1 / 0.3 ** 2),
    tolerance: { relative: 1e-6 },
    obtain: () => areasInSeries(areaOfKv(0.16), areaOfKv(0.3)) / areaOfKv(1),
  },
  {
    id: 'kv-as-orifice',
    title: 'Kv 0.1 as effective area of an orifice, discharge coefficient included',
    source: 'closed form',
    unit: 'mm²',
    expected: (0.1 / 3600 / Math.sqrt(200)) * 1e6,
    tolerance: { relative: 1e-6 },
    obtain: () => areaOfKv(0.1) * 1e6,
  },
  {
    id: 'liquid-valve-one-bar',
    title: 'Liquid R-134a of 20 °C through Kv 0.1 at a drop of 1 bar',
    source: `${IEC_60534}; saturated density 1225.3 kg/m³`,
    unit: 'g/s',
    expected: (KV / 3600) * Math.sqrt(1000 / 1225.3) * 1225.3 * 1000,
    tolerance: { relative: 0.01 },
    obtain: () => (liquidFlow(15e5, 14e5) * 1000) / 3600,
  },
  {
    id: 'liquid-valve-not-choked',
    title: 'Liquid R-134a of 20 °C from 10 to 8 bar through Kv 0.1: F_L²·(p₁ − F_F·p_v) not reached',
    source: IEC_60534,
    unit: 'kg/h',
    expected: liquidByStandard(LIQUID_BAR, 8, SATURATION_BAR, LIQUID_DENSITY),
    tolerance: { relative: 0.01 },
    obtain: () => liquidFlow(LIQUID_BAR * 1e5, 8e5),
  },
  {
    id: 'liquid-valve-choked',
    title: 'The same from 10 to 1 bar: flashing in the seat limits the drop',
    source: IEC_60534,
    unit: 'kg/h',
    expected: liquidByStandard(LIQUID_BAR, 1, SATURATION_BAR, LIQUID_DENSITY),
    tolerance: { relative: 0.01 },
    obtain: () => liquidFlow(LIQUID_BAR * 1e5, 1e5),
  },
  {
    id: 'liquid-valve-saturated-choked',
    title: 'Saturated liquid R-134a from a tank at 20 °C into an evacuated hose through Kv 0.1',
    source: IEC_60534,
    unit: 'kg/h',
    expected: liquidByStandard(SATURATION_BAR, 0, SATURATION_BAR, 1225.3),
    tolerance: { relative: 0.01 },
    obtain: () => {
      const tank = isothermalNode('tank', 21.6e-3);
      equilibrium('R-134a').fill(tank, ROOM_K, { refrigerantKg: 10 });
      return 3600 * throughPa(tank, 100, areaOfKv(KV), 'R-134a', { portA: 'liquid' });
    },
  },
  ...([5, 4, 2, 0.1] as const).map(
    (downBar): Check => ({
      id: `gas-valve-air-6-to-${downBar}-bar`,
      title: `Air of 20 °C from 6 to ${downBar} bar through Kv 0.1, x_T = 0.53`,
      source: IEC_60534,
      unit: 'kg/h',
      expected: gasByStandard(6, downBar, 6e5 / (AIR_GAS_CONSTANT * ROOM_K), 1.4),
      tolerance: { relative: 0.01 },
      obtain: () => 3600 * throughPa(airNode(6e5), downBar * 1e5, areaOfKv(KV), 'R-134a'),
    }),
  ),
  ...([4, 3, 1] as const).map(
    (downBar): Check => ({
      id: `gas-valve-r-134a-5-to-${downBar}-bar`,
      title: `R-134a vapour of 40 °C from 5 to ${downBar} bar through Kv 0.1, x_T = 0.53, γ = 1.161`,
      source: `${IEC_60534}; density 21.53 kg/m³`,
      unit: 'kg/h',
      expected: gasByStandard(5, downBar, 21.53, 1.161),
      tolerance: { relative: 0.015 },
      obtain: () =>
        3600 * throughPa(vapourNode('R-134a', 313.15, 5e5), downBar * 1e5, areaOfKv(KV), 'R-134a'),
    }),
  ),
];

export const orifices: Topic = { heading: 'Orifices and valves', checks: [...chokedGas, ...valves] };
