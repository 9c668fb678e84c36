// Looks up the saturation curve: ln p is close to linear in 1/T, densities are taken linear in T.
import { GAS_CONSTANT_J_PER_MOL_K } from '../constants.ts';
import type { SaturationCurve } from '../saturation.ts';

/** The pair of table rows around a place, held inside the table. */
function rowBefore(rising: readonly number[], at: number): number {
  let low = 0;
  let high = rising.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (rising[middle]! <= at) low = middle;
    else high = middle;
  }
  return low;
}

function held(curve: SaturationCurve, temperatureK: number): number {
  const temperatures = curve.temperatureK;
  return Math.min(Math.max(temperatureK, temperatures[0]!), temperatures[temperatures.length - 1]!);
}

/** Saturation pressure in pascal; outside the table the nearest end. */
export function saturationPa(curve: SaturationCurve, temperatureK: number): number {
  const t = held(curve, temperatureK);
  const row = rowBefore(curve.temperatureK, t);
  const t0 = curve.temperatureK[row]!;
  const t1 = curve.temperatureK[row + 1]!;
  const p0 = curve.pressurePa[row]!;
  const p1 = curve.pressurePa[row + 1]!;
  const share = (1 / t0 - 1 / t) / (1 / t0 - 1 / t1);
  return p0 * (p1 / p0) ** share;
}

/** Saturation temperature in kelvin; outside the table the nearest end. */
export function saturationK(curve: SaturationCurve, pressurePa: number): number {
  const row = rowBefore(curve.pressurePa, pressurePa);
  const t0 = curve.temperatureK[row]!;
  const t1 = curve.temperatureK[row + 1]!;
  const p0 = curve.pressurePa[row]!;
  const p1 = curve.pressurePa[row + 1]!;
  const share = Math.log(Math.max(pressurePa, 1) / p0) / Math.log(p1 / p0);
  return 1 / (1 / t0 + Math.min(Math.max(share, 0), 1) * (1 / t1 - 1 / t0));
}

function linear(curve: SaturationCurve, values: readonly number[], temperatureK: number): number {
  const t = held(curve, temperatureK);
  const row = rowBefore(curve.temperatureK, t);
  const t0 = curve.temperatureK[row]!;
  const t1 = curve.temperatureK[row + 1]!;
  return values[row]! + ((t - t0) / (t1 - t0)) * (values[row + 1]! - values[row]!);
}

export const liquidDensityKgPerM3 = (curve: SaturationCurve, temperatureK: number): number =>
  linear(curve, curve.liquidDensityKgPerM3, temperatureK);

export const vapourDensityKgPerM3 = (curve: SaturationCurve, temperatureK: number): number =>
  linear(curve, curve.vapourDensityKgPerM3, temperatureK);

/** Heat of evaporation in J/kg by Clausius and Clapeyron: T (v_v − v_l) dp/dT. */
export function evaporationJPerKg(curve: SaturationCurve, temperatureK: number): number {
  const half = 0.5;
  const t = Math.min(
    Math.max(temperatureK, curve.temperatureK[0]! + half),
    curve.temperatureK.at(-1)! - half,
  );
  // Over one kelvin, half of it on either side.
  const slope = saturationPa(curve, t + half) - saturationPa(curve, t - half);
  return t * (1 / vapourDensityKgPerM3(curve, t) - 1 / liquidDensityKgPerM3(curve, t)) * slope;
}

/** Molar mass in kg/mol from the thinnest vapour of the table, taken as ideal: within a few per cent (estimate). */
export const molarMassKgPerMol = (curve: SaturationCurve): number =>
  (curve.vapourDensityKgPerM3[0]! * GAS_CONSTANT_J_PER_MOL_K * curve.temperatureK[0]!) / curve.pressurePa[0]!;

/** Vapour thin enough to be taken as ideal, of hoses that have been drawn down. */
export const thinVapourKgPerM3 = (curve: SaturationCurve, pressurePa: number, temperatureK: number): number =>
  (pressurePa * molarMassKgPerMol(curve)) / (GAS_CONSTANT_J_PER_MOL_K * temperatureK);

/** Saturation temperature, or nothing outside the curve. */
export function saturatedK(pressurePa: number | undefined, curve: SaturationCurve): number | undefined {
  if (pressurePa === undefined) return undefined;
  const inside = pressurePa >= curve.pressurePa[0]! && pressurePa <= curve.pressurePa.at(-1)!;
  return inside ? saturationK(curve, pressurePa) : undefined;
}
