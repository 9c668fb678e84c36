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

/**
 * Nothing can be told from one sensor alone, nor where the manifold has no room for what would come. With one port the low
 * hose is a dead end, and its sensor may answer as little.
 */
export function startPulseTest({ seen }: StageInput): PulseTest | undefined {
  const { highSidePa, lowSidePa, manifoldPa } = seen;
  if (highSidePa === undefined || lowSidePa === undefined) return undefined;
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

export const lookedAt = (test: PulseTest, { seen }: StageInput): PulseTest => ({
  ...test,
  highLowestPa: Math.min(test.highLowestPa, seen.highSidePa ?? test.highLowestPa),
  lowLowestPa: Math.min(test.lowLowestPa, seen.lowSidePa ?? test.lowLowestPa),
});

export function stepPulseTest(data: SettleData, test: PulseTest, input: StageInput): StageStep<SettleData> {
  const waitedMs = input.nowMs - data.stepSinceMs;
  const next = { ...data, pulseTest: lookedAt(test, input) };
  if (waitedMs < LOOK_MS) return { data: next, wanted: waitedMs < OPEN_MS ? HIGH_SIDE : SAFE_COMMANDS };
  return (
    exchanged(next, input) ?? { data: atAfresh(next, 'weigh-connected', input.nowMs), wanted: SAFE_COMMANDS }
  );
}

/** Where neither side answers nothing is proven, and nothing is said against them either. */
export function exchanged(data: SettleData, { seen }: StageInput): StageStep<SettleData> | undefined {
  const test = data.pulseTest;
  if (test === undefined) return undefined;
  const high = dipPa(test.highFromPa, test.highLowestPa, seen.highSidePa);
  const low = dipPa(test.lowFromPa, test.lowLowestPa, seen.lowSidePa);
  if (low < LEAST_ANSWER_PA || high > low / 2) return undefined;
  return {
    data,
    wanted: SAFE_COMMANDS,
    event: 'vehicle-found-pressurised',
    result: 'sides-swapped',
    notices: [{ code: 'sides-swapped', with: { high: kilopascals(high), low: kilopascals(low) } }],
  };
}

/** What has come back by now was the hose's alone; what has not, the whole vehicle's. */
const dipPa = (fromPa: number, lowestPa: number, nowPa = lowestPa): number =>
  Math.min(fromPa, nowPa) - lowestPa;
