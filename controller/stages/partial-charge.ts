// What the charge knows of a partial charge for a leak check: how much it is, and what it leaves for the whole one.
import { SURE } from '../constants.ts';
import { acrossStandstill, gainOf, type Weighing } from '../estimates/masses.ts';
import { hosePa } from '../estimates/pressures.ts';
import type { ChargeData } from './data-charge.ts';
import type { StageInput } from './stage.ts';

/** Nothing is said to have moved unless the scale shows it by so many deviations. */
const SURE_MOVED = 3;

/** What leaves the tank for a search. */
export const partialChargeKg = ({ plan }: Pick<StageInput, 'plan'>): number =>
  plan.leakCheck.share * plan.ticket.nominalChargeKg;

/** So much less is still a partial charge. */
export const partialSpareKg = ({ plan }: Pick<StageInput, 'plan'>): number =>
  (plan.leakCheck.share - plan.leakCheck.leastShare) * plan.ticket.nominalChargeKg;

/**
 * Where the charge counts from: the weighing before a partial charge, carried over the search, in which nothing moved and
 * the scale did nothing but drift and be leaned on. Where it shows that something moved after all, drift and all; but nothing
 * comes back into a tank that stands above the vehicle.
 */
export function referenceOf({ part }: ChargeData, input: StageInput, weighed: Weighing): Weighing {
  const { accounts, equipment } = input;
  const { weighedBeforeCharge: before, weighed: after } = accounts;
  if (part === 'partial' || before === undefined || after === undefined) return weighed;
  const stood = gainOf(after, weighed, equipment, accounts.hoseForce);
  const moved =
    Math.abs(stood.massKg) > SURE_MOVED * stood.sdKg && !(stood.massKg > 0 && tankStandsAbove(input));
  return moved ? before : acrossStandstill(before, after, weighed);
}

function tankStandsAbove({ seen, plan, equipment: { pressure } }: StageInput): boolean {
  const vehiclePa = hosePa(seen, plan.ticket.ports);
  if (vehiclePa === undefined || seen.tankPa === undefined) return false;
  return seen.tankPa - vehiclePa > SURE * Math.hypot(pressure.tankSdPa, pressure.highSideSdPa);
}
