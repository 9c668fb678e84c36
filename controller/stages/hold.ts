// Hold: isolate the vacuum and read from the way the pressure rises whether the vehicle is dry and tight.

import { hosePa } from '../estimates/pressures.ts';
import type { Seen } from '../estimates/seen.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import { expectedRisePa, lookApart, machineLeaks, startApart } from './apart.ts';
import type { HoldData } from './data-vacuum.ts';
import { BACK_PA, conclude, judge } from './hold-conclusion.ts';
import { at, forPorts, isOpened, type StageInput, type StageStep } from './stage.ts';

/** Ten readings make a sample: what a coarse converter flickers by averages out. */
const SAMPLE_MS = 1_000;
const LOST_MS = 10_000;
const PUMPING = forPorts('vacuumPump');
const JOINED = forPorts();

const NOTHING_YET = {
  thermalPa: 0,
  thermalReadings: 0,
  manifoldPa: 0,
  manifoldReadings: 0,
  scans: 0,
} as const;

export const enterHold = (nowMs: number): HoldData => ({
  stage: 'hold',
  step: 'isolate',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  thermalPa: undefined,
  manifoldPa: [],
  sums: NOTHING_YET,
  sampledAtMs: nowMs,
  lastSeenMs: nowMs,
  extended: false,
  apart: undefined,
});

type Step = StageStep<HoldData>;

export function stepHold(data: HoldData, input: StageInput): Step {
  const { plan, nowMs, seen } = input;
  const { ports } = plan.ticket;
  const waitedMs = nowMs - data.stepSinceMs;
  switch (data.step) {
    case 'isolate':
      if (waitedMs < plan.hold.pumpOffDelayMs) return { data, wanted: PUMPING[ports] };
      return { data: at(data, 'equalise', nowMs), wanted: JOINED[ports] };
    case 'equalise':
      if (waitedMs < plan.hold.equaliseMs) return { data, wanted: JOINED[ports] };
      return { data: watchFrom(data, seen, nowMs), wanted: JOINED[ports] };
    case 'watch':
      return watch(data, input);
    case 'apart':
      return apart(data, input);
  }
}

const watchFrom = (data: HoldData, { vehicleVacuumPa }: Seen, nowMs: number): HoldData => ({
  ...data,
  step: 'watch',
  stepSinceMs: nowMs,
  thermalPa: vehicleVacuumPa === undefined ? undefined : [],
  manifoldPa: [],
  sums: NOTHING_YET,
  sampledAtMs: nowMs,
  lastSeenMs: nowMs,
});

export const watchMs = ({ plan, accounts }: Pick<StageInput, 'plan' | 'accounts'>): number =>
  isOpened({ plan, accounts }) ? plan.hold.openedMs : plan.hold.unopenedMs;

function watch(data: HoldData, input: StageInput): Step {
  const { plan, nowMs } = input;
  const wanted = JOINED[plan.ticket.ports];
  const next = sampled(data, input);
  if (nowMs - next.lastSeenMs > LOST_MS) return lost(next, input);
  if (next.apart === undefined && (input.seen.manifoldPa ?? 0) > BACK_PA) return goApart(next, nowMs);
  const dueMs = next.extended ? plan.hold.extendedMs : watchMs(input);
  if (nowMs - next.stepSinceMs < dueMs || next.sums.scans > 0) return { data: next, wanted };
  const judged = judge(next, SAMPLE_MS / 1000, input);
  if (judged.verdict === 'inconclusive' && !next.extended)
    return { data: { ...next, extended: true }, wanted };
  const concluded = conclude(next, input, judged);
  const accuses = concluded.event === 'leak-suspected' || concluded.event === 'leak-found';
  return accuses && next.apart === undefined ? goApart(next, nowMs) : concluded;
}

/** The vehicle goes on rising, shut off, while the machine alone is looked at. */
const goApart = (data: HoldData, nowMs: number): Step => ({
  data: { ...data, step: 'apart', apart: startApart(nowMs) },
  wanted: SAFE_COMMANDS,
});

/** Nothing but the machine can let in so much more than the whole vehicle took, which is many times larger (estimate). */
const MACHINE_SHARE = 10;
/** What the shut manifold of a tight machine may seem to rise by, and so many steps of its sensor (estimates). */
const LEAST_RISE_PA = 300;
const RESOLUTIONS = 4;

/** Before the vehicle is accused; after it the hold goes on, or is concluded where its time is over. */
function apart(data: HoldData, input: StageInput): Step {
  const { nowMs, plan, equipment } = input;
  const { look, risePa } = lookApart(data.apart ?? startApart(nowMs), input);
  const looked = { ...data, apart: look };
  if (risePa === undefined) return { data: looked, wanted: SAFE_COMMANDS };
  const [first, last] = [data.manifoldPa[0] ?? 0, data.manifoldPa.at(-1) ?? 0];
  const slopePaPerS = (last - first) / Math.max((data.manifoldPa.length - 1) * (SAMPLE_MS / 1000), 1);
  const leastPa = LEAST_RISE_PA + RESOLUTIONS * equipment.pressure.manifoldResolutionPa;
  if (risePa > Math.max(leastPa, MACHINE_SHARE * expectedRisePa(slopePaPerS))) {
    const notices = [machineLeaks(risePa)];
    return { data: looked, wanted: SAFE_COMMANDS, event: 'leak-found', result: 'machine-leaks', notices };
  }
  const dueMs = data.extended ? plan.hold.extendedMs : watchMs(input);
  if (look.sinceMs - data.stepSinceMs >= dueMs)
    return conclude(looked, input, judge(looked, SAMPLE_MS / 1000, input));
  // So gross a leak is told all the same with the few seconds missing.
  const again = {
    ...looked,
    step: 'watch',
    sampledAtMs: nowMs,
    lastSeenMs: nowMs,
    sums: NOTHING_YET,
  } as const;
  return { data: again, wanted: JOINED[plan.ticket.ports] };
}

/**
 * Readings of one second gathered into a sample of each sensor. A thermal sensor that misses one has left its range and is
 * given up; a manifold sensor may miss a second.
 */
function sampled(data: HoldData, { seen, nowMs }: StageInput): HoldData {
  const { thermalPa, manifoldPa } = data;
  const thermal = thermalPa === undefined ? undefined : seen.vehicleVacuumPa;
  const known = thermal !== undefined || seen.manifoldPa !== undefined;
  const lastSeenMs = known ? nowMs : data.lastSeenMs;
  const before = data.sums;
  const sums = {
    thermalPa: before.thermalPa + (thermal ?? 0),
    thermalReadings: before.thermalReadings + (thermal === undefined ? 0 : 1),
    manifoldPa: before.manifoldPa + (seen.manifoldPa ?? 0),
    manifoldReadings: before.manifoldReadings + (seen.manifoldPa === undefined ? 0 : 1),
    scans: before.scans + 1,
  };
  if (nowMs - data.sampledAtMs < SAMPLE_MS) return { ...data, sums, lastSeenMs };
  return {
    ...data,
    thermalPa:
      thermalPa === undefined || sums.thermalReadings < sums.scans
        ? undefined
        : thermalPa.concat([sums.thermalPa / sums.scans]),
    manifoldPa:
      sums.manifoldReadings === 0 ? manifoldPa : manifoldPa.concat([sums.manifoldPa / sums.manifoldReadings]),
    sums: NOTHING_YET,
    sampledAtMs: data.sampledAtMs + SAMPLE_MS,
    lastSeenMs,
  };
}

/** No sensor says anything any more. */
function lost(data: HoldData, input: StageInput): Step {
  const { seen, plan } = input;
  const hose = hosePa(seen, plan.ticket.ports);
  if (seen.manifoldOverSpan || (hose !== undefined && hose > plan.settle.emptyPa + plan.settle.excessPa)) {
    return {
      data,
      wanted: SAFE_COMMANDS,
      event: 'timed-out',
      result: 'pressure-came-back',
      notices: [{ code: 'pressure-came-back' }],
    };
  }
  return conclude(data, input, {
    verdict: 'inconclusive',
    gas: 'unknown',
    high: false,
    vacuumLost: false,
  });
}
