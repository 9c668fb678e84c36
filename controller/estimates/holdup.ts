// How much refrigerant stays in hose and manifold at the end of a charge: predicted before, measured after.
import type { SaturationCurve } from '../saturation.ts';
import { evaporationJPerKg, liquidDensityKgPerM3, saturationK, vapourDensityKgPerM3 } from './saturation.ts';

/**
 * Heat that boils liquid when hose and manifold blow down by a kelvin, per kilogram of what they hold: 1.4 kJ/kgK of the
 * liquid itself and the rest from their walls (estimate, fitted to the bench's own simulator).
 */
const BOILING_J_PER_KG_K = 2_400;

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

export type HoldupInput = {
  readonly curve: SaturationCurve;
  readonly tankTemperatureK: number;
  /** Pressure of the vehicle when the charge ends. */
  readonly vehiclePa: number;
  /** Hose and manifold between charge valve and coupler. */
  readonly volumeM3: number;
};

/** Refrigerant between charge valve and coupler when the charge has blown down to the vehicle's pressure. */
export function predictedHoldupKg({ curve, tankTemperatureK, vehiclePa, volumeM3 }: HoldupInput): number {
  const share = flashedShare(curve, tankTemperatureK, vehiclePa);
  return volumeM3 * mixtureDensityKgPerM3(curve, share, saturationK(curve, vehiclePa));
}
