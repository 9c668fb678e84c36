// Clear hoses: the high coupler closed, the running engine's low side sucks the high hose dry. The pressure proves both.
import { ROOM_K, SURE } from '../constants.ts';
import { saturationPa } from '../estimates/saturation.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { ClearHosesData } from './data-hoses.ts';
import { at, confirms, kilopascals, type StageInput, type StageStep, want } from './stage.ts';

const JOIN = want('highSideValve', 'lowSideValve');
/** High hose and manifold alone. */
const WATCH = want('highSideValve');

export const enterClearHoses = (nowMs: number): ClearHosesData => ({
  stage: 'clear-hoses',
  step: 'close',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  asks: 0,
  joins: 0,
  startHighPa: 0,
  startLowPa: 0,
  watchFromPa: 0,
});

type Step = StageStep<ClearHosesData>;

export function stepClearHoses(data: ClearHosesData, input: StageInput): Step {
  if (input.engine !== 'running') return giveUp(data, 'engine-stopped');
  const { highSidePa, lowSidePa } = input.seen;
  if (data.step === 'close') {
    return confirms(input.answers, 'close-high-coupler')
      ? { data: { ...at(data, 'look', input.nowMs), asks: data.asks + 1 }, wanted: SAFE_COMMANDS }
      : { data, wanted: SAFE_COMMANDS, prompt: 'close-high-coupler' };
  }
  if (highSidePa === undefined || lowSidePa === undefined) return giveUp(data, 'pressure-unknown');
  switch (data.step) {
    case 'look':
      return look(data, input, highSidePa, lowSidePa);
    case 'join':
      return join(data, input, highSidePa, lowSidePa);
    case 'watch':
      return watch(data, input, highSidePa);
    case 'tell':
      return tell(data, input, highSidePa);
  }
}

function look(data: ClearHosesData, input: StageInput, highPa: number, lowPa: number): Step {
  const { plan, nowMs } = input;
  if (nowMs - data.stepSinceMs < plan.clearHoses.lookMs) return { data, wanted: SAFE_COMMANDS };
  const next = { ...at(data, 'join', nowMs), joins: data.joins + 1, startHighPa: highPa, startLowPa: lowPa };
  return { data: next, wanted: JOIN };
}

/** A closed coupler lets the hose fall to the low side; an open one keeps feeding it. */
function join(data: ClearHosesData, input: StageInput, highPa: number, lowPa: number): Step {
  const { plan, nowMs, equipment } = input;
  const { clearHoses } = plan;
  const joinedMs = nowMs - data.stepSinceMs;
  const doubtPa = SURE * Math.hypot(equipment.pressure.highSideSdPa, equipment.pressure.lowSideSdPa);
  const apartPa = data.startHighPa - data.startLowPa;
  const tellsApart = joinedMs >= clearHoses.fallMs && apartPa > clearHoses.apartPa + doubtPa;
  if (tellsApart && data.startHighPa - highPa < clearHoses.fallShare * apartPa) {
    return couplerOpen(data, input);
  }
  const even = highPa - lowPa < clearHoses.joinedPa + doubtPa;
  const dry = joinedMs >= clearHoses.leastMs && even;
  if (!dry && joinedMs < clearHoses.mostMs) return { data, wanted: JOIN };
  return { data: { ...at(data, 'watch', nowMs), watchFromPa: highPa }, wanted: WATCH };
}

/** Cut off from the low side, liquid that is left boils up; what rises is shut in at once. */
function watch(data: ClearHosesData, input: StageInput, highPa: number): Step {
  const { plan, nowMs } = input;
  const { clearHoses } = plan;
  if (highPa - data.watchFromPa > clearHoses.risePa) {
    return { data: at(data, 'tell', nowMs), wanted: SAFE_COMMANDS };
  }
  if (nowMs - data.stepSinceMs < clearHoses.watchMs) return { data, wanted: WATCH };
  return cleared(data, input);
}

const cleared = (data: ClearHosesData, { accounts }: StageInput): Step => ({
  data,
  wanted: SAFE_COMMANDS,
  event: 'hoses-cleared',
  accounts: { ...accounts, hosesCleared: true },
});

/** Beyond saturation only the vehicle's compressor can have brought it; below it is liquid still boiling. */
function tell(data: ClearHosesData, input: StageInput, highPa: number): Step {
  const { plan, nowMs, seen, equipment } = input;
  const { clearHoses } = plan;
  const warmestPa = saturationPa(plan.curve, seen.ambientK ?? seen.tankTemperatureK ?? ROOM_K);
  const beyondPa = clearHoses.tellPa + SURE * equipment.pressure.highSideSdPa;
  if (highPa > warmestPa + beyondPa) return couplerOpen(data, input);
  if (nowMs - data.stepSinceMs < clearHoses.tellMs) return { data, wanted: SAFE_COMMANDS };
  if (data.joins < clearHoses.joins) return { data: at(data, 'look', nowMs), wanted: SAFE_COMMANDS };
  return { ...cleared(data, input), result: 'liquid-left', notices: [{ code: 'hoses-not-dry' }] };
}

/** Asked again, and after that the hoses are recovered as they are. */
function couplerOpen(data: ClearHosesData, { plan, nowMs, seen }: StageInput): Step {
  if (data.asks >= plan.clearHoses.asks) return giveUp(data, 'coupler-open');
  const pressure = seen.highSidePa === undefined ? 'an unknown number of' : kilopascals(seen.highSidePa);
  return {
    data: { ...at(data, 'close', nowMs), joins: 0 },
    wanted: SAFE_COMMANDS,
    notices: [{ code: 'high-coupler-open', with: { pressure } }],
  };
}

const giveUp = (data: ClearHosesData, result: string): Step => ({
  data,
  wanted: SAFE_COMMANDS,
  event: 'hoses-not-cleared',
  result,
  notices: [{ code: 'hoses-not-cleared' }],
});
