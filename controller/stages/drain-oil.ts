// Drain oil: raise the separator a little above the atmosphere with tank vapour, let its oil out, shut when gas follows.
import { keptOf } from '../estimates/kept.ts';
import type { Weighing } from '../estimates/masses.ts';
import { barometerPa } from '../estimates/pressures.ts';
import { NO_NOTICES, type NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { DrainOilData } from './data-recovery.ts';
import { lookedBehind, NOTHING_PASSED, openSeat, passedOn } from './drain-seats.ts';
import { wantsFanStopped } from './draw.ts';
import { recovered } from './recovered.ts';
import { book, counted, type StageInput, type StageStep, want } from './stage.ts';
import { whenWeighed } from './weighing.ts';

/** The recovery valve joins the separator to the manifold, where the absolute sensor is. */
const LOOK = want('recoveryValve');
const EASE = want('recoveryValve', 'compressor');
const EASE_STILL = want('recoveryValve', 'compressor', 'fanStop');
const CHARGE = want('chargeValve');
const DRAIN = want('recoveryValve', 'separatorDrainValve');
/** The recovery valve has surely shut before the pulse, and the charge valve after it. */
const SHUT_MS = 300;
const AFTER_PULSE_MS = 500;
/** Weight of the newest pulse in what a millisecond brings. */
const LEARN = 0.6;
/** From below: a longer pulse brings more than in proportion. */
const APPROACH = 0.7;
/** Refrigerant that leaves with the oil, which came out of the vehicle too (estimate: ten millilitres hold some 8 %). */
const CAUGHT_KG = 0.0008;
/** Apart enough to tell rest from flashing. */
const MARK_MS = 1_500;

export const enterDrainOil = (nowMs: number): DrainOilData => ({
  stage: 'drain-oil',
  step: 'look',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  pulses: 0,
  pulseMs: 0,
  paPerMs: 0,
  closedPa: undefined,
  seenShut: 0,
  seenOpen: 0,
  pulsedFrom: undefined,
  passed: NOTHING_PASSED,
  fired: false,
  fromPa: undefined,
  markPa: undefined,
  markAtMs: nowMs,
  sumPa: 0,
  samples: 0,
  openings: 0,
  why: undefined,
  givenKg: 0,
  fanStopped: false,
  weighing: undefined,
});

type Step = StageStep<DrainOilData>;

const at = (data: DrainOilData, step: DrainOilData['step'], nowMs: number): DrainOilData => ({
  ...data,
  step,
  stepSinceMs: nowMs,
  fired: false,
  markPa: undefined,
  sumPa: 0,
  samples: 0,
  weighing: undefined,
});

export function stepDrainOil(data: DrainOilData, input: StageInput): Step {
  const { plan, nowMs } = input;
  if (data.why === undefined && nowMs - data.sinceMs > plan.drainOil.timeoutMs) {
    return toWeighing(data, input, data.openings > 0 ? 'not-empty' : 'no-pressure');
  }
  switch (data.step) {
    case 'look':
      return look(data, input);
    case 'pulse':
      return pulse(data, input);
    case 'ease':
      return ease(data, input);
    case 'drain':
      return drain(data, input);
    case 'weigh':
      return whenWeighed(data, input, weigh);
    case 'return':
      return takeBack(data, input);
    case 'weigh-return':
      return whenWeighed(data, input, weighReturn);
  }
}

/** Where the separator stands, and what that calls for. */
function look(data: DrainOilData, input: StageInput): Step {
  const { plan, nowMs, seen } = input;
  const { drainOil } = plan;
  const waitedMs = nowMs - data.stepSinceMs;
  if (openSeat(data.passed) !== undefined) return toWeighing(data, input, 'passed-on');
  if (waitedMs < drainOil.lookMs) return { data, wanted: LOOK };
  if (seen.manifoldOverSpan) return { data: at(data, 'ease', nowMs), wanted: LOOK };
  const pressurePa = seen.manifoldPa;
  if (pressurePa === undefined) {
    return waitedMs < drainOil.blindMs ? { data, wanted: LOOK } : toWeighing(data, input, 'no-pressure');
  }
  const gaugePa = pressurePa - barometerPa(seen);
  if (gaugePa > drainOil.mostGaugePa) return { data: at(data, 'ease', nowMs), wanted: LOOK };
  if (waitedMs < drainOil.blindMs) {
    const markedMs = nowMs - data.markAtMs;
    const marked = { data: { ...data, markPa: pressurePa, markAtMs: nowMs }, wanted: LOOK };
    if (data.markPa === undefined) return marked;
    if (markedMs < MARK_MS) return { data, wanted: LOOK };
    if (Math.abs(pressurePa - data.markPa) * 1000 > drainOil.restPaPerS * markedMs) return marked;
  }
  const learnt = learn(data, pressurePa);
  if (gaugePa >= drainOil.leastGaugePa) {
    return { data: at({ ...learnt, fromPa: pressurePa }, 'drain', nowMs), wanted: LOOK };
  }
  if (data.pulses >= drainOil.pulses) return toWeighing(data, input, 'no-pressure');
  const wantedMs =
    learnt.paPerMs > 0
      ? (APPROACH * (drainOil.aimGaugePa - gaugePa)) / learnt.paPerMs
      : drainOil.firstPulseMs + data.pulses * drainOil.shortestPulseMs;
  const pulseMs = Math.min(Math.max(wantedMs, drainOil.shortestPulseMs), drainOil.longestPulseMs);
  const next = { ...learnt, fromPa: pressurePa, pulses: data.pulses + 1, pulseMs };
  return { data: at(next, 'pulse', nowMs), wanted: SAFE_COMMANDS };
}

/** What the last pulse brought, a millisecond. */
function learn(data: DrainOilData, pressurePa: number): DrainOilData {
  if (data.pulseMs === 0 || data.fromPa === undefined) return data;
  const newest = Math.max((pressurePa - data.fromPa) / data.pulseMs, 0);
  const paPerMs = data.paPerMs === 0 ? newest : data.paPerMs + LEARN * (newest - data.paPerMs);
  return { ...data, ...lookedBehind(data, pressurePa), paPerMs, pulseMs: 0 };
}

/** One short countdown into the closed manifold; what came in flashes and goes on to the separator in the next look. */
function pulse(data: DrainOilData, { nowMs, seen, equipment }: StageInput): Step {
  const waitedMs = nowMs - data.stepSinceMs;
  if (!data.fired && waitedMs >= SHUT_MS) {
    const { manifoldPa, highSidePa, lowSidePa } = seen;
    const fired = { ...data, fired: true, pulsedFrom: { manifoldPa, highSidePa, lowSidePa } };
    return { data: fired, wanted: counted(CHARGE, 'chargeValve', data.pulseMs) };
  }
  if (waitedMs < SHUT_MS + AFTER_PULSE_MS) return { data, wanted: SAFE_COMMANDS };
  const closedPa = seen.manifoldOverSpan ? equipment.pressure.manifoldSpanPa : seen.manifoldPa;
  const passed = data.pulsedFrom === undefined ? data.passed : passedOn(data.passed, data.pulsedFrom, seen);
  return { data: { ...at(data, 'look', nowMs), closedPa, passed }, wanted: LOOK };
}

/** More than the sensor can see: the compressor takes the rest back into the tank. */
function ease(data: DrainOilData, input: StageInput): Step {
  const { plan, nowMs, seen } = input;
  const { aimGaugePa } = plan.drainOil;
  const eased = seen.manifoldPa !== undefined && seen.manifoldPa - barometerPa(seen) <= aimGaugePa;
  if (eased) return { data: { ...at(data, 'look', nowMs), pulseMs: 0 }, wanted: LOOK };
  return { data, wanted: input.compressorRested || input.permitted.compressor.on ? EASE : LOOK };
}

/**
 * One short opening after the other, each with a look at what it took: oil leaving makes a little room for the gas
 * behind it, gas leaving lets the pressure fall.
 */
function drain(data: DrainOilData, input: StageInput): Step {
  const { plan, equipment, nowMs, seen } = input;
  const { probeDeadTimes, openMs, floatOpenMs, meanMs, shutMs } = plan.drainOil;
  const waitedMs = nowMs - data.stepSinceMs;
  if (seen.manifoldPa === undefined) return toWeighing(data, input, 'not-empty');
  const usualMs = equipment.separatorFloat ? floatOpenMs : openMs;
  const forMs = data.openings === 0 ? probeDeadTimes * equipment.valveDeadTimeMs : usualMs;
  const summed = { ...data, sumPa: data.sumPa + seen.manifoldPa, samples: data.samples + 1 };
  if (!data.fired) {
    if (waitedMs < meanMs) return { data: summed, wanted: LOOK };
    const fromPa = summed.sumPa / summed.samples;
    return {
      data: { ...at(data, 'drain', nowMs), fired: true, fromPa },
      wanted: counted(DRAIN, 'separatorDrainValve', forMs),
    };
  }
  // The rig counts the opening down; it is only kept wanted as long as it may last.
  if (waitedMs < forMs) return { data, wanted: counted(DRAIN, 'separatorDrainValve', forMs) };
  const openedMs = equipment.separatorFloat ? forMs : 0;
  if (waitedMs < openedMs + shutMs) return { data, wanted: LOOK };
  if (waitedMs < openedMs + shutMs + meanMs) return { data: summed, wanted: LOOK };
  return judgeOpening(data, input, summed.sumPa / summed.samples);
}

function judgeOpening(data: DrainOilData, input: StageInput, pressurePa: number): Step {
  const { gasShare, floatGasShare, floatShutShare, openings, spentGaugePa } = input.plan.drainOil;
  const { separatorFloat } = input.equipment;
  const fromPa = data.fromPa ?? pressurePa;
  const probing = data.openings === 0;
  const fall = (fromPa - pressurePa) / fromPa;
  const gasFollowed = fall > (separatorFloat && !probing ? floatGasShare : gasShare);
  const floatShut = separatorFloat && !probing && fall < floatShutShare;
  if (gasFollowed || floatShut) {
    const nothingCame = probing || (floatShut && data.openings === 1);
    return toWeighing(data, input, nothingCame ? 'dry' : 'drained');
  }
  const next = { ...at(data, 'drain', input.nowMs), openings: data.openings + 1 };
  if (next.openings >= openings) return toWeighing(next, input, 'not-empty');
  return pressurePa - barometerPa(input.seen) < spentGaugePa
    ? { data: at(next, 'look', input.nowMs), wanted: LOOK }
    : { data: next, wanted: LOOK };
}

function toWeighing(data: DrainOilData, input: StageInput, why: NonNullable<DrainOilData['why']>): Step {
  return { data: { ...at(data, 'weigh', input.nowMs), why }, wanted: SAFE_COMMANDS };
}

const TOLD: { readonly [W in NonNullable<DrainOilData['why']>]: readonly NoticeDraft[] } = {
  drained: [{ code: 'oil-drained' }],
  dry: [{ code: 'separator-dry' }],
  'not-empty': [{ code: 'oil-drained' }, { code: 'oil-left-in-separator' }],
  'no-pressure': [{ code: 'oil-not-drained' }],
  'passed-on': NO_NOTICES,
};

/** What the tank gave to raise the separator is booked. */
function weigh(data: DrainOilData, input: StageInput, weighed: Weighing): Step {
  const wanted = SAFE_COMMANDS;
  const { accounts, nowMs } = input;
  const why = data.why ?? 'no-pressure';
  const entry = book('tank-to-separator', accounts.weighed ?? weighed, weighed, input);
  const shut = why === 'no-pressure' || why === 'passed-on';
  const opened = shut ? {} : { oil: { ...accounts.oil, drainedAtMs: nowMs } };
  return {
    data: { ...at(data, 'return', nowMs), givenKg: entry.massKg, fanStopped: wantsFanStopped(input) },
    wanted,
    ledger: [entry],
    accounts: { ...accounts, weighed, ...opened },
    notices: TOLD[why],
  };
}

/**
 * The compressor takes it back, and with it what the trickle at the end of the recovery left as liquid in a condenser
 * colder than the tank: thicker gas pushes it out.
 */
function takeBack(data: DrainOilData, input: StageInput): Step {
  const { plan, nowMs, seen, permitted } = input;
  const running = permitted.compressor.on;
  const waitedMs = nowMs - data.stepSinceMs;
  // What went on into the vehicle comes out of its whole volume.
  const emptyPa = data.why === 'passed-on' ? plan.recover.floorPa : plan.hoses.emptyPa;
  const low = seen.manifoldPa !== undefined && seen.manifoldPa <= emptyPa;
  const refused = data.fired && !running;
  if (refused || (running && low) || waitedMs > plan.drainOil.returnMs) {
    return { data: at(data, 'weigh-return', nowMs), wanted: SAFE_COMMANDS };
  }
  if (!running && !input.compressorRested) return { data, wanted: SAFE_COMMANDS };
  // The first wish is judged after this scan.
  const fired = data.fired || running;
  return {
    data: { ...data, fired },
    wanted: data.fanStopped ? EASE_STILL : EASE,
  };
}

function weighReturn(data: DrainOilData, input: StageInput, weighed: Weighing): Step {
  const wanted = SAFE_COMMANDS;
  const { accounts } = input;
  const entry = book('vehicle-to-tank', accounts.weighed ?? weighed, weighed, input);
  const kept = keptOf(accounts.kept, data.givenKg, entry.massKg, entry.sdKg, input.equipment);
  const caughtKg = data.why === 'drained' ? CAUGHT_KG : 0;
  const moreKg = entry.massKg - data.givenKg + kept.kg - accounts.kept.kg + caughtKg;
  const why = data.why ?? 'no-pressure';
  const stuck = stuckOpen(data);
  const drained = why === 'no-pressure' ? 'oil-not-drained' : 'oil-drained';
  return {
    data,
    wanted,
    event: stuck === undefined ? drained : 'valve-does-not-shut',
    result: stuck?.code ?? why,
    ledger: [entry],
    accounts: recovered({ ...accounts, kept }, moreKg, weighed, input),
    notices: stuck === undefined ? NO_NOTICES : [stuck],
  };
}

/** A valve that was seen to let a pulse through. */
function stuckOpen({ passed, seenOpen, seenShut }: DrainOilData): NoticeDraft | undefined {
  const side = openSeat(passed);
  if (side !== undefined) return { code: 'hose-valve-open', with: { side } };
  return seenOpen > 0 && seenShut === 0 ? { code: 'recovery-valve-open' } : undefined;
}
