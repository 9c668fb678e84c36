// Why a charge does not flow, as far as the sensors show it.
import type { NoticeCode } from '../notices.ts';
import type { StageInput } from './stage.ts';

/** Nothing comes out of the tank when the hose stands this far below it (common practice: 1 bar). */
const SUPPLY_PA = 100_000;
/** Tank and vehicle at the same pressure within this. */
const EQUAL_PA = 40_000;
const SURE = 2;

export function diagnoseStall({ seen, equipment }: StageInput): NoticeCode {
  const { tankPa, highSidePa, lowSidePa } = seen;
  if (tankPa === undefined || highSidePa === undefined) return 'charge-stalled';
  const doubtPa = SURE * Math.hypot(equipment.pressure.tankSdPa, equipment.pressure.highSideSdPa);
  if (tankPa - highSidePa > SUPPLY_PA + doubtPa) return 'charge-stalled-supply';
  if (lowSidePa !== undefined && Math.abs(tankPa - lowSidePa) < EQUAL_PA + doubtPa)
    return 'charge-stalled-warm';
  return 'charge-stalled';
}

/** Hose full, vehicle's other side still empty: the coupler is shut. Needs two ports. */
export function noResponse(deliveredKg: number, { plan, seen }: StageInput): boolean {
  const { highSidePa, lowSidePa } = seen;
  if (plan.ticket.ports === 1 || highSidePa === undefined || lowSidePa === undefined) return false;
  return deliveredKg > plan.charge.responseKg && lowSidePa < 0.2 * highSidePa;
}
