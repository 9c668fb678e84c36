// What must leave the tank so that the vehicle ends up with its nominal charge.
import { predictedHoldupKg } from '../estimates/holdup.ts';
import { saturationPa } from '../estimates/saturation.ts';
import type { StageInput } from './stage.ts';

const ROOM_K = 293.15;

/**
 * Nominal charge plus what hose and manifold will still hold when the charge has blown down. The vehicle's pressure at
 * the end is not known before; the high-side hose shows it once the valve has been shut for a while; until then ambient stands in.
 */
export function chargeTargetKg(
  { plan, equipment, seen }: Pick<StageInput, 'plan' | 'equipment' | 'seen'>,
  vehiclePa?: number,
): number {
  const { highVolumeM3, manifoldVolumeM3 } = equipment.hoses;
  const tankTemperatureK = seen.tankTemperatureK ?? seen.ambientK ?? ROOM_K;
  const ambientK = seen.ambientK ?? tankTemperatureK;
  const holdupKg = predictedHoldupKg({
    curve: plan.curve,
    tankTemperatureK,
    ambientK,
    vehiclePa: vehiclePa ?? saturationPa(plan.curve, Math.min(ambientK, tankTemperatureK)),
    volumeM3: highVolumeM3 + manifoldVolumeM3,
    lowHose: plan.ticket.ports === 2,
  });
  return plan.ticket.nominalChargeKg + holdupKg;
}
