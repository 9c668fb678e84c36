// The last grams of a charge: the valve shut until the scale has settled, then a pulse, as often as it takes.
import { nextPulseMs } from '../estimates/cutoff.ts';
import { asHoseFilled, helpFor, moreForHelp } from './charge-assist.ts';
import { watchFall, withForce } from './charge-force.ts';
import { at, blowDown, chargeFor, disturbed, FAR, given, HIGH_OPEN, movedTooOften } from './charge-steps.ts';
import { aimedKg } from './charge-target.ts';
import type { ChargeData } from './data-charge.ts';
import { partialChargeKg } from './partial-charge.ts';
import type { StageInput, StageStep } from './stage.ts';

type Step = StageStep<ChargeData>;

/** A pulse is over and the valve shut for certain. */
const AFTER_PULSE_MS = 200;
/** Only the calm end of a settling time is averaged. */
const AVERAGE_MS = 700;
/** Weight of the newest pulse in the learnt yield. */
const LEARN = 0.4;
const SCALE_WAIT_MS = 120_000;

/** Valve shut, hose open to the vehicle: what has arrived, and what is still wanted. */
export function settle(data: ChargeData, input: StageInput): Step {
  const { plan, nowMs, estimates } = input;
  const waitedMs = nowMs - data.stepSinceMs;
  const stay = { data, wanted: HIGH_OPEN };
  if (estimates.scale.trust !== 'trusted') {
    if (waitedMs > SCALE_WAIT_MS) return blowDown(data, input, 'scale-lost');
    return data.settledSamples === 0 ? stay : { ...stay, data: { ...data, settledKg: 0, settledSamples: 0 } };
  }
  if (movedTooOften(data, input)) return blowDown(data, input, 'scale-lost');
  const settleMs = data.vehiclePa === undefined ? plan.charge.lookMs : plan.charge.pulseSettleMs;
  const watched = watchFall(data, input);
  if (waitedMs < settleMs - AVERAGE_MS) return { data: watched, wanted: HIGH_OPEN };
  const next = {
    ...watched,
    settledKg: data.settledKg + given(data, input),
    settledSamples: data.settledSamples + 1,
  };
  if (waitedMs < settleMs || next.settledSamples < 3) return { data: next, wanted: HIGH_OPEN };
  if (next.paused || data.vehiclePa !== undefined) return decidePulse(next, input);
  // The mean is taken once more, with the force that is known now.
  const again = { ...next, paused: true, settledKg: 0, settledSamples: 0 };
  return { data: again, wanted: HIGH_OPEN, accounts: withForce(next, input) };
}

function decidePulse(data: ChargeData, input: StageInput): Step {
  const { plan, nowMs } = input;
  const { charge } = plan;
  const delivered = data.settledKg / data.settledSamples;
  const learnt =
    data.pulseMs > 0 ? Math.max((delivered - data.deliveredAtShutKg) / data.pulseMs, 0) : undefined;
  const kgPerMs = learnt === undefined ? data.kgPerMs : data.kgPerMs + LEARN * (learnt - data.kgPerMs);
  const vehiclePa = data.vehiclePa ?? vehiclePressurePa(input);
  const filled = asHoseFilled(data, delivered, vehiclePa, input);
  const targetKg = data.topUpKg ?? aimKg(data, filled, vehiclePa);
  const accounts = { ...input.accounts, targetKg };
  const remainingKg = targetKg - delivered;
  const far = remainingKg > FAR * charge.fineKg && data.pulses === 0;
  const known = {
    ...data,
    vehiclePa: far ? undefined : vehiclePa,
    kgPerMs,
    targetKg,
    deliveredAtShutKg: delivered,
    pulseMs: 0,
  };
  if (far) {
    // With the force that is known now: nothing runs back through a shut valve.
    return { data: { ...at(known, 'full', nowMs), mostKg: delivered }, wanted: HIGH_OPEN, accounts };
  }
  const pulseMs = nextPulseMs({
    remainingKg,
    kgPerMs,
    shortestMs: charge.pulseMinMs,
    longestMs: charge.pulseMaxMs,
    toleranceKg: charge.toleranceKg,
  });
  if (pulseMs === undefined) return { ...blowDown(known, input, 'charged'), accounts };
  const idle = data.pulses > 0 && data.pulses % charge.pulseLook === 0;
  const stalls = idle && delivered - data.pulsedKg < charge.pulseLookKg;
  const help = stalls ? helpFor(known, delivered, input) : undefined;
  if (help !== undefined) return { ...help, accounts };
  if (data.pulses >= charge.pulses) {
    return { ...blowDown(known, input, remainingKg > charge.shortKg ? 'stalled' : 'charged'), accounts };
  }
  const next = {
    ...at(known, 'pulse', nowMs),
    pulseMs: Math.round(pulseMs),
    pulses: data.pulses + 1,
    pulsedKg: idle || data.pulses === 0 ? delivered : data.pulsedKg,
  };
  return { data: next, wanted: chargeFor(next.pulseMs), accounts };
}

const aimKg = (data: ChargeData, input: StageInput, vehiclePa: number | undefined): number =>
  data.part === 'whole'
    ? aimedKg(input, data.drawsBack, moreForHelp(data), vehiclePa)
    : partialChargeKg(input);

/** The high-side hose has blown down to the vehicle; its transducer was zeroed against the vacuum. */
const vehiclePressurePa = ({ seen, accounts }: StageInput): number | undefined =>
  seen.highSidePa === undefined ? undefined : seen.highSidePa - accounts.highSideZeroPa;

/** The same countdown until it has surely run out, then off: only off arms the next pulse. */
export function pulse(data: ChargeData, input: StageInput): Step {
  if (input.estimates.scale.trust !== 'trusted') return disturbed(data, input);
  return input.nowMs - data.stepSinceMs < data.pulseMs + AFTER_PULSE_MS
    ? { data, wanted: chargeFor(data.pulseMs) }
    : { data: at(data, 'settle', input.nowMs), wanted: HIGH_OPEN };
}
