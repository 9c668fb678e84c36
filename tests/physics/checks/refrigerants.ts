// Published fixed points of the refrigerants, and single states against an independent program.
import { findFluid } from '../../../sim/fluids/fluid.ts';
import { CELSIUS_K, equilibrium, type Refrigerant, saturationLine } from '../bench-top.ts';
import type { Check, Topic } from '../check.ts';
import { referenceOf } from '../sources.ts';

const TILLNER_ROTH = 'Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657 (from memory)';
const LEMMON_AKASAKA = 'Lemmon & Akasaka, Int. J. Thermophys. 43 (2022) 119 (from memory)';

const fluid = (refrigerant: Refrigerant) => findFluid(refrigerant)!;

const fixedPoints: readonly Check[] = (
  [
    [
      'R-134a',
      'critical-temperature',
      'critical temperature',
      'K',
      374.21,
      0.0037,
      TILLNER_ROTH,
      () => fluid('R-134a').criticalTemperatureK,
    ],
    [
      'R-134a',
      'critical-pressure',
      'critical pressure',
      'MPa',
      4.05928,
      4e-5,
      TILLNER_ROTH,
      () => fluid('R-134a').criticalPressurePa / 1e6,
    ],
    [
      'R-134a',
      'critical-density',
      'critical density',
      'kg/m³',
      511.9,
      0.1,
      TILLNER_ROTH,
      () => fluid('R-134a').criticalDensityKgPerM3,
    ],
    [
      'R-134a',
      'boiling-point',
      'temperature of boiling at 101.325 kPa',
      'K',
      247.076,
      0.001,
      TILLNER_ROTH,
      () => saturationLine('R-134a').atPressure(101_325).temperatureK,
    ],
    [
      'R-134a',
      'triple-point',
      'vapour pressure at the triple point, 169.85 K',
      'Pa',
      389.56,
      0.05,
      TILLNER_ROTH,
      () => saturationLine('R-134a').at(169.85).pressurePa,
    ],
    [
      'R-1234yf',
      'critical-temperature',
      'critical temperature',
      'K',
      367.85,
      0.0037,
      LEMMON_AKASAKA,
      () => fluid('R-1234yf').criticalTemperatureK,
    ],
    [
      'R-1234yf',
      'critical-pressure',
      'critical pressure',
      'MPa',
      3.3844,
      3.4e-5,
      LEMMON_AKASAKA,
      () => fluid('R-1234yf').criticalPressurePa / 1e6,
    ],
    [
      'R-1234yf',
      'critical-density',
      'critical density, 4.18 mol/dm³',
      'kg/m³',
      476.69,
      0.1,
      LEMMON_AKASAKA,
      () => fluid('R-1234yf').criticalDensityKgPerM3,
    ],
    [
      'R-1234yf',
      'boiling-point',
      'temperature of boiling at 101.325 kPa',
      'K',
      243.692,
      0.001,
      referenceOf('R-1234yf'),
      () => saturationLine('R-1234yf').atPressure(101_325).temperatureK,
    ],
  ] as const
).map(
  ([refrigerant, name, what, unit, expected, absolute, source, obtain]): Check => ({
    id: `${refrigerant.toLowerCase()}-${name}`,
    title: `${refrigerant}: ${what}`,
    source,
    unit,
    expected,
    tolerance: { absolute },
    obtain,
  }),
);

/** °C, bar, kg/m³, kJ/kg, J/(kg·K), m/s. */
const STATES = [
  ['R-134a', 20, 1, 4.27841, 420.314, 843.521, 160.122],
  ['R-134a', 60, 5, 19.8075, 449.642, 956.515, 163.247],
  ['R-134a', 80, 15, 64.0691, 454.88, 1133.88, 150.907],
  ['R-134a', 90, 20, 88.003, 458.385, 1228.01, 146.175],
  ['R-1234yf', 20, 1, 4.78942, 386.022, 896.24, 149.766],
  ['R-1234yf', 60, 5, 22.3182, 417.962, 1008.81, 151.605],
  ['R-1234yf', 80, 15, 73.8572, 424.544, 1184.46, 136.614],
  ['R-1234yf', 90, 20, 102.837, 428.357, 1291.26, 130.619],
] as const;

const vapourStates: readonly Check[] = STATES.flatMap(
  ([refrigerant, celsius, bar, density, h, cp, sound]) => {
    const state = () => fluid(refrigerant).equation.at(CELSIUS_K + celsius, density);
    const check = (
      name: string,
      what: string,
      unit: string,
      expected: number,
      obtain: () => number,
    ): Check => ({
      id: `vapour-${refrigerant.toLowerCase()}-${celsius}-c-${name}`,
      title: `${refrigerant} vapour at ${celsius} °C and ${density} kg/m³: ${what}`,
      source: referenceOf(refrigerant),
      unit,
      expected,
      tolerance: { relative: 2e-5 },
      obtain,
    });
    return [
      check('pressure', 'pressure', 'bar', bar, () => state().pressurePa / 1e5),
      check('enthalpy', 'enthalpy', 'kJ/kg', h, () => state().enthalpyJPerKg / 1000),
      check('cp', 'heat capacity at constant pressure', 'J/(kg·K)', cp, () => state().cpJPerKgK),
      check('sound', 'speed of sound', 'm/s', sound, () => Math.sqrt(state().soundSpeedSquaredM2PerS2)),
    ];
  },
);

/** Saturated at 20 °C: cp and cv of the vapour, speeds of sound of vapour and liquid, cp of the liquid. */
const SATURATED = [
  ['R-134a', 1000.66, 821.029, 145.149, 1404.86, 529.608],
  ['R-1234yf', 1015.66, 855.65, 132.653, 1371.71, 468.378],
] as const;
const saturatedStates: readonly Check[] = SATURATED.flatMap(
  ([refrigerant, cp, cv, sound, cpLiquid, soundLiquid]) => {
    const point = () => saturationLine(refrigerant).at(CELSIUS_K + 20);
    const check = (
      name: string,
      what: string,
      unit: string,
      expected: number,
      obtain: () => number,
    ): Check => ({
      id: `saturated-${refrigerant.toLowerCase()}-20-c-${name}`,
      title: `${refrigerant} saturated at 20 °C: ${what}`,
      source: referenceOf(refrigerant),
      unit,
      expected,
      tolerance: { relative: 2e-5 },
      obtain,
    });
    return [
      check('cp', 'cp of the vapour', 'J/(kg·K)', cp, () => point().vapour.cpJPerKgK),
      check('cv', 'cv of the vapour', 'J/(kg·K)', cv, () => point().vapour.cvJPerKgK),
      check('sound', 'speed of sound in the vapour', 'm/s', sound, () =>
        Math.sqrt(point().vapour.soundSpeedSquaredM2PerS2),
      ),
      check('cp-liquid', 'cp of the liquid', 'J/(kg·K)', cpLiquid, () => point().liquid.cpJPerKgK),
      check('sound-liquid', 'speed of sound in the liquid', 'm/s', soundLiquid, () =>
        Math.sqrt(point().liquid.soundSpeedSquaredM2PerS2),
      ),
    ];
  },
);

const VISCOSITY_SOURCE = {
  'R-134a': 'Huber, Laesecke & Perkins 2003, evaluated by CoolProp 8',
  'R-1234yf': 'correlation of CoolProp 8',
} as const;
const viscosities: readonly Check[] = (
  [
    ['R-134a', -20, 10.113],
    ['R-134a', 20, 11.659],
    ['R-134a', 60, 13.185],
    ['R-1234yf', -20, 10.476],
    ['R-1234yf', 20, 12.173],
    ['R-1234yf', 60, 13.841],
  ] as const
).map(
  ([refrigerant, celsius, microPaS]): Check => ({
    id: `viscosity-${refrigerant.toLowerCase()}-${celsius}-c`,
    title: `Viscosity of thin ${refrigerant} vapour at ${celsius} °C`,
    source: VISCOSITY_SOURCE[refrigerant],
    unit: '10⁻⁶ Pa·s',
    expected: microPaS,
    tolerance: { relative: 0.01 },
    obtain: () => equilibrium(refrigerant).tables.vapourViscosityPaS(CELSIUS_K + celsius) * 1e6,
  }),
);

/** The simulator leaves out how viscosity changes with density: this is what that costs at the worst. */
const saturatedViscosities: readonly Check[] = (
  [
    ['R-134a', 11.488],
    ['R-1234yf', 12.302],
  ] as const
).map(
  ([refrigerant, microPaS]): Check => ({
    id: `viscosity-${refrigerant.toLowerCase()}-saturated-20-c`,
    title: `Viscosity of saturated ${refrigerant} vapour at 20 °C, against the thin gas that the simulator takes`,
    source: VISCOSITY_SOURCE[refrigerant],
    unit: '10⁻⁶ Pa·s',
    expected: microPaS,
    tolerance: { relative: 0.03 },
    obtain: () => equilibrium(refrigerant).tables.vapourViscosityPaS(CELSIUS_K + 20) * 1e6,
  }),
);

/** Pressure in the throat of an isentropic nozzle over that before it: where the mass flux along the isentrope is largest. */
function throatRatio(refrigerant: Refrigerant, temperatureK: number, densityKgPerM3: number): number {
  const { equation } = fluid(refrigerant);
  const inlet = equation.at(temperatureK, densityKgPerM3);
  const isentropic = (density: number) => {
    let t = temperatureK;
    for (let i = 0; i < 30; i++) {
      const here = equation.at(t, density);
      t -= ((here.entropyJPerKgK - inlet.entropyJPerKgK) * t) / here.cvJPerKgK;
    }
    return equation.at(t, density);
  };
  const flux = (density: number): number =>
    density * Math.sqrt(2 * Math.max(0, inlet.enthalpyJPerKg - isentropic(density).enthalpyJPerKg));
  let low = 0.4 * densityKgPerM3;
  let high = 0.9 * densityKgPerM3;
  for (let i = 0; i < 60; i++) {
    const third = (high - low) / 3;
    if (flux(low + third) < flux(high - third)) low += third;
    else high -= third;
  }
  return isentropic(low).pressurePa / inlet.pressurePa;
}

const throats: readonly Check[] = (
  [
    ['R-134a', 21.5256, 0.5905],
    ['R-1234yf', 24.2831, 0.5967],
  ] as const
).map(
  ([refrigerant, density, expected]): Check => ({
    id: `throat-${refrigerant.toLowerCase()}`,
    title: `${refrigerant} vapour of 40 °C and ${density} kg/m³ (5 bar): pressure in the throat of an isentropic nozzle over that before it`,
    source: referenceOf(refrigerant),
    unit: '',
    expected,
    tolerance: { relative: 0.001 },
    obtain: () => throatRatio(refrigerant, CELSIUS_K + 40, density),
  }),
);

export const refrigerants: Topic = {
  heading: 'Refrigerants: fixed points and single states',
  checks: [
    ...fixedPoints,
    ...saturatedStates,
    ...vapourStates,
    ...viscosities,
    ...saturatedViscosities,
    ...throats,
  ],
};
