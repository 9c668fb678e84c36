// How much runs into an evacuated vehicle by the tank's pressure alone, before the vehicle stands as high and the flow ends.
import type { SaturationCurve } from '../saturation.ts';
import { evaporationJPerKg, saturationK, vapourDensityKgPerM3 } from './saturation.ts';

export type FillForecast = {
  /** What the vehicle will have, kg: all that is wanted, unless it stays too warm for liquid to gather in it. */
  readonly runsInKg: number;
  /** Saturation temperature at the tank's pressure, K. */
  readonly tankK: number;
};

type Filling = {
  readonly curve: SaturationCurve;
  readonly tankPa: number;
  readonly vehicleK: number;
  readonly wantedKg: number;
  /** Of that, vapour that is in the vehicle already and has its warmth. */
  readonly insideKg: number;
};

/** A vehicle that takes 600 g has 2.6 L, and a larger one 3 L more for every kilogram (estimates). */
const LEAST_VOLUME_M3 = 0.8e-3;
const VOLUME_M3_PER_KG = 3e-3;

/** Of a vehicle that takes so much, m³. */
export const vehicleVolumeM3 = (chargeKg: number): number => LEAST_VOLUME_M3 + VOLUME_M3_PER_KG * chargeKg;

/** Condenser, evaporator, accumulator and pipes: 5 to 6 kg of aluminium at 0.9 kJ/(kg·K) (estimate). */
const METAL_J_PER_K = 5000;
const ROUNDS = 20;

/**
 * The first liquid evaporates on the warm metal and cools it. When that makes the metal as cold as saturation at the
 * tank's pressure, liquid gathers and the rest follows; a warmer vehicle fills with vapour of the tank's pressure, and no
 * more comes. Ideal gas along the isobar from saturation; heat from outside comes too slowly to count.
 */
export function forecastFill({ curve, tankPa, vehicleK, wantedKg, insideKg }: Filling): FillForecast {
  const tankK = saturationK(curve, tankPa);
  const volumeM3 = vehicleVolumeM3(wantedKg);
  const saturatedKg = volumeM3 * vapourDensityKgPerM3(curve, tankK);
  const coolsK = evaporationJPerKg(curve, tankK) / METAL_J_PER_K;
  if (vehicleK - coolsK * Math.max(saturatedKg - insideKg, 0) <= tankK) return { runsInKg: wantedKg, tankK };
  let runsInKg = saturatedKg;
  for (let round = 0; round < ROUNDS; round += 1)
    runsInKg = (saturatedKg * tankK) / (vehicleK - coolsK * Math.max(runsInKg - insideKg, 0));
  return { runsInKg: Math.min(runsInKg, wantedKg), tankK };
}
