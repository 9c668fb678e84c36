// Warm up: before a recovery the running engine warms oil and vessel of a cold vehicle, while every machine valve is shut.
// One question from the start of the engine to its standstill; what the machine sees meanwhile is told, not asked.
import { MINUTE_MS, SURE } from '../constants.ts';
import type { NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { SettleData } from './data-recovery.ts';
import { at, confirms, kilopascals, minutes, type StageInput, type StageStep } from './stage.ts';
import { sidesApartPa } from './standstill.ts';

type Step = StageStep<SettleData>;

/** Told in time for a slow hand: 15 min of idling are allowed (SAE J2788, preconditioning of the vehicle). */
const RUN_MS = 14 * MINUTE_MS;
/** A walk to the engine, and a cold compressor with much liquid before it, which takes its time (estimate). */
const UNPARTED_MS = 4 * MINUTE_MS;

export const wantsWarming = (data: SettleData, { plan }: StageInput): boolean =>
  plan.ticket.warmUp && !data.warmed;

export function stepWarmUp(data: SettleData, input: StageInput): Step {
  const { answers, nowMs } = input;
  const wanted = SAFE_COMMANDS;
  const prompt = data.step === 'warm' ? 'warm-vehicle' : 'stop-engine';
  if (confirms(answers, prompt)) {
    const stopAsked = prompt === 'stop-engine';
    const apartPa = sidesApartPa(input) ?? 0;
    return { data: { ...at(data, 'look', nowMs), warmed: true, stopAsked, apartPa }, wanted };
  }
  return data.step === 'warm' ? watch(data, input) : { data, wanted, prompt };
}

/** Counts from where the sides part: nobody says when the engine was started. Sides that are not seen count as parted. */
function watch(before: SettleData, input: StageInput): Step {
  const { nowMs, seen, plan } = input;
  const sinceMs = before.partedSinceMs ?? (haveParted(input) ? nowMs : undefined);
  const data = sinceMs === before.partedSinceMs ? before : { ...before, partedSinceMs: sinceMs };
  const asking = { wanted: SAFE_COMMANDS, prompt: 'warm-vehicle' } as const;
  const notice = worthTelling(data, nowMs, seen.highSidePa, plan.verify.highLimitPa);
  if (notice === undefined || data.warmTold.includes(notice.code)) return { ...asking, data };
  return { ...asking, data: { ...data, warmTold: [...data.warmTold, notice.code] }, notices: [notice] };
}

function haveParted({ plan, seen, equipment: { pressure } }: StageInput): boolean {
  const { highSidePa, lowSidePa } = seen;
  if (plan.ticket.ports === 1 || highSidePa === undefined || lowSidePa === undefined) return true;
  const doubtPa = SURE * Math.hypot(pressure.highSideSdPa, pressure.lowSideSdPa);
  return highSidePa - lowSidePa >= plan.verify.apartPa + doubtPa;
}

/** Before the high side comes near its limit, when it has been enough, and early where it does nothing. */
function worthTelling(
  { partedSinceMs, stepSinceMs }: SettleData,
  nowMs: number,
  highSidePa: number | undefined,
  limitPa: number,
): NoticeDraft | undefined {
  if (highSidePa !== undefined && highSidePa > limitPa)
    return { code: 'warm-up-cut-short', with: { pressure: kilopascals(highSidePa) } };
  if (partedSinceMs !== undefined)
    return nowMs - partedSinceMs >= RUN_MS
      ? { code: 'warm-up-enough', with: { minutes: minutes(RUN_MS) } }
      : undefined;
  return nowMs - stepSinceMs >= UNPARTED_MS
    ? { code: 'warm-up-in-vain', with: { minutes: minutes(UNPARTED_MS) } }
    : undefined;
}
