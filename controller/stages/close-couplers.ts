// Close couplers: before the hoses are recovered the vehicle is shut off from them, the engine running or standing still.
import { SAFE_COMMANDS } from '../signals.ts';
import type { RecoverHosesData } from './data-hoses.ts';
import { at, confirms, type StageInput, type StageStep } from './stage.ts';
import { comesTogether, engineDoubted, sidesApartPa } from './standstill.ts';

type Step = StageStep<RecoverHosesData>;

/**
 * Cleared hoses are closed while the engine still keeps the low side low; others only when it stands, or what the high
 * side presses into them would be missing in the vehicle.
 */
export function closeCouplers(data: RecoverHosesData, input: StageInput): Step {
  const { nowMs, engine, accounts } = input;
  const wanted = SAFE_COMMANDS;
  const runs = engine === 'running';
  if (runs && !accounts.hosesCleared) return { data: at(data, 'stop-engine', nowMs), wanted };
  const prompt = runs ? 'close-couplers-then-stop' : 'close-couplers';
  if (!confirms(input.answers, prompt)) return { data, wanted, prompt };
  return { data: at(data, 'look', nowMs), wanted };
}

export function stopEngine(data: RecoverHosesData, input: StageInput): Step {
  const wanted = SAFE_COMMANDS;
  if (!confirms(input.answers, 'stop-engine')) return { data, wanted, prompt: 'stop-engine' };
  const apartPa = sidesApartPa(input) ?? 0;
  return { data: { ...at(data, 'standstill', input.nowMs), apartPa }, wanted };
}

/** Both couplers are still open, so the hoses show the sides. Where they cannot be seen, the word alone counts. */
export function standStill(data: RecoverHosesData, input: StageInput): Step {
  const { nowMs, plan } = input;
  const wanted = SAFE_COMMANDS;
  const apartPa = sidesApartPa(input) ?? 0;
  const waitedMs = nowMs - data.stepSinceMs;
  const over = waitedMs >= plan.settle.afterEngineMs;
  if (comesTogether(data.apartPa, apartPa, input) || (over && data.stopDoubted))
    return { data: at(data, 'close', nowMs), wanted };
  if (!over) return { data, wanted };
  return {
    data: { ...at(data, 'stop-engine', nowMs), stopDoubted: true },
    wanted,
    notices: [engineDoubted(waitedMs, apartPa)],
  };
}
