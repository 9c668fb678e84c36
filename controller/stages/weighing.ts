// Weighs the tank at a phase boundary: every valve shut, drives off, the mean of a few quiet seconds.
import type { Weighing } from '../estimates/masses.ts';
import { hoseGaugePa } from '../estimates/pressures.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { WeighingInProgress } from './data-common.ts';
import { minutes, type StageInput, type StageStep } from './stage.ts';

type WeighingStart = Pick<StageInput, 'nowMs' | 'plan' | 'equipment' | 'seen' | 'estimates'>;

type WeighingStep = {
  readonly weighing: WeighingInProgress;
  readonly weighed?: Weighing;
  readonly failed?: true;
};

/** Overlapping medians carry less than independent samples (estimate). */
const MEDIAN_FACTOR = 1.5;
/** Slow noise that no mean of seconds removes (estimate). */
const MEAN_FLOOR_KG = 0.0002;

const startWeighing = (nowMs: number): WeighingInProgress => ({
  sinceMs: nowMs,
  quietSinceMs: nowMs,
  samples: 0,
  sum: 0,
  hosePaSum: 0,
  lastAtMs: nowMs,
});

/** The scale did not come to rest: without it no gram can be booked. */
const scaleLost = <D>(data: D, { plan }: StageInput): StageStep<D> => ({
  data,
  wanted: SAFE_COMMANDS,
  event: 'scale-lost',
  notices: [{ code: 'scale-lost', with: { minutes: minutes(plan.weighing.timeoutMs) } }],
});

/**
 * Goes on with a stage's weighing, everything shut; `then` says what follows once the tank is weighed. A scale that does
 * not come to rest ends the stage.
 */
export function whenWeighed<D extends { readonly weighing: WeighingInProgress | undefined }>(
  data: D,
  input: StageInput,
  then: (data: D, input: StageInput, weighed: Weighing) => StageStep<D>,
): StageStep<D> {
  const { weighing, weighed, failed } = stepWeighing(data.weighing, input);
  if (failed) return scaleLost(data, input);
  return weighed === undefined
    ? { data: { ...data, weighing }, wanted: SAFE_COMMANDS }
    : then(data, input, weighed);
}

/** One scan of a weighing, begun when there is none. */
export function stepWeighing(begun: WeighingInProgress | undefined, input: WeighingStart): WeighingStep {
  const { nowMs, plan, estimates } = input;
  const { scale } = estimates;
  const state = begun ?? startWeighing(nowMs);
  if (nowMs - state.sinceMs > plan.weighing.timeoutMs) return { weighing: state, failed: true };
  if (scale.trust !== 'trusted') {
    return { weighing: { ...startWeighing(nowMs), sinceMs: state.sinceMs, lastAtMs: scale.atMs } };
  }
  if (nowMs - state.quietSinceMs < plan.weighing.settleMs || scale.atMs <= state.lastAtMs) {
    return { weighing: state };
  }
  const weighing = {
    ...state,
    samples: state.samples + 1,
    sum: state.sum + scale.counts,
    hosePaSum: state.hosePaSum + hoseGaugePa(input.seen),
    lastAtMs: scale.atMs,
  };
  if (nowMs - state.quietSinceMs < plan.weighing.settleMs + plan.weighing.meanMs) return { weighing };
  return { weighing, weighed: weighingOf(weighing, input) };
}

function weighingOf(done: WeighingInProgress, input: WeighingStart): Weighing {
  const { scale } = input.estimates;
  return {
    counts: done.sum / done.samples,
    meanSdKg: Math.max(
      (MEDIAN_FACTOR * input.equipment.scale.noiseKg) / Math.sqrt(done.samples),
      MEAN_FLOOR_KG,
    ),
    offsetKg: scale.offsetKg,
    bumps: scale.bumps,
    undecidedVarianceKg2: scale.undecidedVarianceKg2,
    hoseGaugePa: done.hosePaSum / done.samples,
    hoseDoubtPa: input.estimates.joined.apartPa / 2,
    ambientK: input.seen.ambientK,
    cellWarmerK: input.estimates.cellWarmerK,
    driftKgPerS: input.estimates.drift.kgPerS,
    atMs: input.nowMs,
  };
}
