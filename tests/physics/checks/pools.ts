// Liquid that boils off under suction and cools itself: one draw, and recover-and-rest cycles.
import { makeEdge } from '../../../sim/network/edge.ts';
import { Network } from '../../../sim/network/network.ts';
import { makeNode } from '../../../sim/network/node.ts';
import { adiabaticNode, boundary, isothermalNode, ROOM_K } from '../../sim/network/kit.ts';
import {
  ATMOSPHERE_PA,
  CELSIUS_K,
  drawVapour,
  equilibrium,
  liquidKg,
  type Refrigerant,
  saturationLine,
} from '../bench-top.ts';
import { type Check, once, type Topic } from '../check.ts';
import { ENERGY_BALANCE } from '../sources.ts';

/** Boiled away when the pool, without metal and heat, has cooled to its normal boiling point, per cent. */
function boiledPercent(refrigerant: Refrigerant, fromC: number): number {
  const of = equilibrium(refrigerant);
  const fromK = CELSIUS_K + fromC;
  const pool = adiabaticNode('pool', 1e-3);
  of.fill(pool, fromK, { refrigerantKg: of.saturationAt(fromK).liquidDensityKgPerM3 * 0.8e-3 });
  const before = pool.refrigerantKg;
  drawVapour(of, pool, ATMOSPHERE_PA);
  return 100 * (1 - pool.refrigerantKg / before);
}

/** Liquid left at the normal boiling point of 0.3 kg at 20 °C with 720 J/K of metal, g. */
function leftWithMetalG(): number {
  const of = equilibrium('R-134a');
  const pool = adiabaticNode('pool', 0.3e-3, 720);
  of.fill(pool, ROOM_K, { refrigerantKg: 0.3 });
  drawVapour(of, pool, ATMOSPHERE_PA);
  return 1000 * liquidKg(pool);
}

const selfCooling: readonly Check[] = [
  ...(
    [
      ['R-134a', 20, 26.6],
      ['R-134a', 30, 32.3],
      ['R-1234yf', 20, 32.0],
      ['R-1234yf', 30, 38.3],
    ] as const
  ).map(
    ([refrigerant, fromC, percent]): Check => ({
      id: `pool-${refrigerant.toLowerCase()}-from-${fromC}-c`,
      title: `A pool of ${refrigerant} at ${fromC} °C without metal and heat reads 0 gauge when this much has boiled away`,
      source: `${ENERGY_BALANCE}: dU = h″·dm`,
      unit: '%',
      expected: percent,
      tolerance: { absolute: 1 },
      obtain: () => boiledPercent(refrigerant, fromC),
    }),
  ),
  {
    id: 'pool-with-metal',
    title:
      '0.3 kg of R-134a at 20 °C with 720 J/K of metal: liquid left at the normal boiling point, (m₀ + C/c)·exp(−c·ΔT/h) − C/c with c = 1.343 kJ/(kg·K), h = 199.6 kJ/kg',
    source: 'closed form with mean values',
    unit: 'g',
    expected: 1000 * ((0.3 + 0.72 / 1.343) * Math.exp((-1.343 * 46.07) / 199.6) - 0.72 / 1.343),
    tolerance: { relative: 0.03 },
    obtain: leftWithMetalG,
  },
];

/** Pool, metal and heat from the room at 20 °C; 2.5 L of vapour above; drawn by 0.2417 L/s, 5 % clearance, n = 1.1. */
type Reference = {
  readonly id: string;
  readonly poolKg: number;
  readonly metalJPerK: number;
  readonly uaWPerK: number;
  readonly stopS: number;
  readonly leftG: number;
  readonly recoveredG: readonly number[];
  readonly restBar: readonly number[];
  readonly dryS?: number;
};

const REFERENCES: readonly Reference[] = [
  {
    id: '500g-300jk-0.8wk',
    poolKg: 0.5,
    metalJPerK: 300,
    uaWPerK: 0.8,
    stopS: 98,
    leftG: 298,
    recoveredG: [259, 308, 356, 403],
    restBar: [1.142, 1.273, 1.674],
  },
  {
    id: '500g-700jk-0.8wk',
    poolKg: 0.5,
    metalJPerK: 700,
    uaWPerK: 0.8,
    stopS: 131,
    leftG: 215,
    recoveredG: [342, 393, 444, 495],
    restBar: [1.107, 1.203, 1.498],
  },
  {
    id: '300g-700jk-1.5wk',
    poolKg: 0.3,
    metalJPerK: 700,
    uaWPerK: 1.5,
    stopS: 117,
    leftG: 58,
    recoveredG: [298, 352],
    restBar: [1.232, 1.457, 2.134],
    dryS: 447,
  },
];
const VAPOUR_SPACE_M3 = 2.5e-3;
const DELIVERY_PA = 665_400;
const REST_S = [60, 120, 300] as const;
const STEP_S = 0.1;

type Cycles = {
  readonly stopS: number;
  readonly leftG: number;
  readonly recoveredG: readonly number[];
  readonly restBar: readonly number[];
  /** When the last liquid is gone, on the clock of the whole run. */
  readonly dryS: number;
};

function cycles({ poolKg, metalJPerK, uaWPerK, recoveredG }: Reference): Cycles {
  const of = equilibrium('R-134a');
  const { liquidDensityKgPerM3, vapourDensityKgPerM3 } = of.saturationAt(ROOM_K);
  const volumeM3 = poolKg / liquidDensityKgPerM3 + VAPOUR_SPACE_M3;
  const spec = { name: 'pool', volumeM3, contactMetalJPerK: metalJPerK, contactUaWPerK: uaWPerK };
  const node = makeNode(spec, ROOM_K);
  of.fill(node, ROOM_K, { refrigerantKg: poolKg + VAPOUR_SPACE_M3 * vapourDensityKgPerM3 });
  const initialKg = node.refrigerantKg;
  const compressor = makeEdge({
    kind: 'compressor',
    name: 'compressor',
    a: node,
    b: boundary(of, DELIVERY_PA),
    portA: 'vapour',
    portB: 'mixed',
    sweptM3PerS: 0.2417e-3,
    clearance: 0.05,
    polytropicExponent: 1.1,
    efficiency: 0.6,
    opening: 1,
  });
  const network = new Network(of, [node], [compressor]);
  const taken: number[] = [];
  const restBar: number[] = [];
  let clockS = 0;
  let stopS = 0;
  let leftG = 0;
  let dryS = Number.POSITIVE_INFINITY;
  for (let cycle = 0; cycle < recoveredG.length; cycle++) {
    compressor.opening = 1;
    network.rewire();
    while (node.pressurePa > ATMOSPHERE_PA) {
      network.advance(STEP_S);
      clockS += STEP_S;
      if (node.liquidFraction === 0) dryS = Math.min(dryS, clockS);
    }
    taken.push(1000 * (initialKg - node.refrigerantKg));
    if (cycle === 0) {
      stopS = clockS;
      leftG = 1000 * liquidKg(node);
    }
    compressor.opening = 0;
    network.rewire();
    let restedS = 0;
    for (const untilS of REST_S) {
      network.advance(untilS - restedS);
      restedS = untilS;
      if (cycle === 0) restBar.push(node.pressurePa / 1e5);
    }
    clockS += restedS;
  }
  return { stopS, leftG, recoveredG: taken, restBar, dryS };
}

function freezeUpChecks(reference: Reference): readonly Check[] {
  const { id, poolKg, metalJPerK, uaWPerK } = reference;
  const run = once(() => cycles(reference));
  const setup = `${poolKg * 1000} g of R-134a, ${metalJPerK} J/K, ${uaWPerK} W/K`;
  const check = (
    name: string,
    what: string,
    unit: string,
    expected: number,
    obtain: (of: Cycles) => number,
  ): Check => ({
    id: `freeze-up-${id}-${name}`,
    title: `${setup}: ${what}`,
    source: `${ENERGY_BALANCE}, integrated over the whole run`,
    unit,
    expected,
    tolerance: { relative: 0.05 },
    obtain: () => obtain(run()),
  });
  return [
    check('stop', '0 gauge is reached', 's', reference.stopS, ({ stopS }) => stopS),
    check('left', 'liquid left then', 'g', reference.leftG, ({ leftG }) => leftG),
    ...REST_S.map((restS, i) =>
      check(
        `rest-${restS}-s`,
        `pressure after ${restS} s of rest`,
        'bar',
        reference.restBar[i]!,
        (of) => of.restBar[i]!,
      ),
    ),
    ...reference.recoveredG.map((expected, i) =>
      check(`recovered-${i + 1}`, `recovered after cycle ${i + 1}`, 'g', expected, (of) => of.recoveredG[i]!),
    ),
    ...(reference.dryS === undefined
      ? []
      : [check('dry', 'the last liquid is gone, rest included', 's', reference.dryS, ({ dryS }) => dryS)]),
  ];
}

/** Vapour over 3 L, drawn at constant temperature, g. */
function vapourLeftG(refrigerant: Refrigerant, toPa: number | undefined): number {
  const of = equilibrium(refrigerant);
  const node = isothermalNode('system', 3e-3);
  of.fill(node, ROOM_K, { refrigerantKg: of.saturationAt(ROOM_K).vapourDensityKgPerM3 * 3e-3 });
  if (toPa !== undefined) drawVapour(of, node, toPa);
  return 1000 * node.refrigerantKg;
}

const vapour: readonly Check[] = (
  [
    ['R-134a', undefined, 83.34],
    ['R-134a', 101_325, 13.009],
    ['R-134a', 35_000, 4.4285],
    ['R-1234yf', undefined, 98.31],
    ['R-1234yf', 101_325, 14.563],
    ['R-1234yf', 35_000, 4.9523],
  ] as const
).map(
  ([refrigerant, toPa, expected]): Check => ({
    id: `vapour-3-l-${refrigerant.toLowerCase()}-${toPa ?? 'saturated'}`,
    title:
      toPa === undefined
        ? `3 L of saturated ${refrigerant} vapour at 20 °C hold`
        : `3 L of ${refrigerant} vapour at 20 °C drawn down to ${toPa / 1000} kPa still hold`,
    source: 'equation of state by CoolProp 8',
    unit: 'g',
    expected,
    tolerance: { relative: 0.01 },
    obtain: () => vapourLeftG(refrigerant, toPa),
  }),
);

/** Slope of the pressure of a warming pool at its normal boiling point. */
const slopes: readonly Check[] = ([-26, 0, 20, 40] as const).flatMap((celsius, i) =>
  (['R-134a', 'R-1234yf'] as const).map(
    (refrigerant): Check => ({
      id: `saturation-slope-${refrigerant.toLowerCase()}-${celsius}`,
      title: `Slope of the vapour pressure of ${refrigerant} at ${celsius} °C`,
      source: 'equation of state by CoolProp 8',
      unit: 'kPa/K',
      expected: (refrigerant === 'R-134a'
        ? [4.6474, 10.609, 17.674, 27.264]
        : [5.0083, 10.715, 17.211, 25.833])[i]!,
      tolerance: { relative: 0.001 },
      obtain: () => saturationLine(refrigerant).at(CELSIUS_K + celsius).dPdT / 1000,
    }),
  ),
);

export const pools: Topic = {
  heading: 'Boiling pools and self-refrigeration',
  checks: [...selfCooling, ...REFERENCES.flatMap(freezeUpChecks), ...vapour, ...slopes],
};
