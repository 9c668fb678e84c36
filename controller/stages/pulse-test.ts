// A short opening of the high-side valve alone: the sensor that answers must be that side's.
import { SAFE_COMMANDS } from '../signals.ts';
import type { PulseTest, SettleData } from './data-recovery.ts';
import { atAfresh, kilopascals, type StageInput, type StageStep, want } from './stage.ts';

/** A manifold so far below the hoses that filling it shows in the one that fills it (estimate). */
const LEAST_STEP_PA = 150_000;
/** A dip of this much is an answer, through a plug on the wrong input as well; the other side's is below half of it (estimates). */
const LEAST_ANSWER_PA = 12_000;
/** The 60 mL of a manifold fill within half a second; by then the coupler has made good what the hose gave (estimate). */
const OPEN_MS = 1_000;
const LOOK_MS = 2_000;

const HIGH_SIDE = want('highSideValve');

/** Nothing can be told from one side alone, nor where the manifold has no room for what would come. */
export function startPulseTest({ plan, seen }: StageInput): PulseTest | undefined {
  const { highSidePa, lowSidePa, manifoldPa } = seen;
  if (plan.ticket.ports === 1 || highSidePa === undefined || lowSidePa === undefined) return undefined;
  // An exchanged plug shows a third of the pressure, or three times as much.
  if (manifoldPa === undefined || Math.max(highSidePa, lowSidePa) - manifoldPa < LEAST_STEP_PA)
    return undefined;
  return {
    highFromPa: highSidePa,
    lowFromPa: lowSidePa,
    highLowestPa: highSidePa,
    lowLowestPa: lowSidePa,
  };
}

export function stepPulseTest(data: SettleData, test: PulseTest, input: StageInput): StageStep<SettleData> {
  const { seen, nowMs } = input;
  const waitedMs = nowMs - data.stepSinceMs;
  const looked: PulseTest = {
    ...test,
    highLowestPa: Math.min(test.highLowestPa, seen.highSidePa ?? test.highLowestPa),
    lowLowestPa: Math.min(test.lowLowestPa, seen.lowSidePa ?? test.lowLowestPa),
  };
  const next = { ...data, pulseTest: looked };
  if (waitedMs < LOOK_MS) return { data: next, wanted: waitedMs < OPEN_MS ? HIGH_SIDE : SAFE_COMMANDS };
  const high = dipPa(looked.highFromPa, looked.highLowestPa, seen.highSidePa);
  const low = dipPa(looked.lowFromPa, looked.lowLowestPa, seen.lowSidePa);
  // Where neither side answers nothing is proven, and nothing is said against them either.
  if (low < LEAST_ANSWER_PA || high > low / 2)
    return { data: atAfresh(next, 'weigh-connected', nowMs), wanted: SAFE_COMMANDS };
  return {
    data: next,
    wanted: SAFE_COMMANDS,
    event: 'vehicle-found-pressurised',
    result: 'sides-swapped',
    notices: [{ code: 'sides-swapped', with: { high: kilopascals(high), low: kilopascals(low) } }],
  };
}

/** What has come back by now was the hose's alone; what has not, the whole vehicle's. */
const dipPa = (fromPa: number, lowestPa: number, nowPa = lowestPa): number =>
  Math.min(fromPa, nowPa) - lowestPa;
