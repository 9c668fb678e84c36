// The cautions at the end of every record.
import { spoiltAirM3 } from '../../sim/fluids/flammability.ts';
import { findFluid } from '../../sim/fluids/fluid.ts';
import type { Scenario } from '../scenario/scenario.ts';
import type { Units } from '../units.ts';

const UNCERTIFIED =
  'Coldbench is not certified service equipment. Work on vehicles is for licensed people, and';
const HARMS = [
  'local codes come first. Liquid refrigerant burns by cold; tanks and hoses hold pressure; A2L refrigerants such as',
  'R-1234yf are flammable; electric compressors run on high voltage.',
];
export const CAUTIONS = [UNCERTIFIED, ...HARMS];
export const CAUTIONS_SIMULATED = [`This was a simulation. ${UNCERTIFIED}`, ...HARMS];

/** Where the refrigerant burns: how much air its charge can spoil. */
export function flammabilityLines(
  { ticket, cylinder }: Pick<Scenario, 'ticket' | 'cylinder'>,
  units: Units,
): string[] {
  const limit = findFluid(ticket.refrigerant)?.lowerFlammableLimitKgPerM3;
  if (limit === undefined) return [];
  const massKg = cylinder?.contentKg ?? ticket.nominalChargeKg;
  const air = (share: number) => `${spoiltAirM3(massKg, limit, share).toFixed(1)} m³`;
  const charge = `${units.charge(massKg)} of ${ticket.refrigerant}`;
  return [`${charge} can bring ${air(1)} of air to its flammable limit, ${air(0.25)} to a quarter of it.`];
}
