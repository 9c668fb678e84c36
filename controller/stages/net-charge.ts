// What the vehicle holds at the end, by all weighings since before its charge.
import { ROOM_K } from '../constants.ts';
import { keptChangeSdKg } from '../estimates/kept.ts';
import { gainOf, type Weighing } from '../estimates/masses.ts';
import { thinVapourKgPerM3 } from '../estimates/saturation.ts';
import type { NoticeDraft } from '../notices.ts';
import type { Accounts } from '../state.ts';
import { filled } from './filled.ts';
import { RESIDUE_SD_KG, residueKg } from './recovered.ts';
import { grams, type StageInput } from './stage.ts';

/** Twice this share holds what creep comes to that is watched a minute after its step, and may be a slower one (estimate). */
const MOVES_SD_SHARE = 0.65;
/** The rest of the machine keeps about this much back or gives it up (estimate). */
const MACHINE_SD_KG = 0.0002;

/**
 * Net charge: what the tank lost from before the charge until now, less what is neither in tank nor vehicle.
 * @param hosesPa in the hoses, when they were last joined to the absolute sensor.
 */
export function settleAccounts(
  accounts: Accounts,
  weighed: Weighing,
  hosesPa: number,
  input: StageInput,
): Accounts {
  if (input.plan.service === 'fill-tank') return filled(accounts, weighed, input);
  const before = accounts.weighedBeforeCharge;
  if (before === undefined || accounts.lostTrack) return accounts;
  const gain = gainOf(before, weighed, input.equipment, accounts.hoseForce);
  const keptBefore = accounts.keptBeforeCharge ?? accounts.kept;
  const keptSdKg = keptChangeSdKg(keptBefore, accounts.kept);
  const keptMoreKg = accounts.kept.kg - keptBefore.kg;
  const movesSdKg = MOVES_SD_SHARE * (accounts.scaleMovesKg ?? 0);
  return {
    ...accounts,
    netChargeKg: residueKg(accounts) - gain.massKg - vapourLeftKg(hosesPa, input) - keptMoreKg,
    uncertaintyKg: 2 * Math.hypot(gain.sdKg, MACHINE_SD_KG, RESIDUE_SD_KG, keptSdKg, movesSdKg),
  };
}

function vapourLeftKg(hosesPa: number, { equipment, plan, seen }: StageInput): number {
  const { highVolumeM3, lowVolumeM3, manifoldVolumeM3 } = equipment.hoses;
  const volumeM3 = highVolumeM3 + manifoldVolumeM3 + (plan.ticket.ports === 2 ? lowVolumeM3 : 0);
  return volumeM3 * thinVapourKgPerM3(plan.curve, hosesPa, seen.ambientK ?? ROOM_K);
}

/** Told where the net charge is off by more than the plan lets it. */
export function shortOf({ netChargeKg, chargedKg }: Accounts, { plan }: StageInput): readonly NoticeDraft[] {
  if (netChargeKg === undefined || chargedKg === undefined) return [];
  const offKg = netChargeKg - plan.ticket.nominalChargeKg;
  if (Math.abs(offKg) <= plan.hoses.shortKg) return [];
  return [
    {
      code: 'net-charge-off',
      with: {
        net: grams(netChargeKg),
        difference: grams(Math.abs(offKg)),
        direction: offKg < 0 ? 'below' : 'above',
      },
    },
  ];
}
