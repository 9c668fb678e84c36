// Refrigerant dissolved in oil: equilibrium hold-up by Flory–Huggins.
import { type OilKind, Solubility } from '../../../sim/fluids/oil.ts';
import { CELSIUS_K, equilibrium } from '../bench-top.ts';
import type { Check, Topic } from '../check.ts';

/**
 * Second implementation: the refrigerant's volume share by bisection on the activity.
 * a = φ·exp((1 − 1/r)(1 − φ) + χ(1 − φ)²), r the ratio of molar volumes.
 */
function heldByHandG(
  kind: OilKind,
  oilG: number,
  celsius: number,
  activity: number,
  liquidDensity: number,
): number {
  const oil =
    kind === 'PAG'
      ? { molarMass: 2, density: 986.25 - 0.717 * celsius, chi: 0.715, perInverseK: 154 }
      : { molarMass: 0.59, density: 970.95 - 0.696 * celsius, chi: 0.949, perInverseK: 450.7 };
  const chi = oil.chi + oil.perInverseK * (1 / (celsius + CELSIUS_K) - 1 / 298.15);
  const r = oil.molarMass / oil.density / (0.102032 / liquidDensity);
  let low = 0;
  let high = 0.5;
  for (let i = 0; i < 60; i++) {
    const share = (low + high) / 2;
    const other = 1 - share;
    if (share * Math.exp((1 - 1 / r) * other + chi * other * other) > activity) high = share;
    else low = share;
  }
  return (oilG * low * liquidDensity) / ((1 - low) * oil.density);
}

function heldG(kind: OilKind, oilG: number, celsius: number, pressurePa: number): number {
  const of = equilibrium('R-134a');
  const temperatureK = celsius + CELSIUS_K;
  const { pressurePa: saturationPa, liquidDensityKgPerM3 } = of.saturationAt(temperatureK);
  const solubility = new Solubility(kind, of.tables.fluid);
  return oilG * solubility.content(pressurePa / saturationPa, temperatureK, liquidDensityKgPerM3);
}

const OIL_G = 120;
const PRESSURES_PA = [101_325, 50_000, 30_000, 10_000, 1000] as const;
/** Saturation of R-134a by the reference program: °C, Pa, kg/m³ of liquid. */
const SATURATION = [
  [-20, 132_735, 1358.27],
  [0, 292_803, 1294.78],
  [20, 571_707, 1225.33],
  [40, 1_016_590, 1146.74],
] as const;
const FIT =
  'Flory–Huggins with this project’s fit to the isotherms of Martz & Jacobi, ACRC TR-68; worked out by bisection';

const holdUps: readonly Check[] = (['PAG', 'POE'] as const).flatMap((kind) =>
  SATURATION.flatMap(([celsius, saturationPa, liquidDensity]) =>
    PRESSURES_PA.map(
      (pressurePa): Check => ({
        id: `oil-${kind.toLowerCase()}-${celsius}-c-${pressurePa}-pa`,
        title: `R-134a in 120 g of ${kind} at ${celsius} °C under ${pressurePa / 1e5} bar of its vapour`,
        source: FIT,
        unit: 'g',
        expected: heldByHandG(kind, OIL_G, celsius, pressurePa / saturationPa, liquidDensity),
        tolerance: { relative: 0.002 },
        obtain: () => heldG(kind, OIL_G, celsius, pressurePa),
      }),
    ),
  ),
);

/** Figures that the fit was first worked to, with another program. */
const firstFigures: readonly Check[] = (
  [
    [20, 5.6],
    [-20, 46],
  ] as const
).map(
  ([celsius, grams]): Check => ({
    id: `oil-pag-${celsius}-c-one-atmosphere`,
    title: `R-134a in 120 g of PAG at ${celsius} °C and 1.013 bar, in round figures`,
    source: 'the same fit, another program',
    unit: 'g',
    expected: grams,
    tolerance: { relative: 0.03 },
    obtain: () => heldG('PAG', OIL_G, celsius, 101_325),
  }),
);

export const oil: Topic = { heading: 'Refrigerant in oil', checks: [...firstFigures, ...holdUps] };
