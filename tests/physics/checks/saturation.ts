// Saturation tables of both refrigerants against an independent program and the handbook.
import { CELSIUS_K, equilibrium, REFRIGERANTS, type Refrigerant, saturationLine } from '../bench-top.ts';
import type { Check, Topic } from '../check.ts';
import { referenceOf } from '../sources.ts';

/** °C, bar, liquid and vapour density in kg/m³, heat of evaporation in kJ/kg. */
type Row = readonly [number, number, number, number, number];
const TABLES: { readonly [R in Refrigerant]: readonly Row[] } = {
  'R-134a': [
    [-30, 0.843777, 1388.4, 4.4259, 219.53],
    [-20, 1.32735, 1358.27, 6.7845, 212.92],
    [-10, 2.00603, 1327.13, 10.041, 205.97],
    [0, 2.92803, 1294.78, 14.428, 198.6],
    [10, 4.14607, 1260.96, 20.226, 190.74],
    [20, 5.71707, 1225.33, 27.78, 182.28],
    [25, 6.65381, 1206.71, 32.35, 177.79],
    [30, 7.70196, 1187.46, 37.535, 173.1],
    [40, 10.1659, 1146.74, 50.085, 163.02],
    [50, 13.1791, 1102.31, 66.272, 151.81],
    [60, 16.8178, 1052.86, 87.379, 139.12],
  ],
  'R-1234yf': [
    [-30, 0.989327, 1264.65, 5.8432, 181.11],
    [-20, 1.50858, 1236.28, 8.6982, 175.59],
    [-10, 2.21785, 1206.84, 12.548, 169.74],
    [0, 3.1588, 1176.12, 17.634, 163.48],
    [10, 4.37631, 1143.84, 24.25, 156.74],
    [20, 5.91836, 1109.67, 32.769, 149.42],
    [25, 6.82697, 1091.74, 37.89, 145.5],
    [30, 7.83619, 1073.14, 43.683, 141.38],
    [40, 10.1847, 1033.56, 57.674, 132.44],
    [50, 13.0235, 989.919, 75.754, 122.32],
    [60, 16.4183, 940.551, 99.553, 110.62],
  ],
};

/** What the plant computes with: the tables, not the equation. */
function rowChecks(refrigerant: Refrigerant, [celsius, bar, liquid, vapour, latent]: Row): readonly Check[] {
  const saturation = () => equilibrium(refrigerant).saturationAt(CELSIUS_K + celsius);
  const check = (
    name: string,
    what: string,
    unit: string,
    expected: number,
    relative: number,
    obtain: () => number,
  ): Check => ({
    id: `saturated-${refrigerant.toLowerCase()}-${celsius}-c-${name}`,
    title: `${refrigerant} at ${celsius} °C: ${what}`,
    source: referenceOf(refrigerant),
    unit,
    expected,
    tolerance: { relative },
    obtain,
  });
  return [
    check('pressure', 'vapour pressure', 'bar', bar, 2e-5, () => saturation().pressurePa / 1e5),
    check('liquid', 'density of the liquid', 'kg/m³', liquid, 2e-5, () => saturation().liquidDensityKgPerM3),
    check('vapour', 'density of the vapour', 'kg/m³', vapour, 5e-5, () => saturation().vapourDensityKgPerM3),
    check('latent', 'heat of evaporation', 'kJ/kg', latent, 1e-4, () => {
      const { vapourEnthalpyJPerKg, liquidEnthalpyJPerKg } = saturation();
      return (vapourEnthalpyJPerKg - liquidEnthalpyJPerKg) / 1000;
    }),
  ];
}

const HANDBOOK = 'ASHRAE Handbook, Fundamentals, table of R-134a (from memory)';
/** °C; MPa, kg/m³, m³/kg, kJ/kg and kJ/(kg·K) of liquid and vapour. */
const HANDBOOK_ROWS = [
  [0, 0.2928, 1294.8, 0.06931, 200.0, 398.6, 1.0, 1.7271],
  [20, 0.57171, 1225.3, 0.036, 227.47, 409.75, 1.0962, 1.718],
  [40, 1.0166, 1146.7, 0.01997, 256.41, 419.43, 1.1905, 1.7111],
  [60, 1.6818, 1052.9, 0.01144, 287.5, 426.63, 1.2848, 1.7024],
] as const;

const handbook: readonly Check[] = HANDBOOK_ROWS.flatMap(
  ([celsius, mpa, density, volume, hLiquid, hVapour, sLiquid, sVapour]) => {
    const point = () => saturationLine('R-134a').at(CELSIUS_K + celsius);
    const columns = [
      ['pressure', 'vapour pressure', 'MPa', mpa, 5e-4 * mpa, () => point().pressurePa / 1e6],
      ['density', 'density of the liquid', 'kg/m³', density, 0.1, () => point().liquid.densityKgPerM3],
      [
        'volume',
        'volume of the vapour',
        'm³/kg',
        volume,
        0.005 * volume,
        () => 1 / point().vapour.densityKgPerM3,
      ],
      [
        'h-liquid',
        'enthalpy of the liquid',
        'kJ/kg',
        hLiquid,
        0.05,
        () => point().liquid.enthalpyJPerKg / 1000,
      ],
      [
        'h-vapour',
        'enthalpy of the vapour',
        'kJ/kg',
        hVapour,
        0.05,
        () => point().vapour.enthalpyJPerKg / 1000,
      ],
      [
        's-liquid',
        'entropy of the liquid',
        'kJ/(kg·K)',
        sLiquid,
        5e-4,
        () => point().liquid.entropyJPerKgK / 1000,
      ],
      [
        's-vapour',
        'entropy of the vapour',
        'kJ/(kg·K)',
        sVapour,
        5e-4,
        () => point().vapour.entropyJPerKgK / 1000,
      ],
    ] as const;
    return columns.map(
      ([name, what, unit, expected, absolute, obtain]): Check => ({
        id: `handbook-r-134a-${celsius}-c-${name}`,
        title: `R-134a at ${celsius} °C: ${what}`,
        source: HANDBOOK,
        unit,
        expected,
        tolerance: { absolute: Number(absolute.toPrecision(3)) },
        obtain,
      }),
    );
  },
);

export const saturation: Topic = {
  heading: 'Saturation',
  checks: [
    ...REFRIGERANTS.flatMap((refrigerant) =>
      TABLES[refrigerant].flatMap((row) => rowChecks(refrigerant, row)),
    ),
    ...handbook,
  ],
};
