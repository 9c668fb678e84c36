// What must leave the tank so that the vehicle ends up with its nominal charge.
import { GAS_CONSTANT_J_PER_MOL_K, ROOM_K } from '../constants.ts';
import { predictedHoldupKg } from '../estimates/holdup.ts';
import { molarMassKgPerMol, saturationPa } from '../estimates/saturation.ts';
import type { StageInput } from './stage.ts';

/** Evaporation of a running system below the room (common practice: near 0 °C on a mild day, estimate). */
const LOW_SIDE_COLDER_K = 20;

type TargetInput = Pick<StageInput, 'plan' | 'equipment' | 'seen'>;

/** What must leave the tank: the nominal charge and what stays outside the vehicle. */
export const chargeTargetKg = (input: TargetInput, vehiclePa?: number): number =>
  input.plan.ticket.nominalChargeKg +
  (input.plan.stages.includes('clear-hoses') ? clearedHosesKg(input) : heldUpKg(input, vehiclePa));

/** The running engine leaves nothing but vapour at its low-side pressure in hoses and manifold. */
function clearedHosesKg({ plan, equipment, seen }: TargetInput): number {
  const { highVolumeM3, lowVolumeM3, manifoldVolumeM3 } = equipment.hoses;
  const ambientK = seen.ambientK ?? seen.tankTemperatureK ?? ROOM_K;
  const lowSidePa = saturationPa(plan.curve, ambientK - LOW_SIDE_COLDER_K);
  const volumeM3 = highVolumeM3 + lowVolumeM3 + manifoldVolumeM3;
  return (lowSidePa * volumeM3 * molarMassKgPerMol(plan.curve)) / (GAS_CONSTANT_J_PER_MOL_K * ambientK);
}

/**
 * What hose and manifold will still hold when the charge has blown down. The vehicle's pressure at the end is not known
 * before; the high-side hose shows it once the valve has been shut for a while; until then ambient stands in.
 */
function heldUpKg({ plan, equipment, seen }: TargetInput, vehiclePa?: number): number {
  const { highVolumeM3, manifoldVolumeM3 } = equipment.hoses;
  const tankTemperatureK = seen.tankTemperatureK ?? seen.ambientK ?? ROOM_K;
  const ambientK = seen.ambientK ?? tankTemperatureK;
  return predictedHoldupKg({
    curve: plan.curve,
    tankTemperatureK,
    ambientK,
    vehiclePa: vehiclePa ?? saturationPa(plan.curve, Math.min(ambientK, tankTemperatureK)),
    volumeM3: highVolumeM3 + manifoldVolumeM3,
    lowHose: plan.ticket.ports === 2,
  });
}
