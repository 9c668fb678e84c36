// Warm up: before a recovery the running engine warms oil and vessel of a cold vehicle, while every machine valve is shut.
import { MINUTE_MS, SURE } from '../constants.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { SettleData } from './data.ts';
import { confirms, kilopascals, minutes, type StageInput, type StageStep } from './stage.ts';

type Step = StageStep<SettleData>;

/** Asked to stop in time for a slow hand: 15 min of idling are allowed (SAE J2788, preconditioning of the vehicle). */
const RUN_MS = 14 * MINUTE_MS;

export const wantsWarming = (data: SettleData, { plan }: StageInput): boolean =>
  plan.ticket.warmUp && !data.warmed;

export function stepWarmUp(data: SettleData, input: StageInput): Step {
  const { answers, nowMs } = input;
  const stay = { data, wanted: SAFE_COMMANDS };
  switch (data.step) {
    case 'warm-start':
      return confirms(answers, 'warm-engine')
        ? { ...stay, data: { ...data, step: 'warm-run', stepSinceMs: nowMs } }
        : { ...stay, prompt: 'warm-engine' };
    case 'warm-run':
      return run(data, input);
    default:
      return confirms(answers, 'stop-engine')
        ? { ...stay, data: { ...data, step: 'look', stepSinceMs: nowMs, warmed: true } }
        : { ...stay, prompt: 'stop-engine' };
  }
}

/** Stopped early where it does nothing, and before the high side comes near its limit. */
function run(data: SettleData, input: StageInput): Step {
  const { plan, nowMs, seen, equipment } = input;
  const { verify } = plan;
  const ranMs = nowMs - data.stepSinceMs;
  const stop: Step = { data: { ...data, step: 'warm-stop', stepSinceMs: nowMs }, wanted: SAFE_COMMANDS };
  const { highSidePa, lowSidePa } = seen;
  if (highSidePa !== undefined && highSidePa > verify.highLimitPa) {
    const pressure = kilopascals(highSidePa);
    return { ...stop, notices: [{ code: 'warm-up-cut-short', with: { pressure } }] };
  }
  if (ranMs >= RUN_MS) return stop;
  const doubtPa = SURE * Math.hypot(equipment.pressure.highSideSdPa, equipment.pressure.lowSideSdPa);
  const unparted =
    plan.ticket.ports === 2 &&
    highSidePa !== undefined &&
    lowSidePa !== undefined &&
    highSidePa - lowSidePa < verify.apartPa + doubtPa;
  return unparted && ranMs >= UNPARTED_MS
    ? { ...stop, notices: [{ code: 'warm-up-in-vain', with: { minutes: minutes(UNPARTED_MS) } }] }
    : { data, wanted: SAFE_COMMANDS };
}

/** A cold compressor with much liquid before it takes its time (estimate). */
const UNPARTED_MS = 3 * MINUTE_MS;
