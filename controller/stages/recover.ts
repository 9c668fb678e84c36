// Recover: draw the vehicle down into the tank until nothing more comes, then weigh what came.

import { mostInCondenserKg, startCount } from '../estimates/condenser.ts';
import type { Kept } from '../estimates/kept.ts';
import type { Weighing } from '../estimates/masses.ts';
import { type SuctionFall, startFall, watchFall } from '../estimates/suction-fall.ts';
import { NO_NOTICES, type NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { RecoverData, RunEnd } from './data-recovery.ts';
import {
  coilKg,
  counting,
  drawnKgPerS,
  drawWith,
  joinedSuction,
  keptAfter,
  shownKg,
  wantsFanStopped,
} from './draw.ts';
import { recovered } from './recovered.ts';
import { airDrawnInPa, knownAirDrawnInPa, liquidTrapped } from './rest.ts';
import { at, book, forPorts, kilopascals, type StageInput, type StageStep } from './stage.ts';
import { whenWeighed } from './weighing.ts';

const OPEN = forPorts('recoveryValve');

export const enterRecover = (nowMs: number): RecoverData => ({
  stage: 'recover',
  step: 'draw',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  openSinceMs: undefined,
  compressorSinceMs: undefined,
  lowSinceMs: undefined,
  dryLowSinceMs: undefined,
  stagnantSinceMs: undefined,
  unrested: false,
  fanStopped: false,
  fall: startFall(nowMs),
  count: startCount(nowMs),
  why: undefined,
  weighing: undefined,
});

type Step = StageStep<RecoverData>;

export function stepRecover(data: RecoverData, input: StageInput): Step {
  return data.step === 'draw' ? draw(data, input) : whenWeighed(data, input, weigh);
}

function draw(before: RecoverData, input: StageInput): Step {
  const { plan, nowMs, accounts } = input;
  const data = counted(before, input);
  const { ports } = plan.ticket;
  const started =
    accounts.recoveryStartedAtMs === undefined
      ? { accounts: { ...accounts, recoveryStartedAtMs: nowMs } }
      : undefined;
  const running = input.permitted.compressor.on;
  if (!running && data.compressorSinceMs === undefined) {
    if (nowMs - data.sinceMs > plan.recover.runMs) return toWeighing(data, input, 'run-time');
    // Nothing is opened for minutes in which nothing draws; but the suction is joined when the compressor may start.
    if (input.compressorRestLeftMs > plan.recover.compressorDelayMs)
      return { data, wanted: SAFE_COMMANDS, ...started };
    const openSinceMs = data.openSinceMs ?? nowMs;
    const waiting = { data: { ...data, openSinceMs }, wanted: OPEN[ports], ...started };
    if (nowMs - openSinceMs < plan.recover.compressorDelayMs || !input.compressorRested) return waiting;
    const fanStopped = wantsFanStopped(input);
    return { data: { ...data, fanStopped }, wanted: drawWith(fanStopped)[ports], ...started };
  }
  const watched = watch(data, input);
  const why = endOfRun(watched, input);
  if (why !== undefined) return toWeighing(watched, input, why);
  return {
    data: watched,
    wanted: drawWith(watched.fanStopped)[ports],
    notices: toldOf(before, watched, input),
  };
}

function toldOf(before: RecoverData, now: RecoverData, { plan, seen }: StageInput): readonly NoticeDraft[] {
  const trapped = now.unrested && !before.unrested;
  const slackened = now.fall.slackened && !before.fall.slackened;
  if (!trapped && !slackened) return NO_NOTICES;
  const pressure = kilopascals(seen.manifoldPa ?? 0);
  return [
    ...(trapped ? [liquidTrapped(plan)] : []),
    ...(slackened ? [{ code: 'suction-slackened', with: { pressure } } as const] : []),
  ];
}

/** What the run has drawn by now; with valves that may have given way, in doubt by what they let through. */
function counted(before: RecoverData, input: StageInput): RecoverData {
  const fall = fallOf(before, input);
  const suction = joinedSuction(input, fall.slackened ? input.plan.recover.slackShare : 0);
  return { ...before, fall, count: counting(before.count, before.fanStopped, input, suction) };
}

/** Only the first run begins on a vehicle that boils from the start; later ones draw the vapour of a rest, and then the pool. */
const fallOf = ({ fall }: RecoverData, { accounts, seen, permitted, nowMs }: StageInput): SuctionFall =>
  accounts.cycles.length > 0 ? fall : watchFall(fall, seen.manifoldPa, permitted.compressor.on, nowMs);

/** Moves the clocks of the run. */
function watch(data: RecoverData, input: StageInput): RecoverData {
  const { plan, nowMs, estimates } = input;
  const { recover } = plan;
  const low = estimates.manifold !== undefined && estimates.manifold.value <= recover.stopPa;
  const compressorSinceMs = data.compressorSinceMs ?? nowMs;
  const filled = nowMs - compressorSinceMs >= recover.fillingMs;
  const dry =
    filled && !fillsCoil(data, input) && Math.abs(estimates.scale.slowFlowKgPerS) < recover.noFlowKgPerS;
  const flat = estimates.circuit !== undefined && Math.abs(estimates.circuit.perS) < recover.stagnantPaPerS;
  const since = (is: boolean, sinceMs: number | undefined): number | undefined =>
    is ? (sinceMs ?? nowMs) : undefined;
  const lowSinceMs = since(low, data.lowSinceMs);
  const dryLowSinceMs = since(low && dry, data.dryLowSinceMs);
  const fanStopped = data.fanStopped || wantsFanStopped(input);
  const stagnantSinceMs = since(flat && dry && !low, data.stagnantSinceMs);
  const unrested = data.unrested || goesOnUnrested(data, lowSinceMs, input);
  return { ...data, compressorSinceMs, lowSinceMs, dryLowSinceMs, stagnantSinceMs, unrested, fanStopped };
}

function endOfRun(data: RecoverData, input: StageInput): RunEnd | undefined {
  const { plan, nowMs, seen, accounts, permitted } = input;
  const { recover } = plan;
  const lasted = (sinceMs: number | undefined, ms: number): boolean =>
    sinceMs !== undefined && nowMs - sinceMs >= ms;
  if (seen.manifoldPa !== undefined && seen.manifoldPa <= recover.floorPa) return 'drawn-down';
  if (lasted(data.dryLowSinceMs, recover.stopHoldMs)) return 'drawn-down';
  if (lasted(data.lowSinceMs, trickleMs(data, input))) return 'trickle';
  if (data.unrested && knownAirDrawnInPa(input) === undefined) return 'trickle';
  if (data.lowSinceMs !== undefined && airDrawnInPa(input) > plan.rest.tankAirPa) return 'trickle';
  if (lasted(data.stagnantSinceMs, recover.stagnantMs)) return 'stagnant';
  const startedMs = accounts.recoveryStartedAtMs ?? data.sinceMs;
  const runMs = data.unrested ? recover.unrestedMs : recover.runMs;
  if (lasted(data.compressorSinceMs, runMs) || nowMs - startedMs > recover.totalMs) return 'run-time';
  const refused = !permitted.compressor.on && lasted(data.compressorSinceMs, recover.compressorDelayMs);
  return refused ? 'held-back' : undefined;
}

/** After a rest has told of liquid another look tells little new, and nothing while the label says that much is left. */
function trickleMs({ unrested }: RecoverData, { plan, accounts }: StageInput): number {
  const { recover, ticket } = plan;
  const { cycles, recoveredKg = 0 } = accounts;
  if (unrested) return recover.unrestedMs;
  if (cycles.length === 0) return recover.trickleMs;
  const much = ticket.nominalChargeKg - recoveredKg > recover.muchKg;
  return much ? recover.muchTrickleMs : recover.againTrickleMs;
}

/** Still in the vehicle, by the label and by all that has come, what lies in the coil included. */
function leftKg({ count }: RecoverData, input: StageInput): number {
  const { nominalChargeKg } = input.plan.ticket;
  const { recoveredKg = 0, kept } = input.accounts;
  return nominalChargeKg - recoveredKg - shownKg(input) - (coilKg(count, input) - kept.kg);
}

/**
 * A coil colder than the tank takes up a trickle for minutes of which the scale shows nothing; a warm one passes it on. At
 * this suction more than next to nothing is drawn, and it must be somewhere.
 */
const fillsCoil = (data: RecoverData, input: StageInput): boolean =>
  data.count.drawnKg > 0 &&
  coilKg(data.count, input) < mostInCondenserKg(input.equipment) &&
  (drawnKgPerS(input) ?? 0) > input.plan.recover.drawsKgPerS &&
  leftKg(data, input) > input.plan.recover.fewKg;

/**
 * So much has come at so low a pressure that neither vapour nor oil can have held it, nor is it air, and by the label there
 * is much to come: it is liquid, and a rest would only let it warm.
 */
function goesOnUnrested(data: RecoverData, lowSinceMs: number | undefined, input: StageInput): boolean {
  const { plan, nowMs, accounts, estimates } = input;
  const { recover, rest } = plan;
  if (accounts.cycles.length > 0 || lowSinceMs === undefined) return false;
  if (nowMs - lowSinceMs < recover.trickleMs || estimates.scale.trust !== 'trusted') return false;
  const airPa = knownAirDrawnInPa(input);
  if (airPa === undefined || airPa > rest.tankAirPa) return false;
  return leftKg(data, input) > recover.unrestedKg || takesTooLong(data, input);
}

/** At the rate at which it comes, what is left takes longer than a recovery may. */
function takesTooLong(data: RecoverData, input: StageInput): boolean {
  const { plan, nowMs, accounts } = input;
  const { unrestedMs, shortMs } = plan.recover;
  const kgPerS = drawnKgPerS(input);
  const spentMs = nowMs - (accounts.recoveryStartedAtMs ?? data.sinceMs);
  return kgPerS !== undefined && spentMs + (1000 * leftKg(data, input)) / kgPerS > unrestedMs + shortMs;
}

function toWeighing(data: RecoverData, input: StageInput, why: RunEnd): Step {
  const notices: NoticeDraft[] =
    why === 'stagnant'
      ? [{ code: 'recovery-stagnant', with: { pressure: kilopascals(input.estimates.circuit?.value ?? 0) } }]
      : [];
  return {
    data: { ...at(data, 'weigh', input.nowMs), why },
    wanted: SAFE_COMMANDS,
    notices,
  };
}

/** Told once, when the scale has shown it. */
const wornNotices = (before: Kept, { share }: Kept): readonly NoticeDraft[] =>
  before.share === 1 && share < 1
    ? [{ code: 'compressor-worn', with: { share: (100 * share).toFixed(0) } }]
    : [];

function weigh(data: RecoverData, input: StageInput, weighed: Weighing): Step {
  const wanted = SAFE_COMMANDS;
  const { accounts } = input;
  const entry = book('vehicle-to-tank', accounts.weighed ?? weighed, weighed, input);
  const kept = keptAfter(data.count, entry.massKg, input);
  const recoveredKg = entry.massKg + kept.kg - accounts.kept.kg;
  return {
    data,
    wanted,
    event: 'run-ended',
    result: data.why ?? 'run-ended',
    ledger: [entry],
    notices: wornNotices(accounts.kept, kept),
    accounts: {
      ...recovered({ ...accounts, kept }, recoveredKg, weighed, input),
      cycles: [...accounts.cycles, { recoveredKg, ...(data.unrested && { unrested: true }) }],
    },
  };
}
