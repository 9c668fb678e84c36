// What must leave the tank so that the vehicle ends up with its nominal charge.
import { predictedHoldupKg } from '../estimates/holdup.ts';
import { saturationPa, vapourDensityKgPerM3 } from '../estimates/saturation.ts';
import type { StageInput } from './stage.ts';

const ROOM_K = 293.15;

/**
 * Nominal charge plus what hose and manifold will still hold when the charge has blown down. The vehicle's pressure at
 * the end is not known before; the high-side hose shows it once the valve has been shut for a while; until then ambient stands in.
 */
export function chargeTargetKg(
  input: Pick<StageInput, 'plan' | 'equipment' | 'seen'>,
  vehiclePa?: number,
): number {
  const { plan, equipment, seen } = input;
  const { highVolumeM3, lowVolumeM3, manifoldVolumeM3 } = equipment.hoses;
  const tankTemperatureK = seen.tankTemperatureK ?? seen.ambientK ?? ROOM_K;
  const holdupKg = predictedHoldupKg({
    curve: plan.curve,
    tankTemperatureK,
    vehiclePa:
      vehiclePa ?? saturationPa(plan.curve, Math.min(seen.ambientK ?? tankTemperatureK, tankTemperatureK)),
    volumeM3: highVolumeM3 + manifoldVolumeM3,
  });
  const lowHoseKg =
    plan.ticket.ports === 2
      ? lowVolumeM3 * vapourDensityKgPerM3(plan.curve, seen.ambientK ?? tankTemperatureK)
      : 0;
  return plan.ticket.nominalChargeKg + holdupKg + lowHoseKg;
}
