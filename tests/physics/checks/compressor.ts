// The recovery compressor: volumetric efficiency over clearance, its limit, and what it moves.
import { makeEdge } from '../../../sim/network/edge.ts';
import { Network } from '../../../sim/network/network.ts';
import { airKgAt, boundary, isothermalNode, ROOM_K, timeToFall } from '../../sim/network/kit.ts';
import { ATMOSPHERE_PA, CELSIUS_K, equilibrium, flowOf, type Refrigerant } from '../bench-top.ts';
import type { Check, Topic } from '../check.ts';
import { referenceOf } from '../sources.ts';

const SWEPT_M3_PER_S = 0.2417e-3;
const CLEARANCE = 0.05;
const DELIVERY_PA = 665_400;
const START_PA = 571_700;
const VOLUME_M3 = 3e-3;

const compressorFrom = (
  node: ReturnType<typeof isothermalNode>,
  clearance: number,
  n: number,
  of = equilibrium('R-134a'),
) =>
  makeEdge({
    kind: 'compressor',
    name: 'compressor',
    a: node,
    b: boundary(of, DELIVERY_PA),
    portA: 'vapour',
    portB: 'mixed',
    sweptM3PerS: SWEPT_M3_PER_S,
    clearance,
    polytropicExponent: n,
    efficiency: 0.6,
    opening: 1,
  });

/** 3 L of gas drawn isothermally; air stands for an ideal gas. Without a mark: where it ends. */
function drawS(clearance: number, toPa: number): number {
  const of = equilibrium('R-134a');
  const node = isothermalNode('volume', VOLUME_M3);
  of.fill(node, ROOM_K, { refrigerantKg: 0, airKg: airKgAt(START_PA, VOLUME_M3) });
  return timeToFall(new Network(of, [node], [compressorFrom(node, clearance, 1.000001)]), node, toPa);
}

function limitBar(n: number): number {
  const of = equilibrium('R-134a');
  const node = isothermalNode('volume', 1e-3);
  of.fill(node, ROOM_K, { refrigerantKg: 0, airKg: airKgAt(START_PA, 1e-3) });
  new Network(of, [node], [compressorFrom(node, CLEARANCE, n)]).advance(600);
  return node.pressurePa / 1e5;
}

const limit = DELIVERY_PA * (CLEARANCE / (1 + CLEARANCE));
const drawnByHandS = (toPa: number): number =>
  (VOLUME_M3 / ((1 + CLEARANCE) * SWEPT_M3_PER_S)) * Math.log((START_PA - limit) / (toPa - limit));

/** Flow from saturated vapour against 6.654 bar, g/min. */
function saturatedGPerMin(refrigerant: Refrigerant, celsius: number): number {
  const of = equilibrium(refrigerant);
  const node = isothermalNode('suction', 1e-3);
  const temperatureK = CELSIUS_K + celsius;
  of.fill(node, temperatureK, { refrigerantKg: of.saturationAt(temperatureK).vapourDensityKgPerM3 * 1.1e-3 });
  return flowOf(compressorFrom(node, CLEARANCE, 1.1, of), of) * 60_000;
}

export const compressor: Topic = {
  heading: 'Recovery compressor',
  checks: [
    ...([ATMOSPHERE_PA, 50_000, 35_000] as const).map(
      (toPa): Check => ({
        id: `compressor-draws-3-l-to-${toPa}-pa`,
        title: `3 L from 5.717 bar to ${toPa / 1000} kPa at constant temperature by 0.2417 L/s with 5 % clearance against 6.654 bar (n = 1): exponential to its limit`,
        source: 'closed form',
        unit: 's',
        expected: drawnByHandS(toPa),
        tolerance: { relative: 0.01 },
        obtain: () => drawS(CLEARANCE, toPa),
      }),
    ),
    {
      id: 'compressor-without-clearance',
      title: 'The same to 101.325 kPa without clearance: V/V̇·ln(p₀/p)',
      source: 'closed form',
      unit: 's',
      expected: (VOLUME_M3 / SWEPT_M3_PER_S) * Math.log(START_PA / ATMOSPHERE_PA),
      tolerance: { relative: 0.01 },
      obtain: () => drawS(1e-9, ATMOSPHERE_PA),
    },
    ...([1.000001, 1.1] as const).map(
      (n): Check => ({
        id: `compressor-limit-n-${n.toFixed(1)}`,
        title: `Lowest suction pressure against 6.654 bar with 5 % clearance, n = ${n.toFixed(1)}: p_d/(1 + 1/c)ⁿ`,
        source: 'closed form',
        unit: 'bar',
        expected: DELIVERY_PA / 1e5 / (1 + 1 / CLEARANCE) ** n,
        tolerance: { relative: 0.01 },
        obtain: () => limitBar(n),
      }),
    ),
    ...(
      [
        ['R-134a', 20, 399.9],
        ['R-134a', 0, 197.6],
        ['R-134a', -26, 59.22],
        ['R-1234yf', 20, 472.6],
        ['R-1234yf', 0, 243.3],
        ['R-1234yf', -26, 80.66],
      ] as const
    ).map(
      ([refrigerant, celsius, expected]): Check => ({
        id: `compressor-flow-${refrigerant.toLowerCase()}-${celsius}-c`,
        title: `0.2417 L/s, 5 % clearance, n = 1.1, drawing saturated ${refrigerant} of ${celsius} °C against 6.654 bar: ρ″·V̇·(1 + c − c·(p_d/p_s)^(1/n))`,
        source: `closed form; ${referenceOf(refrigerant)}`,
        unit: 'g/min',
        expected,
        tolerance: { relative: 0.005 },
        obtain: () => saturatedGPerMin(refrigerant, celsius),
      }),
    ),
  ],
};
