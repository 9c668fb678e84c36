// The last look at the vacuum of the vehicle before the charge valve opens.
import { SAFE_COMMANDS } from '../signals.ts';
import { at, CHARGE, HIGH_OPEN } from './charge-steps.ts';
import type { ChargeData } from './data-charge.ts';
import { kilopascals, type StageInput, type StageStep } from './stage.ts';

/**
 * The vehicle once more, before anything is let in: the vacuum of the hold is gone where something has been opened since, or
 * where the vacuum valve stands open to the room.
 */
export function lookOnce(data: ChargeData, input: StageInput): StageStep<ChargeData> {
  const { plan, nowMs, seen } = input;
  if (nowMs - data.stepSinceMs < plan.charge.vacuumLookMs) return { data, wanted: HIGH_OPEN };
  const { manifoldPa, manifoldOverSpan } = seen;
  const lost = manifoldOverSpan || (manifoldPa !== undefined && manifoldPa > plan.charge.vacuumLostPa);
  if (!lost) return { data: at(data, 'full', nowMs), wanted: CHARGE };
  const pressure = kilopascals(manifoldPa ?? input.equipment.pressure.manifoldSpanPa);
  return {
    data,
    wanted: SAFE_COMMANDS,
    event: 'vacuum-gone',
    notices: [{ code: 'vacuum-gone', with: { pressure } }],
  };
}
