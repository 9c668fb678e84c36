// Why a charge does not flow, as far as the sensors show it.
import { ROOM_K } from '../constants.ts';
import { liquidDensityKgPerM3 } from '../estimates/saturation.ts';
import type { NoticeCode } from '../notices.ts';
import type { StageInput } from './stage.ts';

/** Nothing comes out of the tank when the hose stands this far below it (common practice: 1 bar). */
const SUPPLY_PA = 100_000;
/** Tank and vehicle at the same pressure within this. */
const EQUAL_PA = 40_000;
const SURE = 2;
/** The other side is empty when it shows less than this share of the hose (estimate). */
const EMPTY_SHARE = 0.2;

export function diagnoseStall({ seen, equipment }: StageInput): NoticeCode {
  const { tankPa, highSidePa, lowSidePa } = seen;
  if (tankPa === undefined || highSidePa === undefined) return 'charge-stalled';
  const doubtPa = SURE * Math.hypot(equipment.pressure.tankSdPa, equipment.pressure.highSideSdPa);
  if (tankPa - highSidePa > SUPPLY_PA + doubtPa) return 'charge-stalled-supply';
  if (lowSidePa !== undefined && Math.abs(tankPa - lowSidePa) < EQUAL_PA + doubtPa)
    return 'charge-stalled-warm';
  return 'charge-stalled';
}

/** A little more than hose and manifold hold as liquid. */
const HOSE_FILL = 1.6;

/** The flow has stopped with no more than a hose full given, and the vehicle's other side is still empty. Two ports. */
export function couplerShut(deliveredKg: number, input: StageInput): boolean {
  const { plan, seen, equipment } = input;
  const { highSidePa, lowSidePa } = seen;
  if (plan.ticket.ports === 1 || highSidePa === undefined || lowSidePa === undefined) return false;
  const { highVolumeM3, manifoldVolumeM3 } = equipment.hoses;
  const fullKg =
    (highVolumeM3 + manifoldVolumeM3) * liquidDensityKgPerM3(plan.curve, seen.tankTemperatureK ?? ROOM_K);
  return deliveredKg < HOSE_FILL * fullKg && lowSidePa < EMPTY_SHARE * highSidePa;
}
