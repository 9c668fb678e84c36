// Free water under vacuum: the plateau, how fast it goes, and how it freezes.
import {
  CONDENSED_WATER,
  waterSaturationTemperatureK,
  waterVapourViscosityPaS,
} from '../../../sim/fluids/water.ts';
import { Network } from '../../../sim/network/network.ts';
import { filmTemperatureK, iceShare } from '../../../sim/network/water-film.ts';
import { ROOM_K } from '../../sim/network/kit.ts';
import { pumped, wetNode } from '../../sim/network/wet-kit.ts';
import { equilibrium, MOLAR_GAS_CONSTANT } from '../bench-top.ts';
import { type Check, once, type Topic } from '../check.ts';

const VAPOUR_PA_20_C = 2339.3;
const WATER_GAS_CONSTANT = MOLAR_GAS_CONSTANT / 0.018015268;
/** Saturated steam at 20 °C (IAPWS 2008, evaluated by CoolProp 8), Pa·s. */
const WATER_VISCOSITY = 9.544e-6;
const PUMP_M3_PER_S = 2e-3;
const ULTIMATE_PA = 1;

/** Water vapour of room temperature through two hoses 4.8 mm × 1.8 m and the pump in series, kg/s. */
function drawnByHandKgPerS(fromPa: number): number {
  const laminar = (2 * Math.PI * 0.0048 ** 4) / (128 * WATER_VISCOSITY * 1.8);
  const meanSpeed = Math.sqrt((8 * WATER_GAS_CONSTANT * ROOM_K) / Math.PI);
  const molecular = (2 * (Math.PI / 12) * meanSpeed * 0.0048 ** 3) / 1.8;
  let low = ULTIMATE_PA;
  let high = fromPa;
  for (let i = 0; i < 60; i++) {
    const inletPa = (low + high) / 2;
    const through = (laminar / 2) * (fromPa ** 2 - inletPa ** 2) + molecular * (fromPa - inletPa);
    if (through > PUMP_M3_PER_S * (inletPa - ULTIMATE_PA)) low = inletPa;
    else high = inletPa;
  }
  return (PUMP_M3_PER_S * (low - ULTIMATE_PA)) / (WATER_GAS_CONSTANT * ROOM_K);
}

/** 1 g of water in 3 L without a way out. */
const still = once(() => {
  const node = wetNode(equilibrium('R-134a'), 1e-3);
  new Network(equilibrium('R-134a'), [node], []).advance(60);
  return { pressurePa: node.pressurePa, vapourMg: node.waterKg * 1e6 };
});

/** 10 g at 20 °C on a wall that keeps its temperature. */
const evaporated = once(() => {
  const node = wetNode(equilibrium('R-134a'), 10e-3);
  const network = pumped(equilibrium('R-134a'), node, 2);
  network.advance(60);
  const startKg = node.filmKg;
  network.advance(240);
  const kgPerS = (startKg - node.filmKg) / 240;
  const { pressurePa } = node;
  let seconds = 300;
  for (; node.filmKg > 0 && seconds < 3600; seconds++) network.advance(1);
  return { pressurePa, gPerMin: kgPerS * 60_000, minutes: seconds / 60 };
});

/** Removal at a pressure, from a block of ice so large that it keeps its temperature in a warm vessel, g/h. */
function removedGPerHour(pressurePa: number): number {
  const node = wetNode(equilibrium('R-134a'), 100, { filmUa: 1e-6 });
  const { iceHeatJPerKgK, fusionJPerKg, freezingK } = CONDENSED_WATER;
  const iceK = waterSaturationTemperatureK(pressurePa);
  node.filmEnergyJ = node.filmKg * (iceHeatJPerKgK * (iceK - freezingK) - fusionJPerKg);
  const network = pumped(equilibrium('R-134a'), node, 2);
  network.advance(600);
  const beforeKg = node.filmKg;
  network.advance(1800);
  return (beforeKg - node.filmKg) * 2000;
}

/** 10 g at 20 °C pumped without heat: shares evaporated when the freezing point is reached, and when all is ice. */
const frozen = once(() => {
  const node = wetNode(equilibrium('R-134a'), 10e-3, { filmUa: 1e-6 });
  const network = pumped(equilibrium('R-134a'), node, 20);
  let atFreezing = Number.NaN;
  for (let i = 0; i < 8000; i++) {
    network.advance(0.5);
    const share = 1 - node.filmKg / 10e-3;
    if (Number.isNaN(atFreezing) && filmTemperatureK(node.filmKg, node.filmEnergyJ) <= 273.15)
      atFreezing = share;
    if (iceShare(node) === 1) return { atFreezing, allIce: share };
  }
  throw new Error('the water never froze');
});

/** Ice that takes its heat from a wall at 0 °C, g/h for each watt. */
function sublimedPerWatt(): number {
  const conductance = 0.05;
  const node = wetNode(equilibrium('R-134a'), 10e-3, { startK: 253.15, filmUa: conductance });
  node.wallK = 273.15;
  const network = pumped(equilibrium('R-134a'), node, 20);
  network.advance(1800);
  const filmK = filmTemperatureK(node.filmKg, node.filmEnergyJ);
  const beforeKg = node.filmKg;
  network.advance(3600);
  return ((beforeKg - node.filmKg) * 1000) / (conductance * (node.wallK - filmK));
}

/** Mean heat of evaporation between 20 and 0 °C and at 0 °C, of fusion, and heat capacity: steam tables, kJ/kg. */
const shareToCool = 1 - Math.exp((-4.19 * 20) / 2477);
const shareToFreeze = 333.4 / (333.4 + 2500.9);
const SERIES = 'Poiseuille and Knudsen in series with the pump, by bisection';
const STEAM_TABLES = 'energy balance with figures of the steam tables (IAPWS-95)';

const plateau: readonly Check[] = [
  {
    id: 'free-water-saturates-3-l',
    title: 'Free water at 20 °C in 3 L of vacuum: vapour in the volume',
    source: 'steam tables (IAPWS-95), 17.314 g/m³',
    unit: 'mg',
    expected: 17.314 * 3,
    tolerance: { relative: 0.01 },
    obtain: () => still().vapourMg,
  },
  {
    id: 'free-water-plateau-at-rest',
    title: 'and the pressure it holds',
    source: 'steam tables (IAPWS-95)',
    unit: 'Pa',
    expected: VAPOUR_PA_20_C,
    tolerance: { relative: 0.01 },
    obtain: () => still().pressurePa,
  },
  {
    id: 'free-water-plateau-pumped',
    title:
      '10 g of water on a wall of 20 °C, two hoses 4.8 mm × 1.8 m, pump of 2 L/s: pressure while it lasts',
    source: 'steam tables (IAPWS-95)',
    unit: 'Pa',
    expected: VAPOUR_PA_20_C,
    tolerance: { relative: 0.05 },
    obtain: () => evaporated().pressurePa,
  },
  {
    id: 'free-water-rate',
    title: 'the rate at which it goes',
    source: SERIES,
    unit: 'g/min',
    expected: drawnByHandKgPerS(VAPOUR_PA_20_C) * 60_000,
    tolerance: { relative: 0.05 },
    obtain: () => evaporated().gPerMin,
  },
  {
    id: 'free-water-gone',
    title: 'and when it is gone',
    source: SERIES,
    unit: 'min',
    expected: 10 / (drawnByHandKgPerS(VAPOUR_PA_20_C) * 60_000),
    tolerance: { relative: 0.05 },
    obtain: () => evaporated().minutes,
  },
  ...(
    [
      [133.322, 1000],
      [66.661, 500],
    ] as const
  ).map(
    ([pressurePa, micron]): Check => ({
      id: `water-removal-at-${micron}-micron`,
      title: `Ice that evaporates at ${pressurePa} Pa (${micron} micron) through the same hoses and pump goes at`,
      source: SERIES,
      unit: 'g/h',
      expected: drawnByHandKgPerS(pressurePa) * 3.6e6,
      tolerance: { relative: 0.05 },
      obtain: () => removedGPerHour(pressurePa),
    }),
  ),
];

const freezing: readonly Check[] = [
  {
    id: 'water-cools-to-freezing',
    title: 'Water of 20 °C pumped without heat: evaporated when it reaches 0 °C, 1 − exp(−c·ΔT/h)',
    source: STEAM_TABLES,
    unit: '%',
    expected: 100 * shareToCool,
    tolerance: { absolute: 0.2 },
    obtain: () => 100 * frozen().atFreezing,
  },
  {
    id: 'water-freezes',
    title: 'and when all the rest is ice, with h_fus/(h_fus + h_evap) of what was left',
    source: STEAM_TABLES,
    unit: '%',
    expected: 100 * (1 - (1 - shareToCool) * (1 - shareToFreeze)),
    tolerance: { absolute: 0.3 },
    obtain: () => 100 * frozen().allIce,
  },
  {
    id: 'ice-sublimes-per-watt',
    title: 'Ice goes with the heat that leaks in: 3600/2834 kJ/kg',
    source: STEAM_TABLES,
    unit: 'g/(h·W)',
    expected: 3600 / 2834,
    tolerance: { relative: 0.02 },
    obtain: sublimedPerWatt,
  },
];

const viscosities: readonly Check[] = (
  [
    [0, 8.946],
    [20, 9.544],
    [40, 10.185],
    [100, 12.232],
  ] as const
).map(
  ([celsius, microPaS]): Check => ({
    id: `water-vapour-viscosity-${celsius}-c`,
    title: `Viscosity of saturated steam at ${celsius} °C, against the thin vapour that the simulator takes`,
    source: 'IAPWS 2008, evaluated by CoolProp 8',
    unit: '10⁻⁶ Pa·s',
    expected: microPaS,
    tolerance: { relative: 0.02 },
    obtain: () => waterVapourViscosityPaS(273.15 + celsius) * 1e6,
  }),
);

export const film: Topic = {
  heading: 'Water under vacuum',
  checks: [...plateau, ...freezing, ...viscosities],
};
