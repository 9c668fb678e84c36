// Charge: liquid into the high side by weight, full open first and then in pulses, until the vehicle has its grams.

import { shutInMs } from '../estimates/cutoff.ts';
import { NO_READINGS, type Weighing } from '../estimates/masses.ts';
import type { NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import { afterWait, foresee, helpAfterMs, helpFor, stepHelp } from './charge-assist.ts';
import { blownDown } from './charge-blow-down.ts';
import { correct, waitsForEngine } from './charge-correct.ts';
import { keptNow, stepDrawBack, weighDrawn } from './charge-draw-back.ts';
import { beginEngineHelp, mayUseEngine, stepEngineHelp } from './charge-engine.ts';
import { escaped, watchEscape } from './charge-escape.ts';
import { pauseAtKg } from './charge-force.ts';
import { lookOnce } from './charge-look.ts';
import { pulse, settle } from './charge-pulses.ts';
import { couplerShut, tellStall, watchStall } from './charge-stall.ts';
import {
  at,
  blowDown,
  CHARGE,
  chargeFor,
  disturbed,
  FAR,
  flowsAnew,
  given,
  HIGH_OPEN,
  movedTooOften,
} from './charge-steps.ts';
import { chargeTargetKg, hosesWillBeCleared } from './charge-target.ts';
import type { ChargeData } from './data-charge.ts';
import { partialChargeKg, referenceOf } from './partial-charge.ts';
import { book, type StageInput, type StageStep } from './stage.ts';
import { whenWeighed } from './weighing.ts';

/** A cut-off nearer than this is left to the rig, which counts finer than a scan. */
const SCHEDULE_MS = 400;
const FIRST_SHARE = 0.3;

export const enterCharge = (nowMs: number): ChargeData => ({
  stage: 'charge',
  part: 'whole',
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
  gap: undefined,
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
  stood: undefined,
  paused: false,
  result: undefined,
});

/** For the leak check, which takes the charge's own steps. */
export const enterPartialCharge = (nowMs: number): ChargeData => ({ ...enterCharge(nowMs), part: 'partial' });

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

export function stepCharge(before: ChargeData, input: StageInput): Step {
  const data = watchEscape(before, input);
  if (data === 'escapes') return escaped(before, input);
  const chargingMs = input.nowMs - data.sinceMs - (data.assist?.spentMs ?? 0);
  const late = chargingMs > input.plan.charge.timeoutMs && !HELPING.includes(data.step);
  if (late && data.result === undefined) {
    return blowDown(data, input, 'stalled');
  }
  switch (data.step) {
    case 'weigh':
      return waitsForEngine(data, input) ?? whenWeighed(data, input, weighBefore);
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
    case 'look':
      return lookOnce(data, input);
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
    case 'stand-apart':
    case 'prove-dry':
      return stepDrawBack(data, input);
    case 'weigh-drawn':
      return whenWeighed(data, input, weighDrawn);
    case 'weigh-after':
      return whenWeighed(data, input, weighAfter);
  }
}

function weighBefore(data: ChargeData, input: StageInput, weighed: Weighing): Step {
  const { accounts, nowMs } = input;
  if (accounts.engineOfNoHelp) return correct(data, input, weighed);
  const whole = data.part === 'whole';
  const first = data.reference === undefined;
  const drawsBack = first ? whole && !hosesWillBeCleared(input) : data.drawsBack;
  const targetKg = whole ? firstTargetKg(input, drawsBack) : partialChargeKg(input);
  const reference = data.reference ?? referenceOf(data, input, weighed);
  // What a search has let in is no vacuum any more.
  const empty = first && accounts.weighedBeforeCharge === undefined;
  const begun = { ...at(data, empty ? 'look' : 'full', nowMs), reference, targetKg, drawsBack };
  const foreseen =
    first && whole
      ? foresee({ ...begun, lowFromPa: input.seen.lowSidePa }, weighed, input)
      : { data: first ? { ...begun, lowFromPa: input.seen.lowSidePa } : begun, notices: [] };
  return {
    data: foreseen.data,
    wanted: SAFE_COMMANDS,
    accounts: {
      ...accounts,
      weighed: data.reference === undefined ? weighed : accounts.weighed,
      weighedBeforeCharge: reference,
      keptBeforeCharge: accounts.keptBeforeCharge ?? accounts.kept,
      targetKg,
    },
    notices: first && whole ? [...engineNotices(input), ...foreseen.notices] : [],
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
  return {
    data: at(flowsAnew(waited), far ? 'full' : 'settle', input.nowMs),
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
  // Little goes into a check, and slowly past an expansion valve: it looks itself whether the vehicle has got it.
  if (data.part === 'whole' && couplerShut(watched, delivered, input)) {
    const { accounts } = input;
    const shut = blowDown(watched, input, 'no-response');
    if (!accounts.emptyYetSampled) return shut;
    const notices: readonly NoticeDraft[] = [...(shut.notices ?? []), { code: 'content-unknown' }];
    return { ...shut, notices, accounts: { ...accounts, lostTrack: true } };
  }
  const stalls = watched.stalledMs > helpAfterMs(watched, delivered, input);
  const helped = stalls ? helpFor(watched, delivered, input) : undefined;
  if (helped !== undefined) return helped;
  if (watched.stalledMs > plan.charge.stallWaitMs) return blowDown(watched, input, 'stalled');
  const { told, notices } = tellStall(watched, delivered, input);
  const scheduled = inMs !== undefined && inMs <= SCHEDULE_MS;
  const shutDueMs = scheduled ? Math.min(data.shutDueMs ?? nowMs + inMs, nowMs + inMs) : data.shutDueMs;
  const next = { ...watched, told, shutDueMs };
  const wanted = scheduled ? chargeFor(inMs) : CHARGE;
  return notices.length === 0 ? { data: next, wanted } : { data: next, wanted, notices };
}

/** The valve is told to shut now; the first pulse is sized by the flow that was. */
const shut = (data: ChargeData, deliveredAtShutKg: number, flow: number, nowMs: number): ChargeData => ({
  ...at(data, 'settle', nowMs),
  deliveredAtShutKg,
  kgPerMs: data.kgPerMs > 0 ? data.kgPerMs : flow / 1000,
});

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
