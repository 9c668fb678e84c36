// What the supply cylinder shows by its hose before anything is drawn from it.
import { SURE } from '../constants.ts';
import { barometerPa } from '../estimates/pressures.ts';
import { saturationPa } from '../estimates/saturation.ts';
import type { NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { FillData } from './data-tank.ts';
import { atAfresh, kilopascals, type StageInput, type StageStep } from './stage.ts';

type Step = StageStep<FillData>;

/** What the hose shows once the cylinder's valve is open: pressure at all, and no more than its content can have. */
export function lookAtCylinder(data: FillData, input: StageInput): Step {
  const { plan, equipment, seen, nowMs } = input;
  const wanted = SAFE_COMMANDS;
  if (nowMs - data.stepSinceMs < plan.fill.waitMs) return { data, wanted };
  const refused = (notice: NoticeDraft): Step => ({
    data,
    wanted,
    event: 'cylinder-unfit',
    notices: [notice],
  });
  const { highSidePa, ambientK } = seen;
  const unreadMs = plan.fill.waitMs + plan.fill.unreadMs;
  if (highSidePa === undefined && nowMs - data.stepSinceMs < unreadMs) return { data, wanted };
  if (highSidePa === undefined) return refused({ code: 'cylinder-pressure-unknown' });
  if (highSidePa <= leastPa(input)) {
    return refused({ code: 'cylinder-without-pressure', with: { pressure: kilopascals(highSidePa) } });
  }
  if (ambientK === undefined || ambientK < plan.fill.coldestK) {
    const temperature = ambientK === undefined ? 'an unknown number of' : (ambientK - 273.15).toFixed(0);
    return refused({ code: 'too-cold-to-fill', with: { temperature } });
  }
  const doubtPa = SURE * equipment.pressure.highSideSdPa;
  const excessPa = highSidePa - saturationPa(plan.curve, ambientK + SURE * equipment.temperatureSdK);
  if (excessPa > plan.fill.excessPa + doubtPa) {
    return refused({ code: 'cylinder-above-saturation', with: { excess: kilopascals(excessPa) } });
  }
  const shortPa = saturationPa(plan.curve, ambientK - plan.fill.colderK) - highSidePa;
  const next = { data: atAfresh(data, 'weigh-connected', nowMs), wanted };
  if (shortPa <= doubtPa) return next;
  const shortage = kilopascals(saturationPa(plan.curve, ambientK) - highSidePa);
  return { ...next, notices: [{ code: 'cylinder-below-saturation', with: { shortage } }] };
}

/** Above the atmosphere for sure: nothing lower is drawn on. */
export const leastPa = ({ seen, equipment, plan }: StageInput): number =>
  barometerPa(seen) + plan.fill.leastGaugePa + SURE * equipment.pressure.highSideSdPa;
