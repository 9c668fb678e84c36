// What hoses and volumes hold, and where pressures settle when volumes are joined.
import { NOMINAL_HOSE_VOLUME_M3 } from '../../../sim/build.ts';
import { Network } from '../../../sim/network/network.ts';
import type { Node } from '../../../sim/network/node.ts';
import {
  adiabaticNode,
  airKgAt,
  boundary,
  fillWithVapour,
  isothermalNode,
  ROOM_K,
  restriction,
} from '../../sim/network/kit.ts';
import { CELSIUS_K, equilibrium, type Refrigerant } from '../bench-top.ts';
import { type Check, once, type Topic } from '../check.ts';
import { referenceOf } from '../sources.ts';

type Holding = 'liquid' | 'saturated vapour' | 'vapour of 3 bar';

function hoseG(refrigerant: Refrigerant, boreM: number, holding: Holding): number {
  const of = equilibrium(refrigerant);
  const volumeM3 = NOMINAL_HOSE_VOLUME_M3 * (boreM / 0.0048) ** 2;
  const hose = isothermalNode('hose', volumeM3);
  if (holding === 'vapour of 3 bar') {
    fillWithVapour(of, hose, 3e5);
    return 1000 * hose.refrigerantKg;
  }
  const { liquidDensityKgPerM3, vapourDensityKgPerM3 } = of.saturationAt(ROOM_K);
  return 1000 * volumeM3 * (holding === 'liquid' ? liquidDensityKgPerM3 : vapourDensityKgPerM3);
}

const HOLDINGS: readonly Holding[] = ['liquid', 'saturated vapour', 'vapour of 3 bar'];
const hoses: readonly Check[] = (
  [
    ['R-134a', 4.8, [39.91, 0.9049, 0.4387]],
    ['R-134a', 6.35, [69.85, 1.5836, 0.7677]],
    ['R-1234yf', 4.8, [36.14, 1.0674, 0.4929]],
    ['R-1234yf', 6.35, [63.26, 1.868, 0.8626]],
  ] as const
).flatMap(([refrigerant, boreMm, grams]) =>
  HOLDINGS.map(
    (holding, i): Check => ({
      id: `hose-${refrigerant.toLowerCase()}-${boreMm}-mm-${holding.replaceAll(' ', '-')}`,
      title: `A hose of ${boreMm} mm × 1.8 m at 20 °C full of ${refrigerant} ${holding} holds`,
      source: `π/4·d²·L·ρ; ${referenceOf(refrigerant)}`,
      unit: 'g',
      expected: grams[i]!,
      tolerance: { relative: 0.01 },
      obtain: () => hoseG(refrigerant, boreMm / 1000, holding),
    }),
  ),
);

/** 3 L at 5 bar opened to 1 L of vacuum, at 20 °C. */
function equalised(fill: (node: Node) => void) {
  const of = equilibrium('R-134a');
  const a = isothermalNode('a', 3e-3);
  const b = isothermalNode('b', 1e-3);
  fill(a);
  of.fill(b, ROOM_K, { refrigerantKg: 0 });
  const beforeKg = a.refrigerantKg;
  new Network(of, [a, b], [restriction(a, b, 1e-6)]).advance(60);
  return { bar: a.pressurePa / 1e5, beforeKg, lostKg: beforeKg - a.refrigerantKg - b.refrigerantKg };
}
const withRefrigerant = once(() => equalised((node) => fillWithVapour(equilibrium('R-134a'), node, 5e5)));
const withAir = once(() =>
  equalised((node) =>
    equilibrium('R-134a').fill(node, ROOM_K, { refrigerantKg: 0, airKg: airKgAt(5e5, 3e-3) }),
  ),
);

const joined: readonly Check[] = [
  {
    id: 'equalise-r-134a',
    title: '3 L of R-134a vapour at 5 bar and 20 °C opened to 1 L of vacuum settle at',
    source: referenceOf('R-134a'),
    unit: 'bar',
    expected: 3.8752,
    tolerance: { relative: 0.005 },
    obtain: () => withRefrigerant().bar,
  },
  {
    id: 'equalise-r-134a-content',
    title: 'They hold before and after',
    source: referenceOf('R-134a'),
    unit: 'g',
    expected: 71.232,
    tolerance: { relative: 0.005 },
    obtain: () => 1000 * withRefrigerant().beforeKg,
  },
  {
    id: 'equalise-r-134a-lost',
    title: 'Of which are lost on the way',
    source: 'conservation of mass',
    unit: 'ng',
    expected: 0,
    tolerance: { absolute: 0.01 },
    obtain: () => 1e12 * withRefrigerant().lostKg,
  },
  {
    id: 'equalise-air',
    title: 'The same with air settles at',
    source: 'ideal gas',
    unit: 'bar',
    expected: 3.75,
    tolerance: { relative: 1e-4 },
    obtain: () => withAir().bar,
  },
  ...(
    [
      ['R-134a', 7.949],
      ['R-1234yf', 7.113],
    ] as const
  ).map(
    ([refrigerant, kPa]): Check => ({
      id: `one-gram-in-3-l-${refrigerant.toLowerCase()}`,
      title: `1 g of ${refrigerant} let into 3 L of vacuum at 20 °C raises it by`,
      source: referenceOf(refrigerant),
      unit: 'kPa',
      expected: kPa,
      tolerance: { relative: 0.01 },
      obtain: () => {
        const system = isothermalNode('system', 3e-3);
        equilibrium(refrigerant).fill(system, ROOM_K, { refrigerantKg: 0.001 });
        return system.pressurePa / 1000;
      },
    }),
  ),
];

/** Vapour of 5 bar and 40 °C throttled into a small insulated node that is held at 1 bar by a wide opening. */
function throttledC(refrigerant: Refrigerant): number {
  const of = equilibrium(refrigerant);
  const up = isothermalNode('up', 1);
  let kg = 20;
  for (let i = 0; i < 80; i++) {
    of.fill(up, CELSIUS_K + 40, { refrigerantKg: kg });
    kg *= 5e5 / up.pressurePa;
  }
  const small = adiabaticNode('behind', 1e-3);
  fillWithVapour(of, small, 1e5);
  const network = new Network(
    of,
    [small],
    [restriction(up, small, 1e-6), restriction(small, boundary(of, 1e5), 1e-4, { portA: 'mixed' })],
  );
  network.advance(60);
  return small.temperatureK - CELSIUS_K;
}

const throttling: readonly Check[] = (
  [
    ['R-134a', 32.1],
    ['R-1234yf', 33.17],
  ] as const
).map(
  ([refrigerant, celsius]): Check => ({
    id: `joule-thomson-${refrigerant.toLowerCase()}`,
    title: `${refrigerant} vapour of 5 bar and 40 °C throttled to 1 bar without heat leaves at (constant enthalpy)`,
    source: referenceOf(refrigerant),
    unit: '°C',
    expected: celsius,
    tolerance: { absolute: 0.1 },
    obtain: () => throttledC(refrigerant),
  }),
);

export const inventory: Topic = {
  heading: 'Contents, equalisation, throttling',
  checks: [...hoses, ...joined, ...throttling],
};
