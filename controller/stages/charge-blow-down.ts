// The hose blows down into the vehicle once it has its grams, and the scale of the shut tank is watched meanwhile.
import { restFall, restMassOf } from '../interlocks/loss-watch.ts';
import type { NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import { beginDrawBack } from './charge-draw-back.ts';
import { at, given, HIGH_OPEN } from './charge-steps.ts';
import type { ChargeData } from './data-charge.ts';
import { withScaleMoves } from './scale-moves.ts';
import type { StageInput, StageStep } from './stage.ts';

/** A draw or a manifold shut off would hide what the charge valve lets through: neither comes before the scale was watched. */
const mayLeak = (
  { stepSinceMs, result }: ChargeData,
  { lossWatch, nowMs, plan: { charge } }: StageInput,
): boolean =>
  result === 'charged' &&
  restFall(lossWatch) === undefined &&
  nowMs - stepSinceMs < charge.blowDownMs + charge.watchMs;

export function blownDown(data: ChargeData, input: StageInput): StageStep<ChargeData> {
  const { plan, nowMs } = input;
  if (nowMs - data.stepSinceMs < plan.charge.blowDownMs || mayLeak(data, input))
    return { data, wanted: HIGH_OPEN };
  const filled = data.drawBack === undefined || data.topUpKg !== undefined;
  const doubted = restMassOf(input.lossWatch) === 'doubtful' && data.drawBack === undefined;
  const draws = data.result === 'charged' && (data.drawsBack ? filled : doubted);
  return {
    data: draws ? beginDrawBack(at(data, 'draw-manifold', nowMs), input) : at(data, 'weigh-after', nowMs),
    wanted: SAFE_COMMANDS,
    accounts: withScaleMoves(given(data, input), input),
    notices: doubted ? doubt(input) : [],
  };
}

function doubt({ lossWatch }: StageInput): readonly NoticeDraft[] {
  const fall = restFall(lossWatch);
  return fall === undefined
    ? []
    : [{ code: 'charge-valve-doubted', with: { perMinute: (fall.kgPerS * 60_000).toFixed(1) } }];
}
