// What the steps of a charge share: where it stands, how a step begins, and how the charge ends.
import type { NoticeDraft } from '../notices.ts';
import type { Commands } from '../signals.ts';
import { tellGivenUp } from './charge-stall.ts';
import { OVER_KG } from './charge-target.ts';
import type { ChargeData } from './data.ts';
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
  shutDueMs: undefined,
  settledKg: 0,
  settledSamples: 0,
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

/** What is given too much only to be drawn back may be missing. */
const spareOf = ({ drawsBack, topUpKg }: ChargeData): number =>
  drawsBack && topUpKg === undefined ? SPARE_SHARE * OVER_KG : 0;

export function blowDown(data: ChargeData, input: StageInput, why: NonNullable<ChargeData['result']>): Step {
  const delivered = given(data, input);
  const result = why === 'stalled' && data.targetKg - delivered <= spareOf(data) ? 'charged' : why;
  const charged = grams(delivered);
  const notices: NoticeDraft[] = result === 'stalled' ? [...tellGivenUp(data, delivered, input).notices] : [];
  if (result === 'no-response') notices.push({ code: 'charge-stalled-coupler', with: { charged } });
  if (result !== 'charged') {
    notices.push({ code: 'charge-fell-short', with: { charged, target: grams(data.targetKg) } });
  }
  return { data: { ...at(data, 'blow-down', input.nowMs), result }, wanted: HIGH_OPEN, notices };
}
