// What the steps of a charge share: where it stands, how a step begins, and how the charge ends.
import type { NoticeDraft } from '../notices.ts';
import type { Commands } from '../signals.ts';
import { tellGivenUp } from './charge-stall.ts';
import { overKg } from './charge-target.ts';
import type { ChargeData } from './data-charge.ts';
import { partialSpareKg } from './partial-charge.ts';
import { counted, deliveredKg, grams, type StageInput, type StageStep, want } from './stage.ts';

type Step = StageStep<ChargeData>;

export const HIGH_OPEN = want('highSideValve');
export const CHARGE = want('highSideValve', 'chargeValve');
/** With this many fine stages to go, full open rather than pulses. */
export const FAR = 3;
/** Of what is given too much: so much may be missing and the hoses still be drawn dry (estimate). */
const SPARE_SHARE = 0.8;
/** Common practice: ask after three. */
const MOST_BUMPS = 3;

export const at = (data: ChargeData, step: ChargeData['step'], nowMs: number): ChargeData => ({
  ...data,
  step,
  stepSinceMs: nowMs,
  weighing: undefined,
  slowSinceMs: undefined,
  stallSinceMs: undefined,
  stalledMs: 0,
  gap: undefined,
  shutDueMs: undefined,
  settledKg: 0,
  settledSamples: 0,
});

/** What a flow is watched and a pulse is sized by begins anew. */
export const flowsAnew = (data: ChargeData): ChargeData => ({
  ...data,
  peakFlowKgPerS: 0,
  pulseMs: 0,
  pulses: 0,
  pulsedKg: 0,
});

export const given = (data: ChargeData, input: StageInput): number =>
  data.reference === undefined ? 0 : deliveredKg(data.reference, input);

/** Every bump that was bridged is a guess; after a few the mass given is no longer known. */
export const movedTooOften = (data: ChargeData, { estimates: { scale } }: StageInput): boolean =>
  data.reference !== undefined && scale.bumps - data.reference.bumps > MOST_BUMPS;

export const chargeFor = (ms: number): Commands => counted(CHARGE, 'chargeValve', ms);

export function disturbed(data: ChargeData, input: StageInput): Step {
  const told = data.told.includes('scale-disturbed');
  return {
    data: {
      ...at(data, 'settle', input.nowMs),
      pulseMs: 0,
      told: told ? data.told : [...data.told, 'scale-disturbed'],
    },
    wanted: HIGH_OPEN,
    notices: told ? [] : [{ code: 'scale-disturbed' }],
  };
}

/** What is given too much only to be drawn back, and what a search can do without. */
function mayBeMissingKg({ part, drawsBack, topUpKg }: ChargeData, input: StageInput): number {
  if (part === 'partial') return partialSpareKg(input);
  return drawsBack && topUpKg === undefined ? SPARE_SHARE * overKg(input.accounts) : 0;
}

export function blowDown(data: ChargeData, input: StageInput, why: NonNullable<ChargeData['result']>): Step {
  const delivered = given(data, input);
  const result =
    why === 'stalled' && data.targetKg - delivered <= mayBeMissingKg(data, input) ? 'charged' : why;
  const charged = grams(delivered);
  const notices: NoticeDraft[] = result === 'stalled' ? [...tellGivenUp(data, delivered, input).notices] : [];
  if (result === 'no-response') notices.push({ code: 'charge-stalled-coupler', with: { charged } });
  if (result !== 'charged') {
    const code = data.part === 'whole' ? 'charge-fell-short' : 'partial-charge-short';
    notices.push({ code, with: { charged, target: grams(data.targetKg) } });
  }
  return { data: { ...at(data, 'blow-down', input.nowMs), result }, wanted: HIGH_OPEN, notices };
}
