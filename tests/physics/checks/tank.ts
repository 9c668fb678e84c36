// The storage tank: air over the liquid, heating, drawing vapour, and how far it may be filled.
import { Network } from '../../../sim/network/network.ts';
import { makeNode, type Node } from '../../../sim/network/node.ts';
import { boundary, isothermalNode, ROOM_K, restriction } from '../../sim/network/kit.ts';
import {
  AIR_MOLAR_MASS,
  CELSIUS_K,
  equilibrium,
  MOLAR_GAS_CONSTANT,
  type Refrigerant,
} from '../bench-top.ts';
import { type Check, once, type Topic } from '../check.ts';
import { ENERGY_BALANCE, referenceOf } from '../sources.ts';

const VOLUME_M3 = 21.6e-3;
const CONTENT_KG = 10;
/** 12.5 kg of steel at 470 J/(kg·K). */
const STEEL_J_PER_K = 12.5 * 470;
const AIR_GAS_CONSTANT = MOLAR_GAS_CONSTANT / AIR_MOLAR_MASS;
/** Saturated at 20 °C, by the reference program: liquid and vapour density. */
const LIQUID = 1225.33;
const VAPOUR = 27.78;
const VAPOUR_SPACE_M3 = (VOLUME_M3 * LIQUID - CONTENT_KG) / (LIQUID - VAPOUR);

const tank = (metalJPerK: number, uaWPerK = 0): Node =>
  makeNode(
    { name: 'tank', volumeM3: VOLUME_M3, contactMetalJPerK: metalJPerK, contactUaWPerK: uaWPerK },
    ROOM_K,
  );

function airPressureKPa(airKg: number): number {
  const of = equilibrium('R-134a');
  const node = tank(0);
  of.fill(node, ROOM_K, { refrigerantKg: CONTENT_KG });
  const alonePa = node.pressurePa;
  of.fill(node, ROOM_K, { refrigerantKg: CONTENT_KG, airKg });
  return (node.pressurePa - alonePa) / 1000;
}

/** Vents well-mixed gas at constant temperature until a share of the air is left; refrigerant lost with it, kg, and air. */
function purge(airKg: number, leftShare: number): { readonly refrigerantKg: number; readonly airKg: number } {
  const of = equilibrium('R-134a');
  const node = isothermalNode('tank', VOLUME_M3);
  of.fill(node, ROOM_K, { refrigerantKg: CONTENT_KG, airKg });
  const network = new Network(of, [node], [restriction(node, boundary(of, 101_325), 3e-7)]);
  const state = () => ({ refrigerantKg: CONTENT_KG - node.refrigerantKg, airKg: airKg - node.airKg });
  let before = state();
  for (let i = 0; i < 200_000; i++) {
    network.advance(0.5);
    const now = state();
    if (node.airKg > leftShare * airKg) {
      before = now;
      continue;
    }
    const wanted = airKg * (1 - leftShare);
    const part = (wanted - before.airKg) / (now.airKg - before.airKg);
    return {
      refrigerantKg: before.refrigerantKg + part * (now.refrigerantKg - before.refrigerantKg),
      airKg: wanted,
    };
  }
  throw new Error('the air never left');
}

const AIR_AT_34_KPA_KG = (34_000 * VAPOUR_SPACE_M3) / (AIR_GAS_CONSTANT * ROOM_K);

const air: readonly Check[] = [
  ...([5, 1.5] as const).map(
    (grams): Check => ({
      id: `tank-air-${grams}-g`,
      title: `${grams} g of air over 10 kg of R-134a in 21.6 L at 20 °C raise the pressure by`,
      source: 'ideal gas in the vapour space of 13.75 L',
      unit: 'kPa',
      expected: (grams * AIR_GAS_CONSTANT * ROOM_K) / VAPOUR_SPACE_M3 / 1e6,
      tolerance: { relative: 0.01 },
      obtain: () => airPressureKPa(grams / 1000),
    }),
  ),
  {
    id: 'purge-one-e-fold',
    title:
      'Venting a well-mixed tank at 20 °C (10 kg, 21.6 L, 5 g of air) until 63 % of the air is gone costs (ρ′ − ρ″)·V·(exp(ρ″/(ρ′ − ρ″)) − 1)',
    source: 'closed form',
    unit: 'g',
    expected: 1000 * (LIQUID - VAPOUR) * VAPOUR_SPACE_M3 * (Math.exp(VAPOUR / (LIQUID - VAPOUR)) - 1),
    tolerance: { relative: 0.02 },
    obtain: () => 1000 * purge(0.005, Math.exp(-1)).refrigerantKg,
  },
  {
    id: 'purge-price-at-34-kpa',
    title: 'At 34 kPa of air in that tank, each gram of air takes ρ″/ρ_air of refrigerant with it',
    source: 'closed form',
    unit: 'g/g',
    expected: VAPOUR / (34_000 / (AIR_GAS_CONSTANT * ROOM_K)),
    tolerance: { relative: 0.02 },
    obtain: () => {
      const { refrigerantKg, airKg } = purge(AIR_AT_34_KPA_KG, 0.99);
      return refrigerantKg / airKg;
    },
  },
];

/** Heats a tank by adding energy each second. */
function heat(node: Node, refrigerant: Refrigerant, watts: number, seconds: number): void {
  const of = equilibrium(refrigerant);
  for (let s = 0; s < seconds; s++) {
    node.energyJ += watts;
    of.settle(node, 1);
  }
}

function filledTank(refrigerant: Refrigerant, uaWPerK = 0): Node {
  const node = tank(STEEL_J_PER_K, uaWPerK);
  equilibrium(refrigerant).fill(node, ROOM_K, { refrigerantKg: CONTENT_KG });
  return node;
}

function minutesTo30C(refrigerant: Refrigerant): number {
  const node = filledTank(refrigerant);
  for (let s = 0; s < 7200; s++) {
    const beforeK = node.temperatureK;
    heat(node, refrigerant, 200, 1);
    if (node.temperatureK >= 303.15) return (s + (303.15 - beforeK) / (node.temperatureK - beforeK)) / 60;
  }
  throw new Error('30 °C never reached');
}

const heated = once(() => {
  const node = filledTank('R-134a');
  const startPa = node.pressurePa;
  heat(node, 'R-134a', 200, 60);
  return { kelvinPerMinute: node.temperatureK - ROOM_K, kPaPerMinute: (node.pressurePa - startPa) / 1000 };
});

/** 200 W with 3 W/K to a room of 20 °C, until nothing changes any more. */
const steady = once(() => {
  const node = filledTank('R-134a', 3);
  heat(node, 'R-134a', 200, 20 * 3600);
  return { riseK: node.temperatureK - ROOM_K, bar: node.pressurePa / 1e5 };
});

const heater: readonly Check[] = [
  ...(
    [
      ['R-134a', 17.98, 1.985],
      ['R-1234yf', 17.46, 1.918],
    ] as const
  ).flatMap(([refrigerant, minutes, bar]): readonly Check[] => [
    {
      id: `heater-20-to-30-c-${refrigerant.toLowerCase()}`,
      title: `200 W into 10 kg of ${refrigerant} in 21.6 L with 12.5 kg of steel: from 20 to 30 °C in`,
      source: ENERGY_BALANCE,
      unit: 'min',
      expected: minutes,
      tolerance: { relative: 0.02 },
      obtain: () => minutesTo30C(refrigerant),
    },
    {
      id: `heater-pressure-${refrigerant.toLowerCase()}`,
      title: `Which raises its pressure by (${refrigerant})`,
      source: referenceOf(refrigerant),
      unit: 'bar',
      expected: bar,
      tolerance: { relative: 0.02 },
      obtain: () => {
        const node = filledTank(refrigerant);
        const startPa = node.pressurePa;
        heat(node, refrigerant, 200, Math.round(minutes * 60));
        return (node.pressurePa - startPa) / 1e5;
      },
    },
  ]),
  {
    id: 'heater-rate-temperature',
    title: 'In the first minute it warms (R-134a) by',
    source: ENERGY_BALANCE,
    unit: 'K/min',
    expected: 0.5627,
    tolerance: { relative: 0.02 },
    obtain: () => heated().kelvinPerMinute,
  },
  {
    id: 'heater-rate-pressure',
    title: 'and its pressure rises by 17.67 kPa/K of that, and a little more as it warms',
    source: ENERGY_BALANCE,
    unit: 'kPa/min',
    expected: 0.5627 * (17.674 + 0.5 * 0.5627 * 0.45),
    tolerance: { relative: 0.02 },
    obtain: () => heated().kPaPerMinute,
  },
  {
    id: 'heater-without-thermostat',
    title: 'With 3 W/K to a room of 20 °C and no thermostat it ends this much warmer: 200 W over 3 W/K',
    source: 'closed form',
    unit: 'K',
    expected: 200 / 3,
    tolerance: { relative: 0.02 },
    obtain: () => steady().riseK,
  },
  {
    id: 'heater-without-thermostat-pressure',
    title: 'at the saturation pressure of 86.67 °C: a thermostat is needed',
    source: referenceOf('R-134a'),
    unit: 'bar',
    expected: 30.29,
    tolerance: { relative: 0.02 },
    obtain: () => steady().bar,
  },
];

const drawn = {
  'R-134a': once(() => drawnTank('R-134a')),
  'R-1234yf': once(() => drawnTank('R-1234yf')),
};

/** 600 g of vapour out of a tank that takes no heat. */
function drawnTank(refrigerant: Refrigerant): Node {
  const of = equilibrium(refrigerant);
  const node = filledTank(refrigerant);
  const network = new Network(of, [node], [restriction(node, boundary(of, 100), 5e-6)]);
  while (node.refrigerantKg > CONTENT_KG - 0.6) network.advance(0.1);
  return node;
}

const vapourDraw: readonly Check[] = (
  [
    ['R-134a', 14.55, 4.814],
    ['R-1234yf', 15.38, 5.163],
  ] as const
).flatMap(([refrigerant, celsius, bar]): readonly Check[] => [
  {
    id: `vapour-draw-temperature-${refrigerant.toLowerCase()}`,
    title: `600 g of vapour drawn from that tank of ${refrigerant} without heat cool it from 20 °C by`,
    source: ENERGY_BALANCE,
    unit: 'K',
    expected: 20 - celsius,
    tolerance: { relative: 0.05 },
    obtain: () => ROOM_K - drawn[refrigerant]().temperatureK,
  },
  {
    id: `vapour-draw-pressure-${refrigerant.toLowerCase()}`,
    title: 'to a pressure of',
    source: ENERGY_BALANCE,
    unit: 'bar',
    expected: bar,
    tolerance: { relative: 0.05 },
    obtain: () => drawn[refrigerant]().pressurePa / 1e5,
  },
]);

/** Filled at 21 °C to a share of its volume with liquid: where the vapour space is gone, and how steep it is there. */
function liquidFull(
  refrigerant: Refrigerant,
  share: number,
): { readonly celsius: number; readonly barPerK: number } {
  const of = equilibrium(refrigerant);
  const { liquidDensityKgPerM3, vapourDensityKgPerM3 } = of.saturationAt(294.15);
  const massKg = (share * liquidDensityKgPerM3 + (1 - share) * vapourDensityKgPerM3) * VOLUME_M3;
  const node = tank(0);
  let low = 294.15;
  let high = 360;
  while (high - low > 1e-6) {
    const middle = (low + high) / 2;
    of.fill(node, middle, { refrigerantKg: massKg });
    if (node.liquidFraction >= 1) high = middle;
    else low = middle;
  }
  const pressureAt = (temperatureK: number): number => {
    of.fill(node, temperatureK, { refrigerantKg: massKg });
    return node.pressurePa;
  };
  return { celsius: high - CELSIUS_K, barPerK: (pressureAt(high + 1) - pressureAt(high)) / 1e5 };
}

const LIQUID_FULL = [
  ['R-134a', 80, 72.11, 3.17],
  ['R-134a', 85, 61.91, 3.827],
  ['R-134a', 90, 49.99, 4.616],
  ['R-134a', 95, 36.34, 5.571],
  ['R-1234yf', 80, 68.54, 2.492],
  ['R-1234yf', 85, 59.1, 3.009],
  ['R-1234yf', 90, 48.03, 3.625],
  ['R-1234yf', 95, 35.32, 4.363],
] as const;

const filling: readonly Check[] = LIQUID_FULL.flatMap(
  ([refrigerant, percent, celsius, barPerK]): readonly Check[] => {
    const full = once(() => liquidFull(refrigerant, percent / 100));
    return [
      {
        id: `liquid-full-${refrigerant.toLowerCase()}-${percent}-percent`,
        title: `Filled at 21 °C to ${percent} % of its volume with liquid ${refrigerant}, a tank is full of liquid at`,
        source: referenceOf(refrigerant),
        unit: '°C',
        expected: celsius,
        tolerance: { absolute: 1 },
        obtain: () => full().celsius,
      },
      {
        id: `liquid-full-${refrigerant.toLowerCase()}-${percent}-percent-slope`,
        title: 'and the next kelvin raises its pressure by',
        source: referenceOf(refrigerant),
        unit: 'bar/K',
        expected: barPerK,
        tolerance: { relative: 0.02 },
        obtain: () => full().barPerK,
      },
    ];
  },
);

export const tankTopic: Topic = {
  heading: 'Tank',
  checks: [...air, ...heater, ...vapourDraw, ...filling],
};
