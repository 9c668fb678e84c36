// What a slope under vacuum would mean as refrigerant lost in a year of normal pressure.
import { GAS_CONSTANT_J_PER_MOL_K, STANDARD_ATMOSPHERE_PA } from '../constants.ts';
import type { SaturationCurve } from '../saturation.ts';
import { molarMassKgPerMol, saturationPa } from './saturation.ts';

const SECONDS_PER_YEAR = 365.25 * 86_400;
const REFERENCE_K = 293.15;
/** Viscosities near 20 °C: air (handbook value), refrigerant vapour (R-134a; the other is within a few per cent). */
const AIR_PA_S = 1.82e-5;
const VAPOUR_PA_S = 1.15e-5;

/**
 * Mass of refrigerant in kg a year that leaves at 20 °C through the path by which air enters: the same capillary in
 * viscous flow, whose gas flow goes with the difference of the squared pressures over the viscosity.
 */
export function leakKgPerYear(slopePaPerS: number, volumeM3: number, curve: SaturationCurve): number {
  const insidePa = saturationPa(curve, REFERENCE_K);
  const outwardPerInward =
    ((insidePa ** 2 - STANDARD_ATMOSPHERE_PA ** 2) / STANDARD_ATMOSPHERE_PA ** 2) * (AIR_PA_S / VAPOUR_PA_S);
  const molesPerS = (slopePaPerS * volumeM3 * outwardPerInward) / (GAS_CONSTANT_J_PER_MOL_K * REFERENCE_K);
  return molesPerS * molarMassKgPerMol(curve) * SECONDS_PER_YEAR;
}
