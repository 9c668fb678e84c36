// Charge: liquid into the high side by weight, full open first and then in pulses, until the vehicle has its grams.

import { nextPulseMs, shutInMs } from '../estimates/cutoff.ts';
import { NO_READINGS, type Weighing } from '../estimates/masses.ts';
import type { NoticeDraft } from '../notices.ts';
import { type Commands, SAFE_COMMANDS } from '../signals.ts';
import {
  afterWait,
  asHoseFilled,
  beginHelp,
  foresee,
  helpAfterMs,
  mayHelp,
  moreForHelp,
  stepHelp,
} from './charge-assist.ts';
import { beginDrawBack, keptNow, stepDrawBack, weighDrawn } from './charge-draw-back.ts';
import { beginEngineHelp, mayUseEngine, stepEngineHelp } from './charge-engine.ts';
import { pauseAtKg, watchFall, withForce } from './charge-force.ts';
import { couplerShut, tellGivenUp, tellStall, watchStall } from './charge-stall.ts';
import { chargeTargetKg, hosesWillBeCleared, OVER_KG } from './charge-target.ts';
import type { ChargeData } from './data.ts';
import { book, counted, deliveredKg, grams, type StageInput, type StageStep, want } from './stage.ts';
import { whenWeighed } from './weighing.ts';

const HIGH_OPEN = want('highSideValve');
const CHARGE = want('highSideValve', 'chargeValve');
/** A cut-off nearer than this is left to the rig, which counts finer than a scan. */
const SCHEDULE_MS = 400;
/** A pulse is over and the valve shut for certain. */
const AFTER_PULSE_MS = 200;
/** Only the calm end of a settling time is averaged. */
const AVERAGE_MS = 700;
/** Weight of the newest pulse in the learnt yield. */
const LEARN = 0.4;
/** With this many fine stages to go, full open again rather than pulses. */
const FAR = 3;
const FIRST_SHARE = 0.3;
/** Of what is given too much: so much may be missing and the hoses still be drawn dry (estimate). */
const SPARE_SHARE = 0.8;
/** Common practice: ask after three. */
const MOST_BUMPS = 3;
const SCALE_WAIT_MS = 120_000;

export const enterCharge = (nowMs: number): ChargeData => ({
  stage: 'charge',
  step: 'weigh',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  weighing: undefined,
  reference: undefined,
  targetKg: 0,
  peakFlowKgPerS: 0,
  slowSinceMs: undefined,
  stallSinceMs: undefined,
  stalledMs: 0,
  told: [],
  shutDueMs: undefined,
  deliveredAtShutKg: 0,
  kgPerMs: 0,
  pulseMs: 0,
  pulses: 0,
  settledKg: 0,
  settledSamples: 0,
  vehiclePa: undefined,
  drawsBack: false,
  drawBack: undefined,
  topUpKg: undefined,
  mostKg: 0,
  lowFromPa: undefined,
  assist: undefined,
  engineHelp: undefined,
  pulsedKg: 0,
  falling: NO_READINGS,
  paused: false,
  result: undefined,
});

type Step = StageStep<ChargeData>;

const ENGINE_STEPS: readonly ChargeData['step'][] = [
  'clear-manifold',
  'prove-shut',
  'start-engine',
  'engine-runs',
  'engine-look',
  'engine-pulse',
  'engine-draw',
];
const HELPING: readonly ChargeData['step'][] = [
  'cushion',
  'weigh-still',
  'heat',
  'weigh-again',
  ...ENGINE_STEPS,
];

export function stepCharge(data: ChargeData, input: StageInput): Step {
  const chargingMs = input.nowMs - data.sinceMs - (data.assist?.spentMs ?? 0);
  const late = chargingMs > input.plan.charge.timeoutMs && !HELPING.includes(data.step);
  if (late && data.result === undefined) {
    return blowDown(data, input, 'stalled');
  }
  switch (data.step) {
    case 'weigh':
      return whenWeighed(data, input, weighBefore);
    case 'cushion':
    case 'weigh-still':
    case 'heat':
      return help(data, input);
    case 'clear-manifold':
    case 'prove-shut':
    case 'start-engine':
    case 'engine-runs':
    case 'engine-look':
    case 'engine-pulse':
    case 'engine-draw':
      return data.engineHelp === undefined
        ? { data: at(data, 'settle', input.nowMs), wanted: SAFE_COMMANDS }
        : stepEngineHelp(data, data.engineHelp, input);
    case 'weigh-again':
      return whenWeighed(data, input, goOn);
    case 'full':
      return full(data, input);
    case 'settle':
      return settle(data, input);
    case 'pulse':
      return pulse(data, input);
    case 'blow-down':
      return blownDown(data, input);
    case 'draw-manifold':
    case 'draw-hose':
    case 'pump-out':
      return stepDrawBack(data, input);
    case 'weigh-drawn':
      return whenWeighed(data, input, weighDrawn);
    case 'weigh-after':
      return whenWeighed(data, input, weighAfter);
  }
}

const at = (data: ChargeData, step: ChargeData['step'], nowMs: number): ChargeData => ({
  ...data,
  step,
  stepSinceMs: nowMs,
  weighing: undefined,
  shutDueMs: undefined,
  settledKg: 0,
  settledSamples: 0,
});

function blownDown(data: ChargeData, input: StageInput): Step {
  const { plan, nowMs } = input;
  if (nowMs - data.stepSinceMs < plan.charge.blowDownMs) return { data, wanted: HIGH_OPEN };
  const draws = data.result === 'charged' && data.drawBack === undefined && data.drawsBack;
  return draws
    ? { data: beginDrawBack(at(data, 'draw-manifold', nowMs), input), wanted: SAFE_COMMANDS }
    : { data: at(data, 'weigh-after', nowMs), wanted: SAFE_COMMANDS };
}

function weighBefore(data: ChargeData, input: StageInput, weighed: Weighing): Step {
  const { accounts, nowMs } = input;
  const drawsBack = data.reference === undefined ? !hosesWillBeCleared(input) : data.drawsBack;
  const targetKg = firstTargetKg(input, drawsBack);
  const reference = data.reference ?? weighed;
  const begun = { ...at(data, 'full', nowMs), reference, targetKg, drawsBack };
  const foreseen =
    data.reference === undefined
      ? foresee({ ...begun, lowFromPa: input.seen.lowSidePa }, weighed, input)
      : { data: begun, notices: [] };
  return {
    data: foreseen.data,
    wanted: SAFE_COMMANDS,
    accounts: {
      ...accounts,
      weighed: data.reference === undefined ? weighed : accounts.weighed,
      weighedBeforeCharge: accounts.weighedBeforeCharge ?? weighed,
      keptBeforeCharge: accounts.keptBeforeCharge ?? accounts.kept,
      targetKg,
    },
    notices: data.reference === undefined ? [...engineNotices(input), ...foreseen.notices] : [],
  };
}

/** What was asked for and is not done is told before the charge is compensated for it. */
const engineNotices = ({ plan: { engineUnused } }: StageInput): readonly NoticeDraft[] =>
  engineUnused === undefined ? [] : [{ code: 'engine-left-alone', with: { reason: engineUnused } }];

/** Before the vehicle's pressure is known the hold-up is uncertain by all of itself: stay on the safe side. */
const firstTargetKg = (input: StageInput, drawsBack: boolean): number => {
  const { nominalChargeKg } = input.plan.ticket;
  return nominalChargeKg + FIRST_SHARE * (chargeTargetKg(input, drawsBack) - nominalChargeKg);
};

const given = (data: ChargeData, input: StageInput): number =>
  data.reference === undefined ? 0 : deliveredKg(data.reference, input);

/** Waits for the tank to stand above the vehicle. */
const help = (data: ChargeData, input: StageInput): Step =>
  data.assist === undefined
    ? { data: at(data, 'settle', input.nowMs), wanted: SAFE_COMMANDS }
    : stepHelp(data, data.assist, input);

/** What is far from the target flows again, the rest is pulsed. */
function goOn(data: ChargeData, input: StageInput, weighed: Weighing): Step {
  if (data.assist === undefined) return { data: at(data, 'settle', input.nowMs), wanted: SAFE_COMMANDS };
  const { data: waited, accounts } = afterWait(data, data.assist, input, weighed);
  const now = { ...input, accounts };
  if (!data.assist.helped && mayUseEngine(waited, now)) return { ...beginEngineHelp(waited, now), accounts };
  if (!data.assist.helped) return { ...blowDown(waited, now, 'stalled'), accounts };
  const far = waited.targetKg - given(waited, now) > FAR * input.plan.charge.fineKg;
  const fresh = {
    ...waited,
    peakFlowKgPerS: 0,
    slowSinceMs: undefined,
    stallSinceMs: undefined,
    stalledMs: 0,
  };
  return {
    data: { ...at(fresh, far ? 'full' : 'settle', input.nowMs), pulseMs: 0, pulses: 0, pulsedKg: 0 },
    wanted: HIGH_OPEN,
    accounts,
  };
}

function full(before: ChargeData, input: StageInput): Step {
  const data = { ...before, mostKg: Math.max(before.mostKg, given(before, input)) };
  const { plan, equipment, nowMs, estimates } = input;
  if (estimates.scale.trust !== 'trusted') return disturbed(data, input);
  if (movedTooOften(data, input)) return blowDown(data, input, 'scale-lost');
  const delivered = given(data, input);
  const flow = Math.max(-estimates.scale.flowKgPerS, 0);
  const fineKg = Math.max(plan.charge.fineKg, plan.charge.fineS * flow);
  const untilFineKg = Math.min(pauseAtKg(data, input), data.targetKg - fineKg) - delivered;
  const lead = { flowKgPerS: flow, deadTimeMs: equipment.valveDeadTimeMs, inFlightKg: 0 };
  const inMs = shutInMs({ remainingKg: untilFineKg, ...lead });
  const spent = data.shutDueMs !== undefined && nowMs >= data.shutDueMs;
  if (spent || untilFineKg <= 0 || (inMs !== undefined && inMs <= 0)) {
    return { data: shut(data, delivered, flow, nowMs), wanted: HIGH_OPEN };
  }
  const watched = watchStall(data, flow, input);
  if (watched.stalledMs > plan.charge.stallMs && couplerShut(watched, delivered, input)) {
    return blowDown(watched, input, 'no-response');
  }
  if (watched.stalledMs > helpAfterMs(watched, delivered, input) && mayHelp(watched, input)) {
    const begun = beginHelp(at(watched, 'cushion', nowMs), delivered, input);
    return { data: begun.data, wanted: HIGH_OPEN, notices: begun.notices };
  }
  if (watched.stalledMs > plan.charge.stallWaitMs) return blowDown(watched, input, 'stalled');
  const { told, notices } = tellStall(watched, delivered, input);
  const scheduled = inMs !== undefined && inMs <= SCHEDULE_MS;
  const shutDueMs = scheduled ? Math.min(data.shutDueMs ?? nowMs + inMs, nowMs + inMs) : data.shutDueMs;
  const next =
    told === watched.told && shutDueMs === data.shutDueMs ? watched : { ...watched, told, shutDueMs };
  const wanted = scheduled ? chargeFor(inMs) : CHARGE;
  return notices.length === 0 ? { data: next, wanted } : { data: next, wanted, notices };
}

/** Every bump that was bridged is a guess; after a few the mass given is no longer known. */
const movedTooOften = (data: ChargeData, { estimates: { scale } }: StageInput): boolean =>
  data.reference !== undefined && scale.bumps - data.reference.bumps > MOST_BUMPS;

const chargeFor = (ms: number): Commands => counted(CHARGE, 'chargeValve', ms);

/** The valve is told to shut now; the first pulse is sized by the flow that was. */
const shut = (data: ChargeData, deliveredAtShutKg: number, flow: number, nowMs: number): ChargeData => ({
  ...at(data, 'settle', nowMs),
  deliveredAtShutKg,
  kgPerMs: data.kgPerMs > 0 ? data.kgPerMs : flow / 1000,
});

function disturbed(data: ChargeData, input: StageInput): Step {
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

/** Valve shut, hose open to the vehicle: what has arrived, and what is still wanted. */
function settle(data: ChargeData, input: StageInput): Step {
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
  const targetKg = data.topUpKg ?? chargeTargetKg(filled, data.drawsBack, vehiclePa) + moreForHelp(data);
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
    return { data: { ...at(known, 'full', nowMs) }, wanted: HIGH_OPEN, accounts };
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
  if (stalls && mayHelp(data, input)) {
    const begun = beginHelp(at(known, 'cushion', nowMs), delivered, input);
    return { data: begun.data, wanted: HIGH_OPEN, accounts, notices: begun.notices };
  }
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

/** The high-side hose has blown down to the vehicle; its transducer was zeroed against the vacuum. */
const vehiclePressurePa = ({ seen, accounts }: StageInput): number | undefined =>
  seen.highSidePa === undefined ? undefined : seen.highSidePa - accounts.highSideZeroPa;

/** The same countdown until it has surely run out, then off: only off arms the next pulse. */
function pulse(data: ChargeData, input: StageInput): Step {
  if (input.estimates.scale.trust !== 'trusted') return disturbed(data, input);
  return input.nowMs - data.stepSinceMs < data.pulseMs + AFTER_PULSE_MS
    ? { data, wanted: chargeFor(data.pulseMs) }
    : { data: at(data, 'settle', input.nowMs), wanted: HIGH_OPEN };
}

/** What is given too much only to be drawn back may be missing. */
const spareOf = ({ drawsBack, topUpKg }: ChargeData): number =>
  drawsBack && topUpKg === undefined ? SPARE_SHARE * OVER_KG : 0;

function blowDown(data: ChargeData, input: StageInput, why: NonNullable<ChargeData['result']>): Step {
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

function weighAfter(data: ChargeData, input: StageInput, weighed: Weighing): Step {
  const wanted = SAFE_COMMANDS;
  const { accounts } = input;
  const entry = book('tank-to-vehicle', accounts.weighed ?? weighed, weighed, input);
  const kept =
    data.drawBack?.startedAtMs === undefined ? accounts.kept : keptNow(data.drawBack, entry.massKg, input);
  const event = data.result === 'charged' ? 'charged' : 'charge-fell-short';
  return {
    data,
    wanted,
    event,
    result: data.result ?? event,
    ledger: [entry],
    accounts: { ...accounts, weighed, kept, chargedKg: (accounts.chargedKg ?? 0) + entry.massKg },
  };
}
