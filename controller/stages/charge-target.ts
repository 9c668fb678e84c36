// What must leave the tank so that the vehicle ends up with its nominal charge.
import { ROOM_K } from '../constants.ts';
import { predictedHoldupKg } from '../estimates/holdup.ts';
import { saturationPa, thinVapourKgPerM3 } from '../estimates/saturation.ts';
import { mostGivenKg } from '../interlocks/given-watch.ts';
import { residueKg } from './recovered.ts';
import type { StageInput } from './stage.ts';

/** Evaporation of a running system below the room (common practice: near 0 °C on a mild day, estimate). */
const LOW_SIDE_COLDER_K = 20;

/** Given too much at first where the hoses are drawn back at the end, so that vapour of the vehicle follows their liquid. */
const OVER_KG = 0.035;
/**
 * So much more after a leak check: a vehicle that has stood with a partial charge is as warm as the room, takes liquid
 * hardly any better than the tank gives it, and leaves the hoses fuller (estimate, as the bench's own simulator has it).
 */
const OVER_AFTER_CHECK_KG = 0.025;

export const overKg = ({ leakCheck }: TargetInput['accounts']): number =>
  OVER_KG + (leakCheck?.admittedKg === undefined ? 0 : OVER_AFTER_CHECK_KG);

/** What must have left the tank when the charge is over and what was too much has come back. */
export const chargeForGoodKg = (input: TargetInput): number => {
  const drawsBack = !hosesWillBeCleared(input);
  return chargeTargetKg(input, drawsBack) - (drawsBack ? overKg(input.accounts) : 0);
};

/** Colder than this an engine's compressor may not switch on (common practice: below 5 to 10 °C). */
const ENGINE_COLDEST_K = 286.15;

/** The engine will suck the hoses dry after the charge. */
export const hosesWillBeCleared = ({ plan, seen }: Pick<StageInput, 'plan' | 'seen'>): boolean =>
  plan.stages.includes('clear-hoses') &&
  (seen.ambientK ?? seen.tankTemperatureK ?? ROOM_K) >= ENGINE_COLDEST_K;

/** Enough of a stage's input, so that a target can be reckoned before any stage runs. */
export type TargetInput = Pick<StageInput, 'plan' | 'equipment' | 'seen'> & {
  readonly accounts: Pick<StageInput['accounts'], 'recoveredKg' | 'leakCheck'>;
};

/** What must leave the tank: the nominal charge and what stays outside the vehicle. */
export const chargeTargetKg = (input: TargetInput, drawsBack: boolean, vehiclePa?: number): number =>
  input.plan.ticket.nominalChargeKg -
  residueKg(input.accounts) +
  (drawsBack ? heldUpKg(input, vehiclePa) + overKg(input.accounts) : clearedHosesKg(input));

/** What the scale wanders by between the last vacuum and the end of the charge (estimate). */
const WANDERS_KG = 0.01;

/** As much, and no more than the interlock lets out of the tank (IL-45), whatever is given only to be drawn back. */
export function aimedKg(input: TargetInput, drawsBack: boolean, moreKg: number, vehiclePa?: number): number {
  const { plan, equipment, seen } = input;
  const { nominalChargeKg } = plan.ticket;
  const mostKg = mostGivenKg(nominalChargeKg, equipment, 0, plan.curve, seen.ambientK ?? ROOM_K);
  return Math.min(chargeTargetKg(input, drawsBack, vehiclePa) + moreKg, mostKg - WANDERS_KG);
}

/** The running engine leaves nothing but vapour at its low-side pressure in hoses and manifold. */
function clearedHosesKg({ plan, equipment, seen }: TargetInput): number {
  const { highVolumeM3, lowVolumeM3, manifoldVolumeM3 } = equipment.hoses;
  const ambientK = seen.ambientK ?? seen.tankTemperatureK ?? ROOM_K;
  const lowSidePa = saturationPa(plan.curve, ambientK - LOW_SIDE_COLDER_K);
  const volumeM3 = highVolumeM3 + lowVolumeM3 + manifoldVolumeM3;
  return volumeM3 * thinVapourKgPerM3(plan.curve, lowSidePa, ambientK);
}

/** Hose and manifold when the charge has blown down, and of that the hose's share. */
export function heldUpKg(input: TargetInput, vehiclePa?: number): number {
  const { highVolumeM3, manifoldVolumeM3 } = input.equipment.hoses;
  return heldIn(highVolumeM3 + manifoldVolumeM3, input, vehiclePa);
}

export const predictedHoseKg = (input: TargetInput, vehiclePa?: number): number =>
  heldIn(input.equipment.hoses.highVolumeM3, input, vehiclePa);

/**
 * What a volume between charge valve and coupler will still hold when the charge has blown down. The vehicle's pressure at
 * the end is not known before; the high-side hose shows it once the valve has been shut for a while; until then ambient
 * stands in.
 */
function heldIn(volumeM3: number, { plan, seen }: TargetInput, vehiclePa?: number): number {
  const tankTemperatureK = seen.tankTemperatureK ?? seen.ambientK ?? ROOM_K;
  const ambientK = seen.ambientK ?? tankTemperatureK;
  return predictedHoldupKg({
    curve: plan.curve,
    tankTemperatureK,
    ambientK,
    vehiclePa: vehiclePa ?? saturationPa(plan.curve, Math.min(ambientK, tankTemperatureK)),
    volumeM3,
    lowHose: plan.ticket.ports === 2,
  });
}
