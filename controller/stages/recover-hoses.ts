// Recover hoses: what is left between the couplers and the tank goes back, is weighed, and decides what was charged.
import { ROOM_K, SURE } from '../constants.ts';
import { startCount } from '../estimates/condenser.ts';
import type { Weighing } from '../estimates/masses.ts';
import { barometerPa, circuitPa } from '../estimates/pressures.ts';
import { liquidDensityKgPerM3 } from '../estimates/saturation.ts';
import { suctionOf } from '../interlocks/air-watch.ts';
import type { NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import { readCatchBottle } from './catch-bottle.ts';
import { closeCouplers, standStill, stopEngine } from './close-couplers.ts';
import type { RecoverHosesData } from './data-hoses.ts';
import { counting, drawWith, keptAfter, wantsFanStopped } from './draw.ts';
import { missing } from './due.ts';
import { handOver, hosesShowPressure } from './hand-over.ts';
import { settleAccounts, shortOf } from './net-charge.ts';
import { book, deliveredKg, forPorts, kilopascals, type StageInput, type StageStep } from './stage.ts';
import { whenWeighed } from './weighing.ts';

const VALVES = forPorts();
/** Surely no air (estimate). */
const ABOVE_BAROMETER_PA = 10_000;

/**
 * Whose hoses are recovered. With one port the low-side hose stays on the machine, but a valve that seats badly may have
 * filled it: one that holds pressure is closed, and is recovered with the other.
 */
const hosesOf = (input: StageInput): 1 | 2 => {
  const { plan, equipment, seen } = input;
  if (plan.ticket.ports === 2) return 2;
  const filled =
    (seen.lowSidePa ?? 0) > barometerPa(seen) + ABOVE_BAROMETER_PA + SURE * equipment.pressure.lowSideSdPa;
  return filled && equipment.fitted.includes('lowSideValve') ? 2 : 1;
};

const JOINED_MS = 2_000;
/** The drawn manifold alone: a charge valve that leaks shows itself to the interlocks before the hoses can hide it (estimate). */
const APART_MS = 10_000;
/** Low for so long, a manifold is known to hold no liquid, and what it rises by has come through a valve (estimate). */
const DRAINED_MS = 8_000;
/** Twice what it takes to tell air that stands from liquid that boils and passes (estimate). */
const AIR_SHOWS_MS = 180_000;
/** More than the hoses can hold has come, and the pressure stands: a coupler is open (estimate). */
const COUPLER_KG = 0.12;

export const enterRecoverHoses = (nowMs: number): RecoverHosesData => ({
  stage: 'recover-hoses',
  step: 'close',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  weighing: undefined,
  apartPa: 0,
  stopDoubted: false,
  draws: 0,
  fanStopped: false,
  count: startCount(nowMs),
  startPa: undefined,
  startKg: undefined,
  compressorSinceMs: undefined,
  lowSinceMs: undefined,
  restFromPa: undefined,
  restToPa: undefined,
});

type Step = StageStep<RecoverHosesData>;

const at = (data: RecoverHosesData, step: RecoverHosesData['step'], nowMs: number): RecoverHosesData => ({
  ...data,
  step,
  stepSinceMs: nowMs,
  weighing: undefined,
  compressorSinceMs: undefined,
  lowSinceMs: undefined,
});

export function stepRecoverHoses(data: RecoverHosesData, input: StageInput): Step {
  switch (data.step) {
    case 'close':
      return closeCouplers(data, input);
    case 'stop-engine':
      return stopEngine(data, input);
    case 'standstill':
      return standStill(data, input);
    case 'look':
      return look(data, input);
    case 'draw':
      return draw(data, input);
    case 'apart':
      return input.nowMs - data.stepSinceMs < APART_MS
        ? { data, wanted: SAFE_COMMANDS }
        : { data: at(data, 'rest', input.nowMs), wanted: VALVES[hosesOf(input)] };
    case 'rest':
      return rest(data, input);
    case 'weigh':
      return whenWeighed(data, input, weigh);
    case 'read-oil':
      return readOil(data, input);
    case 'hand-over':
      return end(data, input);
  }
}

/** The catch bottle, unless it has been read: nothing but the end of the job waits for it here. */
function readOil(data: RecoverHosesData, input: StageInput): Step {
  const wanted = SAFE_COMMANDS;
  const bottle = readCatchBottle(input);
  if (bottle.is === 'foaming') return { data, wanted };
  if (bottle.is === 'asked') return { data, wanted, prompt: 'read-catch-bottle', notices: bottle.notices };
  const next = { data: at(data, 'hand-over', input.nowMs), wanted };
  if (bottle.is === 'known') return next;
  const { accounts, notices } = bottle;
  return { ...next, accounts, notices: [...notices, ...missing('oil', { accounts, plan: input.plan })] };
}

/** Pressure that came back while the bottle was waited for is drawn once more. */
function end(data: RecoverHosesData, input: StageInput): Step {
  const wanted = SAFE_COMMANDS;
  return hosesShowPressure(input)
    ? { data: at(data, 'look', input.nowMs), wanted }
    : { data, wanted, event: 'hoses-recovered', ...handOver(input) };
}

/** Joined to the absolute sensor, the hoses show whether there is anything to draw. */
function look(data: RecoverHosesData, input: StageInput): Step {
  const { plan, nowMs, seen } = input;
  const wanted = VALVES[hosesOf(input)];
  if (nowMs - data.stepSinceMs < JOINED_MS) return { data, wanted };
  const empty = seen.manifoldPa !== undefined && seen.manifoldPa <= plan.hoses.drawnPa;
  if (empty) return { data: at(data, 'rest', nowMs), wanted };
  return { data: toDraw(data, circuitPa(seen, plan.ticket.ports), input), wanted };
}

const toDraw = (
  data: RecoverHosesData,
  startPa: number | undefined,
  { nowMs, estimates: { scale } }: StageInput,
): RecoverHosesData => ({
  ...at(data, 'draw', nowMs),
  startPa,
  startKg: scale.trust === 'trusted' ? scale.massKg : undefined,
});

function draw(before: RecoverHosesData, input: StageInput): Step {
  const { plan, nowMs, seen, permitted } = input;
  const data = { ...before, count: counting(before.count, before.fanStopped, input) };
  const ports = hosesOf(input);
  const { hoses } = plan;
  if (data.compressorSinceMs === undefined && !permitted.compressor.on) {
    if (nowMs - data.stepSinceMs > hoses.drawTimeoutMs) return toRest(data, input);
    if (!input.compressorRested) return { data, wanted: VALVES[ports] };
    const fanStopped = wantsFanStopped(input);
    return { data: { ...data, fanStopped }, wanted: drawWith(fanStopped)[ports] };
  }
  const low = seen.manifoldPa !== undefined && seen.manifoldPa <= hoses.drawnPa;
  const compressorSinceMs = data.compressorSinceMs ?? nowMs;
  const lowSinceMs = low ? (data.lowSinceMs ?? nowMs) : undefined;
  const next = { ...data, compressorSinceMs, lowSinceMs };
  const empty = seen.manifoldPa !== undefined && seen.manifoldPa <= hoses.emptyPa;
  const held = lowSinceMs !== undefined && nowMs - lowSinceMs >= hoses.drawnHoldMs;
  const ranMs = nowMs - compressorSinceMs;
  const stopped = !permitted.compressor.on && ranMs > JOINED_MS;
  if (couplerOpen(next, ranMs, input) || moreThanHoses(next, input)) {
    return {
      data: at(next, 'close', nowMs),
      wanted: SAFE_COMMANDS,
      notices: [{ code: 'couplers-open' }],
    };
  }
  const drained = empty && lowSinceMs !== undefined && nowMs - lowSinceMs >= DRAINED_MS;
  if (drained || held || stopped || ranMs > hoses.drawTimeoutMs) return toRest(next, input);
  return { data: next, wanted: drawWith(data.fanStopped)[ports] };
}

/** The hoses alone would have fallen by now; what keeps coming comes from the vehicle. */
function couplerOpen({ startPa }: RecoverHosesData, ranMs: number, input: StageInput): boolean {
  const pressurePa = circuitPa(input.seen, input.plan.ticket.ports);
  const { weighed } = input.accounts;
  if (startPa === undefined || pressurePa === undefined || weighed === undefined) return false;
  const standing = ranMs >= input.plan.hoses.couplerMs && pressurePa > startPa / 2;
  return standing && -deliveredKg(weighed, input) > COUPLER_KG;
}

/** A coil gives up more at once than it is known to hold (estimate). */
const BURST_KG = 0.02;

/** More has come than hoses and manifold can hold, full of liquid, and the coil had. */
function moreThanHoses({ startKg }: RecoverHosesData, input: StageInput): boolean {
  const { equipment, estimates, accounts, plan, seen } = input;
  if (startKg === undefined || estimates.scale.trust !== 'trusted') return false;
  const { highVolumeM3, lowVolumeM3, manifoldVolumeM3, volumeRelativeSd } = equipment.hoses;
  const volumeM3 = (1 + SURE * volumeRelativeSd) * (highVolumeM3 + lowVolumeM3 + manifoldVolumeM3);
  const heldKg = volumeM3 * liquidDensityKgPerM3(plan.curve, seen.ambientK ?? ROOM_K);
  const coilKg = accounts.kept.kg + SURE * accounts.kept.sdKg + BURST_KG;
  return estimates.scale.massKg - startKg > heldKg + coilKg;
}

const toRest = (data: RecoverHosesData, input: StageInput): Step => ({
  data: { ...at(data, 'apart', input.nowMs), draws: data.draws + 1, restFromPa: undefined },
  wanted: SAFE_COMMANDS,
});

function rest(data: RecoverHosesData, input: StageInput): Step {
  const { plan, nowMs, seen } = input;
  const wanted = VALVES[hosesOf(input)];
  const waitedMs = nowMs - data.stepSinceMs;
  if (waitedMs < JOINED_MS) return { data, wanted };
  const pressurePa = circuitPa(seen, plan.ticket.ports);
  const next = data.restFromPa === undefined ? { ...data, restFromPa: pressurePa } : data;
  if (waitedMs < plan.hoses.restMs) return { data: next, wanted };
  const risePa = (pressurePa ?? 0) - (next.restFromPa ?? 0);
  const calm = pressurePa !== undefined && risePa < plan.hoses.risePa && disconnectable(pressurePa, input);
  if (calm) return { data: { ...at(next, 'weigh', nowMs), restToPa: pressurePa }, wanted: SAFE_COMMANDS };
  const suction = suctionOf(input.airWatch, nowMs);
  if (suction === 'steady-at-barometer') return leaveAir(next, input);
  if (input.airWatch.sinceMs !== undefined && waitedMs < AIR_SHOWS_MS) return { data: next, wanted };
  if (next.draws < plan.hoses.draws) return { data: toDraw(next, pressurePa, input), wanted };
  return {
    data: next,
    wanted: SAFE_COMMANDS,
    event: 'hoses-not-recovered',
    notices: [notRecovered(next, pressurePa)],
  };
}

/** What has come to the pressure of the room and stands there is air: in the tank it would do harm, in the hoses it does none. */
const leaveAir = (data: RecoverHosesData, { nowMs }: StageInput): Step => ({
  data: { ...at(data, 'weigh', nowMs), restToPa: data.restFromPa },
  wanted: SAFE_COMMANDS,
  notices: [{ code: 'hoses-took-air' }],
});

const notRecovered = (data: RecoverHosesData, pressurePa: number | undefined): NoticeDraft => ({
  code: 'hoses-not-recovered',
  with: {
    pressure: pressurePa === undefined ? 'an unknown number of' : kilopascals(pressurePa),
    draws: String(data.draws),
  },
});

const disconnectable = (pressurePa: number, input: StageInput): boolean =>
  pressurePa < barometerPa(input.seen) + input.plan.hoses.disconnectGaugePa && !hosesShowPressure(input);

function weigh(data: RecoverHosesData, input: StageInput, weighed: Weighing): Step {
  const { accounts, nowMs } = input;
  const wanted = SAFE_COMMANDS;
  const entry = book('hoses-to-tank', accounts.weighed ?? weighed, weighed, input);
  const counts = data.draws > 0 && input.plan.service !== 'fill-tank';
  const kept = counts ? keptAfter(data.count, entry.massKg, input) : accounts.kept;
  const keptMoreKg = kept.kg - accounts.kept.kg;
  const booked = {
    ...accounts,
    weighed,
    kept,
    hoseRecoveredKg: (accounts.hoseRecoveredKg ?? 0) + entry.massKg + keptMoreKg,
  };
  const settled = settleAccounts(booked, weighed, data.restToPa ?? 0, input);
  return {
    data: at(data, 'read-oil', nowMs),
    wanted,
    ledger: [entry],
    accounts: settled,
    notices: shortOf(settled, input),
  };
}
