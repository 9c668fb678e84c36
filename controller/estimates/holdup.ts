// How much refrigerant stays in hose and manifold at the end of a charge: predicted before, measured after.
import type { SaturationCurve } from '../saturation.ts';
import { evaporationJPerKg, liquidDensityKgPerM3, saturationK, vapourDensityKgPerM3 } from './saturation.ts';

/**
 * Heat that boils liquid when hose and manifold blow down by a kelvin, per kilogram of what they hold: 1.4 kJ/kgK of the
 * liquid itself and the rest from their walls (estimate, fitted to the bench's own simulator).
 */
const BOILING_J_PER_KG_K = 2_300;
/** Each kelvin by which the room is warmer than the vehicle boils this share out of the hose (same fit). */
const ROOM_PER_K = 0.18;
/** The low-side hose holds vapour and a little condensate (same fit). */
const LOW_HOSE_KG = 0.003;
/** Room and vehicle further apart than this are outside the fit. */
const FITTED_K = 4;

/** Share of vapour after tank liquid has blown down to a lower pressure. */
export function flashedShare(curve: SaturationCurve, tankTemperatureK: number, pressurePa: number): number {
  const afterK = saturationK(curve, pressurePa);
  const share = (BOILING_J_PER_KG_K * (tankTemperatureK - afterK)) / evaporationJPerKg(curve, afterK);
  return Math.min(Math.max(share, 0), 1);
}

/** Density of the flashed mixture in kg/m³, both phases in equilibrium and moving together. */
export function mixtureDensityKgPerM3(
  curve: SaturationCurve,
  vapourShare: number,
  temperatureK: number,
): number {
  return (
    1 /
    (vapourShare / vapourDensityKgPerM3(curve, temperatureK) +
      (1 - vapourShare) / liquidDensityKgPerM3(curve, temperatureK))
  );
}

/** Blown-down hoses hold no less and no more of a liquid fill than this, whatever a poor thermometer says (same fit). */
const LEAST_FILL = 0.15;
const MOST_FILL = 0.55;

export type HoldupInput = {
  readonly curve: SaturationCurve;
  readonly tankTemperatureK: number;
  readonly ambientK: number;
  /** Pressure of the vehicle when the charge ends. */
  readonly vehiclePa: number;
  /** Hose and manifold between charge valve and coupler. */
  readonly volumeM3: number;
  readonly lowHose: boolean;
};

/** Refrigerant outside the vehicle when the charge has blown down to the vehicle's pressure and the couplers close. */
export function predictedHoldupKg(input: HoldupInput): number {
  const { curve, tankTemperatureK, ambientK, vehiclePa, volumeM3, lowHose } = input;
  const vehicleK = saturationK(curve, vehiclePa);
  const share = flashedShare(curve, tankTemperatureK, vehiclePa);
  const warmerK = Math.min(Math.max(ambientK - vehicleK, -FITTED_K), FITTED_K);
  const boiledOut = Math.exp(-ROOM_PER_K * warmerK);
  const mixtureKg = volumeM3 * mixtureDensityKgPerM3(curve, share, vehicleK) * boiledOut;
  const fullKg = volumeM3 * liquidDensityKgPerM3(curve, vehicleK);
  const heldKg = Math.min(Math.max(mixtureKg, LEAST_FILL * fullKg), MOST_FILL * fullKg);
  return heldKg + (lowHose ? LOW_HOSE_KG : 0);
}
