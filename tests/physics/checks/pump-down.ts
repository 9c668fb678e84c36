// Emptying a volume of air: the pump alone, and the pump behind a service hose.
import { makeEdge, tubeOf } from '../../../sim/network/edge.ts';
import { Network } from '../../../sim/network/network.ts';
import type { Node } from '../../../sim/network/node.ts';
import { airKgAt, boundary, isothermalNode, ROOM_K, restriction, timeToFall } from '../../sim/network/kit.ts';
import {
  AIR_MOLAR_MASS,
  AIR_VISCOSITY,
  ATMOSPHERE_PA,
  equilibrium,
  flowOf,
  MOLAR_GAS_CONSTANT,
} from '../bench-top.ts';
import { type Check, once, type Topic } from '../check.ts';
import { KINETIC_THEORY } from '../sources.ts';

const VOLUME_M3 = 3e-3;
const SPEED_M3_PER_S = 2e-3;
const HOSE_LENGTH_M = 1.8;
const AIR_GAS_CONSTANT = MOLAR_GAS_CONSTANT / AIR_MOLAR_MASS;
const MEAN_SPEED_M_PER_S = Math.sqrt((8 * AIR_GAS_CONSTANT * ROOM_K) / Math.PI);

/** Poiseuille, and Knudsen's long tube: C = (π/12)·v̄·d³/L. */
const laminar = (boreM: number): number => (Math.PI * boreM ** 4) / (128 * AIR_VISCOSITY * HOSE_LENGTH_M);
const molecular = (boreM: number): number =>
  ((Math.PI / 12) * MEAN_SPEED_M_PER_S * boreM ** 3) / HOSE_LENGTH_M;

function airVolume(pressurePa = ATMOSPHERE_PA): Node {
  const node = isothermalNode('volume', VOLUME_M3);
  equilibrium('R-134a').fill(node, ROOM_K, { refrigerantKg: 0, airKg: airKgAt(pressurePa, VOLUME_M3) });
  return node;
}

function pumpDownS(toPa: number, ultimatePa: number): number {
  const of = equilibrium('R-134a');
  const volume = airVolume();
  const pump = makeEdge({
    kind: 'pump',
    name: 'pump',
    a: volume,
    b: boundary(of, ATMOSPHERE_PA),
    portA: 'mixed',
    portB: 'mixed',
    sweptM3PerS: SPEED_M3_PER_S,
    ultimatePa,
    valveAreaM2: 1e3,
    opening: 1,
  });
  return timeToFall(new Network(of, [volume], [pump]), volume, toPa, 0.05);
}

const hoseTube = (hoses: number, boreM: number, molecularShare = 1) => {
  const one = tubeOf(boreM, HOSE_LENGTH_M);
  return {
    laminarM3PerSPa: one.laminarM3PerSPa * hoses,
    molecularM3PerS: one.molecularM3PerS * hoses * molecularShare,
  };
};

function hoseLimitedS(hoses: number, molecularShare: number, toPa: number): number {
  const of = equilibrium('R-134a');
  const volume = airVolume();
  const tube = hoseTube(hoses, 0.0048, molecularShare);
  const path = restriction(volume, boundary(of, 1e-3), 1, { tube });
  return timeToFall(new Network(of, [volume], [path]), volume, toPa);
}

/** The integral of V·dp/dt = −(K/2)·p² − C·p. */
function hoseLimitedByHandS(hoses: number, toPa: number): number {
  const a = (hoses * laminar(0.0048)) / (2 * VOLUME_M3);
  const b = (hoses * molecular(0.0048)) / VOLUME_M3;
  return Math.log((1 / toPa + a / b) / (1 / ATMOSPHERE_PA + a / b)) / b;
}

/** Two hoses, a perfect pump and a steady stream of air into the volume. */
const GAS_LOAD_PA_M3_PER_S = 1e-4;
const basePressurePa = once(() => {
  const of = equilibrium('R-134a');
  const volume = airVolume(20);
  const path = restriction(volume, boundary(of, 1e-3), 1, { tube: hoseTube(2, 0.0048) });
  const network = new Network(of, [volume], [path]);
  const stepS = 0.5;
  const airKg = (GAS_LOAD_PA_M3_PER_S * stepS) / (AIR_GAS_CONSTANT * ROOM_K);
  for (let timeS = 0; timeS < 900; timeS += stepS) {
    volume.airKg += airKg;
    volume.energyJ += airKg * 718 * ROOM_K;
    network.advance(stepS);
  }
  return volume.pressurePa;
});

/** Air through a hose between two pressures, without the molecular part, kg/s. */
function laminarFlow(upPa: number, downPa: number): number {
  const of = equilibrium('R-134a');
  const up = airVolume(upPa);
  return flowOf(restriction(up, boundary(of, downPa), 1, { tube: hoseTube(1, 0.0048, 0) }), of);
}

const pumpOnly: readonly Check[] = [
  {
    id: 'pump-down-to-1000-pa',
    title: 'An ideal pump of 2 L/s takes 3 L of air from one atmosphere to 1000 Pa in V/S·ln(p₀/p)',
    source: 'closed form, any vacuum textbook',
    unit: 's',
    expected: (VOLUME_M3 / SPEED_M3_PER_S) * Math.log(ATMOSPHERE_PA / 1000),
    tolerance: { relative: 0.005 },
    obtain: () => pumpDownS(1000, 1e-9),
  },
  {
    id: 'pump-down-to-100-pa',
    title: 'The same to 100 Pa',
    source: 'closed form, any vacuum textbook',
    unit: 's',
    expected: (VOLUME_M3 / SPEED_M3_PER_S) * Math.log(ATMOSPHERE_PA / 100),
    tolerance: { relative: 0.005 },
    obtain: () => pumpDownS(100, 1e-9),
  },
  {
    id: 'pump-down-with-ultimate-pressure',
    title: 'The same to 100 Pa with an ultimate pressure of 3 Pa: V/S·ln((p₀ − pᵤ)/(p − pᵤ))',
    source: 'closed form, any vacuum textbook',
    unit: 's',
    expected: (VOLUME_M3 / SPEED_M3_PER_S) * Math.log((ATMOSPHERE_PA - 3) / (100 - 3)),
    tolerance: { relative: 0.005 },
    obtain: () => pumpDownS(100, 3),
  },
];

const tubes: readonly Check[] = [
  ...([0.0048, 0.00635, 0.0095] as const).flatMap((boreM): readonly Check[] => [
    {
      id: `hose-${boreM * 1000}-mm-laminar`,
      title: `Laminar coefficient K of ${boreM * 1000} mm × 1.8 m for air: π·d⁴/(128·μ·L)`,
      source: 'Poiseuille; viscosity 1.82e-5 Pa·s at 20 °C (handbook)',
      unit: '10⁻⁶ m³/(s·Pa)',
      expected: laminar(boreM) * 1e6,
      tolerance: { relative: 0.005 },
      obtain: () => tubeOf(boreM, HOSE_LENGTH_M).laminarM3PerSPa * 1e6,
    },
    {
      id: `hose-${boreM * 1000}-mm-molecular`,
      title: `Molecular conductance of ${boreM * 1000} mm × 1.8 m for air at 20 °C: (π/12)·v̄·d³/L`,
      source: KINETIC_THEORY,
      unit: '10⁻⁶ m³/s',
      expected: molecular(boreM) * 1e6,
      tolerance: { relative: 0.005 },
      obtain: () => tubeOf(boreM, HOSE_LENGTH_M).molecularM3PerS * 1e6,
    },
  ]),
  {
    id: 'molecular-orifice',
    title:
      'Free-molecular conductance of an opening for air at 20 °C, v̄/4, from the long tube’s C·3L/(4d) over its bore’s area',
    source: `${KINETIC_THEORY}; 11.6 L/s per cm² in vacuum handbooks`,
    unit: 'L/(s·cm²)',
    expected: 11.6,
    tolerance: { relative: 0.01 },
    obtain: () => {
      const boreCm = 0.48;
      const litresPerS = tubeOf(0.0048, HOSE_LENGTH_M).molecularM3PerS * 1000;
      return (litresPerS * 3 * HOSE_LENGTH_M * 100) / (4 * boreCm) / ((Math.PI / 4) * boreCm ** 2);
    },
  },
  {
    id: 'hose-laminar-flow',
    title: 'Air from 2000 to 1000 Pa through 4.8 mm × 1.8 m: K/2·(p₁² − p₂²)/(R·T)',
    source: 'Poiseuille for a compressible gas',
    unit: 'mg/s',
    expected: ((laminar(0.0048) / 2) * (2000 ** 2 - 1000 ** 2) * 1e6) / (AIR_GAS_CONSTANT * ROOM_K),
    tolerance: { relative: 0.01 },
    obtain: () => laminarFlow(2000, 1000) * 1e6,
  },
];

const hoseLimited: readonly Check[] = [
  {
    id: 'hose-limited-laminar',
    title:
      '3 L of air through one hose 4.8 mm × 1.8 m into a perfect vacuum, laminar only: 100 Pa after 2V/K·(1/p − 1/p₀)',
    source: 'Poiseuille, integrated',
    unit: 's',
    expected: ((2 * VOLUME_M3) / laminar(0.0048)) * (1 / 100 - 1 / ATMOSPHERE_PA),
    tolerance: { relative: 0.01 },
    obtain: () => hoseLimitedS(1, 0, 100),
  },
  ...(
    [
      [1, 100],
      [2, 100],
      [1, 10],
    ] as const
  ).map(
    ([hoses, toPa]): Check => ({
      id: `hose-limited-${hoses}-to-${toPa}-pa`,
      title: `The same through ${hoses === 1 ? 'one hose' : 'two hoses'}, laminar plus molecular, to ${toPa} Pa`,
      source: 'sum of Poiseuille and Knudsen, integrated',
      unit: 's',
      expected: hoseLimitedByHandS(hoses, toPa),
      tolerance: { relative: 0.01 },
      obtain: () => hoseLimitedS(hoses, 1, toPa),
    }),
  ),
  {
    id: 'base-pressure-with-gas-load',
    title:
      'A gas load of 1e-4 Pa·m³/s of air behind two hoses 4.8 mm and a perfect pump: base pressure (−C + √(C² + 2·K·Q))/K',
    source: 'closed form of the same sum',
    unit: 'Pa',
    expected:
      (-2 * molecular(0.0048) +
        Math.sqrt((2 * molecular(0.0048)) ** 2 + 4 * laminar(0.0048) * GAS_LOAD_PA_M3_PER_S)) /
      (2 * laminar(0.0048)),
    tolerance: { relative: 0.02 },
    obtain: basePressurePa,
  },
];

export const pumpDown: Topic = {
  heading: 'Pump-down and hoses',
  checks: [...pumpOnly, ...tubes, ...hoseLimited],
};
