// What stays in the machine's condenser: a coil colder than the tank keeps the first grams of every draw.
// Figures are estimates for a small finned coil of 0.8 kJ/K, fitted to the bench's own simulator.
import { GAS_CONSTANT_J_PER_MOL_K } from '../constants.ts';
import type { SaturationCurve } from '../saturation.ts';
import { molarMassKgPerMol } from './saturation.ts';

/** Liquid that warms the coil by one kelvin: 800 J/K over 235 kJ/kg of condensing and cooling hot gas. */
const KEPT_KG_PER_K = 0.0034;
/** With its fan running the coil takes more before it is as warm as the tank. */
const KEPT_WITH_FAN_KG_PER_K = 0.0085;
/** Every gram that has reached the tank pushed out this much of what the coil had kept. */
const PUSHED_OUT = 0.6;
/** No coil of this size keeps more (estimate). */
const MOST_IN_COIL_KG = 0.1;
/** Less than this on the scale is no delivery. */
const NOTHING_KG = 0.002;

export type CoilInput = {
  /** What the scale shows of the draw. */
  readonly deliveredKg: number;
  /** Tank above ambient. */
  readonly warmerK: number;
  readonly fanStopped: boolean;
  /** What was in the coil before plus what the draw should bring, where that is known. */
  readonly expectedKg: number | undefined;
};

/** A draw of less than this does not warm the coil: what did not arrive is still in it (estimate). */
const SLOW_DRAW_KG = 0.03;

/** Refrigerant left as liquid in the coil after a draw. */
export function keptInCoilKg({ deliveredKg, warmerK, fanStopped, expectedKg }: CoilInput): number {
  const mostKg = Math.max(warmerK, 0) * (fanStopped ? KEPT_KG_PER_K : KEPT_WITH_FAN_KG_PER_K);
  const slow = deliveredKg < (warmerK > 0 ? SLOW_DRAW_KG : NOTHING_KG);
  if (slow && expectedKg !== undefined && expectedKg < MOST_IN_COIL_KG) {
    return Math.max(expectedKg - Math.max(deliveredKg, 0), 0);
  }
  return deliveredKg >= NOTHING_KG ? Math.max(mostKg - PUSHED_OUT * deliveredKg, 0) : mostKg / 2;
}

/** A reciprocating compressor of this clearance and exponent (estimates, common for small machines). */
const CLEARANCE = 0.05;
const EXPONENT = 1.1;

/** What the compressor draws at a suction pressure against the tank, in kg/s: volumetric efficiency by re-expansion. */
export function drawKgPerS(
  curve: SaturationCurve,
  { suctionPa, tankPa, ambientK, sweptM3PerS }: DrawInput,
): number {
  const ratio = Math.max(tankPa / suctionPa, 1);
  const filled = Math.max(1 + CLEARANCE - CLEARANCE * ratio ** (1 / EXPONENT), 0);
  const density = (suctionPa * molarMassKgPerMol(curve)) / (GAS_CONSTANT_J_PER_MOL_K * ambientK);
  return sweptM3PerS * filled * density;
}

export type DrawInput = {
  readonly suctionPa: number;
  readonly tankPa: number;
  readonly ambientK: number;
  readonly sweptM3PerS: number;
};
