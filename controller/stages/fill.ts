// Fill: liquid from a supply cylinder into the tank, by way of the compressor, which must never see any of it.

import { MINUTE_MS } from '../constants.ts';
import { isDry } from '../estimates/boiling.ts';
import { hoseForceFrom, surerForce, type Weighing } from '../estimates/masses.ts';
import { liquidDensityKgPerM3 } from '../estimates/saturation.ts';
import { netMassKg } from '../estimates/scale.ts';
import { tankExcessPa } from '../estimates/tank-air.ts';
import type { NoticeDraft } from '../notices.ts';
import { type Commands, SAFE_COMMANDS } from '../signals.ts';
import type { FillData, FillEnd } from './data-tank.ts';
import { drawAlone, drawOpened, shownKg, wantsFanStopped } from './draw.ts';
import { leastPa, lookAtCylinder } from './fill-look.ts';
import { coilAfterFill, filled } from './filled.ts';
import {
  atAfresh,
  book,
  confirms,
  grams,
  kilograms,
  kilopascals,
  minutes,
  type StageInput,
  type StageStep,
} from './stage.ts';
import { tankUnfit } from './tank-fit.ts';
import { whenWeighed } from './weighing.ts';

export const enterFill = (nowMs: number): FillData => ({
  stage: 'fill',
  step: 'weigh',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  weighing: undefined,
  targetKg: 0,
  compressorSinceMs: undefined,
  fanStopped: false,
  openMs: 0,
  openedAtMs: nowMs,
  openings: 0,
  openedKg: 0,
  drawnSinceMs: nowMs,
  why: undefined,
});

type Step = StageStep<FillData>;

export function stepFill(data: FillData, input: StageInput): Step {
  const wanted = SAFE_COMMANDS;
  switch (data.step) {
    case 'weigh':
      return whenWeighed(data, input, weigh);
    case 'connect':
      return confirms(input.answers, 'connect-hoses')
        ? { data: atAfresh(data, 'look', input.nowMs), wanted }
        : { data, wanted, prompt: 'connect-hoses' };
    case 'look':
      return lookAtCylinder(data, input);
    case 'weigh-connected':
      return whenWeighed(data, input, weighConnected);
    case 'draw':
      return draw(data, input);
    case 'steady':
      return steady(data, input);
    case 'pause':
      return pause(data, input);
    case 'rest':
      return input.nowMs - data.stepSinceMs < input.plan.fill.restMs
        ? { data, wanted }
        : { data: atAfresh(data, 'weigh-after', input.nowMs), wanted };
    case 'weigh-after':
      return whenWeighed(data, input, weighAfter);
  }
}

/** Room in the tank below its limit: nothing above it is ever aimed at. */
const roomKg = ({ plan, equipment }: StageInput, netKg: number): number =>
  equipment.tank.fillLimitKg - plan.fill.marginKg - netKg;

function weigh(data: FillData, input: StageInput, weighed: Weighing): Step {
  const { plan, accounts, seen, nowMs } = input;
  const netKg = netMassKg(weighed.counts, input.equipment) - weighed.offsetKg;
  const unfit = tankUnfit(input, netKg);
  return {
    data: { ...atAfresh(data, 'connect', nowMs), targetKg: plan.ticket.fillKg ?? roomKg(input, netKg) },
    wanted: SAFE_COMMANDS,
    accounts: {
      ...accounts,
      weighed,
      weighedFirst: weighed,
      tankExcessFirstPa: tankExcessPa(seen, plan.curve),
    },
    ...(unfit.length === 0 ? {} : { event: 'tank-unfit' as const, notices: unfit }),
  };
}

/** Nothing moved but the pressure of the hose: what the scale shows more or less is the hose's force. */
function weighConnected(data: FillData, input: StageInput, weighed: Weighing): Step {
  const { accounts, equipment, nowMs } = input;
  const before = accounts.weighed ?? weighed;
  const hoseForce = surerForce(accounts.hoseForce, hoseForceFrom(before, weighed, equipment));
  const wanted = kilograms(data.targetKg);
  const figures = {
    rate: USUAL_KG_PER_H.toFixed(1),
    minutes: minutes(usualFillMs(data.targetKg, input.plan)),
    wanted,
  };
  return {
    data: { ...atAfresh(data, 'draw', nowMs), openMs: input.plan.fill.firstMs, drawnSinceMs: nowMs },
    wanted: SAFE_COMMANDS,
    accounts: { ...accounts, hoseForce },
    notices: [{ code: 'fill-takes-time', with: figures }],
  };
}

/** In a room of 20 °C (estimate, as the simulator has it). */
const USUAL_KG_PER_H = 1.3;

/** With the rests in which the scale is looked at. */
export function usualFillMs(massKg: number, { fill }: StageInput['plan']): number {
  const drawMs = (massKg / USUAL_KG_PER_H) * 60 * MINUTE_MS;
  return drawMs + fill.restMs * (1 + Math.floor(drawMs / fill.lookAfterMs));
}

/**
 * One opening of the high-side valve, then the compressor alone until what came in has boiled away, and so on. Whether to go
 * on is decided while the machine is dry.
 */
function draw(before: FillData, input: StageInput): Step {
  const { plan, nowMs, permitted, seen, equipment } = input;
  const { fill } = plan;
  if (before.compressorSinceMs === undefined && !permitted.compressor.on) {
    if (!input.compressorRested) return { data: before, wanted: SAFE_COMMANDS };
    if (nowMs - before.stepSinceMs > fill.dryMs) return end(before, input, 'held-back');
    const fanStopped = wantsFanStopped(input);
    return { data: { ...before, fanStopped }, wanted: drawAlone(fanStopped) };
  }
  const started = before.compressorSinceMs === undefined;
  const data = started ? { ...before, compressorSinceMs: nowMs, openedAtMs: nowMs } : before;
  if (!permitted.compressor.on && !started) return end(data, input, 'held-back');
  if (runsOn(data, input)) return end(data, input, 'valve-open');
  const wanted = drawAlone(data.fanStopped);
  const sinceMs = nowMs - data.openedAtMs;
  if (sinceMs < data.openMs && data.openings > 0) return { data, wanted: opening(data) };
  if (sinceMs < data.openMs + fill.lookMs) return { data, wanted };
  if (sinceMs > fill.dryMs) return end(data, input, 'stalled');
  const dry = isDry(plan.curve, {
    manifoldPa: seen.manifoldPa,
    tankPa: seen.tankPa,
    ambientK: seen.ambientK,
    sweptM3PerS: equipment.compressor.sweptM3PerS,
    boilingWPerK: fill.boilingWPerK,
  });
  if (!dry) return { data, wanted };
  if (input.estimates.scale.trust !== 'trusted')
    return (seen.manifoldPa ?? 0) > plan.recover.floorPa
      ? { data, wanted }
      : { data: atAfresh(data, 'steady', nowMs), wanted: SAFE_COMMANDS };
  const why = endOfFill(data, input);
  if (why !== undefined) return end(data, input, why);
  if (nowMs - data.drawnSinceMs > fill.lookAfterMs)
    return { data: atAfresh(data, 'pause', nowMs), wanted: SAFE_COMMANDS };
  const openMs = data.openings === 0 ? data.openMs : nextOpenMs(data.openMs, sinceMs, input);
  const next = { ...data, openMs, openedAtMs: nowMs, openings: data.openings + 1, openedKg: shownKg(input) };
  return { data: next, wanted: opening(next) };
}

const runsOn = ({ openedKg }: FillData, input: StageInput): boolean =>
  input.estimates.scale.trust === 'trusted' && shownKg(input) - openedKg > input.plan.fill.runsOnKg;

const drawAnew = (data: FillData, nowMs: number): FillData => ({
  ...atAfresh(data, 'draw', nowMs),
  compressorSinceMs: undefined,
});

/** Somebody touches the scale, and the machine is as empty as it may be: nothing is let in until the scale can be read. */
function steady(data: FillData, input: StageInput): Step {
  const { nowMs, plan, estimates } = input;
  if (nowMs - data.sinceMs > plan.fill.mostMs) return end(data, input, 'out-of-time');
  const read = estimates.scale.trust === 'trusted';
  return { data: read ? drawAnew(data, nowMs) : data, wanted: SAFE_COMMANDS };
}

/** The scale is looked at while nothing moves. */
function pause(data: FillData, input: StageInput): Step {
  const { nowMs, plan, estimates } = input;
  if (nowMs - data.stepSinceMs < plan.fill.restMs) return { data, wanted: SAFE_COMMANDS };
  if (estimates.drift.kgPerS > 0) return end(data, input, 'scale-drifts');
  return { data: { ...drawAnew(data, nowMs), drawnSinceMs: nowMs }, wanted: SAFE_COMMANDS };
}

const opening = ({ fanStopped, openMs }: FillData): Commands => drawOpened(fanStopped, openMs);

/** Longer while what comes in is soon gone, as vapour is; shorter where it boils for long. */
function nextOpenMs(openMs: number, tookMs: number, { plan: { fill } }: StageInput): number {
  if (tookMs < fill.quickMs) return Math.min(1.25 * openMs, fill.longestMs);
  return tookMs > fill.slowMs ? Math.max(0.8 * openMs, fill.shortestMs) : openMs;
}

function endOfFill(data: FillData, input: StageInput): FillEnd | undefined {
  const { plan, nowMs, seen, equipment, accounts } = input;
  const warmK = seen.ambientK ?? plan.fill.coldestK;
  // The hose is full of liquid, and goes into the tank as well.
  const inHoseKg = equipment.hoses.highVolumeM3 * liquidDensityKgPerM3(plan.curve, warmK);
  if (shownKg(input) + inHoseKg >= data.targetKg) return 'filled';
  if (seen.highSidePa === undefined) return 'held-back';
  if (seen.highSidePa <= leastPa(input)) return 'cylinder-empty';
  const firstPa = accounts.tankExcessFirstPa;
  const excessPa = tankExcessPa(seen, plan.curve);
  if (firstPa !== undefined && excessPa !== undefined && excessPa - firstPa > plan.rest.tankAirPa)
    return 'air';
  return nowMs - data.sinceMs > plan.fill.mostMs ? 'out-of-time' : undefined;
}

function end(data: FillData, input: StageInput, why: FillEnd): Step {
  // Whoever has to close the cylinder is not kept waiting, and what has rested already need not rest again.
  const soon = why === 'valve-open' || why === 'scale-drifts';
  return {
    data: { ...atAfresh(data, soon ? 'weigh-after' : 'rest', input.nowMs), why },
    wanted: SAFE_COMMANDS,
    notices: endNotices(data, input, why),
  };
}

function endNotices(data: FillData, input: StageInput, why: FillEnd): readonly NoticeDraft[] {
  const { seen, plan, nowMs, accounts } = input;
  const amounts = { filled: kilograms(shownKg(input)), wanted: kilograms(data.targetKg) };
  const kPa = (pressurePa: number | undefined): string =>
    pressurePa === undefined ? 'an unknown number of' : kilopascals(pressurePa);
  switch (why) {
    case 'filled':
      return [];
    case 'cylinder-empty':
      return [{ code: 'cylinder-empty', with: { pressure: kPa(seen.highSidePa), ...amounts } }];
    case 'stalled': {
      const waited = minutes(nowMs - data.openedAtMs);
      return [{ code: 'fill-stalled', with: { minutes: waited, pressure: kPa(seen.manifoldPa) } }];
    }
    case 'valve-open':
      return [{ code: 'fill-runs-on', with: { came: grams(shownKg(input) - data.openedKg) } }];
    case 'air': {
      const grownPa = (tankExcessPa(seen, plan.curve) ?? 0) - (accounts.tankExcessFirstPa ?? 0);
      return [{ code: 'air-in-cylinder', with: { excess: kilopascals(grownPa) } }];
    }
    case 'held-back':
      return [{ code: 'fill-held-back', with: amounts }];
    case 'scale-drifts':
      return [{ code: 'fill-scale-drifts', with: amounts }];
    case 'out-of-time':
      return [{ code: 'fill-out-of-time', with: { minutes: minutes(nowMs - data.sinceMs), ...amounts } }];
  }
}

const EVENTS = {
  filled: 'tank-filled',
  'cylinder-empty': 'cylinder-emptied',
  air: 'fill-fell-short',
  stalled: 'fill-fell-short',
  'valve-open': 'fill-fell-short',
  'held-back': 'fill-fell-short',
  'scale-drifts': 'fill-fell-short',
  'out-of-time': 'fill-fell-short',
} as const;

function weighAfter(data: FillData, input: StageInput, weighed: Weighing): Step {
  const why = data.why ?? 'held-back';
  const { accounts } = input;
  const entry = book('cylinder-to-tank', accounts.weighed ?? weighed, weighed, input);
  const lostTrack = accounts.lostTrack || why === 'valve-open' || why === 'stalled';
  const known =
    data.openings === 0 ? accounts : { ...accounts, lostTrack, kept: coilAfterFill(accounts.kept) };
  return {
    data,
    wanted: SAFE_COMMANDS,
    event: EVENTS[why],
    result: why,
    ledger: [entry],
    accounts: filled(known, weighed, input),
  };
}
