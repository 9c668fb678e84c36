// Hold: isolate the vacuum and read from the way the pressure rises whether the vehicle is dry and tight.
import {
  type DecayFit,
  type DecayVerdict,
  detectableSlopePaPerS,
  fitDecay,
  verdictOf,
} from '../estimates/decay.ts';
import { leakKgPerYear } from '../estimates/leak.ts';
import { hosePa } from '../estimates/pressures.ts';
import type { Seen } from '../estimates/seen.ts';
import type { NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { Accounts, HoldAccount } from '../state.ts';
import type { StageEvent } from '../statechart.ts';
import type { HoldData } from './data.ts';
import { forPorts, type StageInput, type StageStep } from './stage.ts';

/** Vehicle volume for the leak figure: single evaporator (estimate, 1.6–3.2 L). */
const VEHICLE_M3 = 2.5e-3;
const SAMPLE_MS = 1_000;
/** A thermal vacuum sensor repeats to about this share of its reading (estimate). */
const THERMAL_RESOLUTION = 0.002;
/**
 * A leak does not tire from hold to hold; oil that holds refrigerant deep down gives off some 8 % less after half an hour
 * more (the simulator's own figure, sump time 5 h). A gross leak, faster than any oil gives off, is called when the second
 * hold agrees; a smaller one takes the third, for by then oil has lost a sixth of its slope.
 */
const GROSS_PA_PER_S = 3;
const AGREES = 0.96;
const AGREES_AT_LAST = 0.93;
/** Three deviations of the difference of two slopes. */
const SURE = 3 * Math.SQRT2;
const LOST_MS = 10_000;
/** A vacuum this good may zero the high-side gauge (estimate: well below its class). */
const ZERO_BELOW_PA = 5_000;
const PUMPING = forPorts('vacuumPump');
const JOINED = forPorts();

export const enterHold = (nowMs: number): HoldData => ({
  stage: 'hold',
  step: 'isolate',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  sensor: 'manifoldPa',
  samplesPa: [],
  sampledAtMs: nowMs,
  lastSeenMs: nowMs,
  extended: false,
});

type Step = StageStep<HoldData>;

export function stepHold(data: HoldData, input: StageInput): Step {
  const { plan, nowMs, seen } = input;
  const { ports } = plan.ticket;
  const waitedMs = nowMs - data.stepSinceMs;
  switch (data.step) {
    case 'isolate':
      if (waitedMs < plan.hold.pumpOffDelayMs) return { data, wanted: PUMPING[ports] };
      return { data: { ...data, step: 'equalise', stepSinceMs: nowMs }, wanted: JOINED[ports] };
    case 'equalise': {
      if (waitedMs < plan.hold.equaliseMs) return { data, wanted: JOINED[ports] };
      const sensor = seen.vehicleVacuumPa === undefined ? 'manifoldPa' : 'vehicleVacuumPa';
      return { data: watchFrom(data, sensor, nowMs), wanted: JOINED[ports] };
    }
    case 'watch':
      return watch(data, input);
  }
}

const watchFrom = (data: HoldData, sensor: HoldData['sensor'], nowMs: number): HoldData => ({
  ...data,
  step: 'watch',
  stepSinceMs: nowMs,
  sensor,
  samplesPa: [],
  sampledAtMs: nowMs,
  lastSeenMs: nowMs,
});

export const watchMs = ({ plan }: Pick<StageInput, 'plan'>): number =>
  plan.ticket.opened ? plan.hold.openedMs : plan.hold.unopenedMs;

function watch(data: HoldData, input: StageInput): Step {
  const { plan, nowMs, seen } = input;
  const wanted = JOINED[plan.ticket.ports];
  const pressurePa = seen[data.sensor];
  if (pressurePa === undefined && nowMs - data.lastSeenMs > LOST_MS) return lost(data, input);
  if (nowMs - data.sampledAtMs < SAMPLE_MS) return { data, wanted };
  if (pressurePa === undefined) return { data, wanted };
  const next = {
    ...data,
    samplesPa: [...data.samplesPa, pressurePa],
    sampledAtMs: data.sampledAtMs + SAMPLE_MS,
    lastSeenMs: nowMs,
  };
  const dueMs = data.extended ? plan.hold.extendedMs : watchMs(input);
  if (nowMs - data.stepSinceMs < dueMs) return { data: next, wanted };
  const judged = judge(next, input);
  return judged.verdict === 'inconclusive' && !data.extended
    ? { data: { ...next, extended: true }, wanted }
    : conclude(next, input, judged);
}

/** The sensor in use went out of its span or failed: start over with the other, or admit that there is none. */
function lost(data: HoldData, input: StageInput): Step {
  const { nowMs, seen, plan } = input;
  if (data.sensor === 'vehicleVacuumPa' && seen.manifoldPa !== undefined) {
    return { data: watchFrom(data, 'manifoldPa', nowMs), wanted: JOINED[plan.ticket.ports] };
  }
  const hose = hosePa(seen);
  if (seen.manifoldOverSpan || (hose !== undefined && hose > plan.settle.emptyPa + plan.settle.excessPa)) {
    return {
      data,
      wanted: SAFE_COMMANDS,
      event: 'timed-out',
      result: 'pressure-came-back',
      notices: [{ code: 'pressure-came-back' }],
    };
  }
  return conclude(data, input, { fit: undefined, verdict: 'inconclusive' });
}

type Judged = { readonly fit: DecayFit | undefined; readonly verdict: DecayVerdict };

function judge(data: HoldData, { plan, equipment }: StageInput): Judged {
  const meanPa = data.samplesPa.reduce((sum, p) => sum + p, 0) / Math.max(data.samplesPa.length, 1);
  const resolutionPa =
    data.sensor === 'manifoldPa' ? equipment.pressure.manifoldResolutionPa : THERMAL_RESOLUTION * meanPa;
  const fit = fitDecay({ samplesPa: data.samplesPa, intervalS: SAMPLE_MS / 1000, resolutionPa });
  const offsetPa = data.sensor === 'manifoldPa' ? 3 * equipment.pressure.manifoldSdPa : 0;
  const verdict = verdictOf(fit, {
    limitPa: plan.hold.limitPa + offsetPa,
    slopeFloorPaPerS: plan.hold.slopeFloorPaPerS,
    worstSlopePaPerS: plan.hold.worstSlopePaPerS,
  });
  return { fit, verdict };
}

function conclude(data: HoldData, input: StageInput, { fit, verdict }: Judged): Step {
  const { plan, equipment, accounts, seen } = input;
  const { highVolumeM3, lowVolumeM3, manifoldVolumeM3 } = equipment.hoses;
  const volumeM3 = VEHICLE_M3 + highVolumeM3 + lowVolumeM3 + manifoldVolumeM3;
  const perYear = (slopePaPerS: number): number => leakKgPerYear(slopePaPerS, volumeM3, plan.curve);
  const floor = plan.hold.slopeFloorPaPerS;
  const hold: HoldAccount | undefined =
    fit === undefined
      ? undefined
      : {
          verdict,
          slopePaPerS: fit.slopePaPerS,
          plateauPa:
            data.sensor === 'manifoldPa'
              ? Math.max(fit.plateauPa, equipment.pressure.manifoldSdPa)
              : fit.plateauPa,
          detectionLimitKgPerYear: perYear(detectableSlopePaPerS(fit, floor)),
        };
  const { event, notices, hiddenKgPerYear = 0 } = decide({ fit, verdict }, hold, accounts, input, perYear);
  // A straight rise that tires from hold to hold is what deep oil does.
  const told = verdict === 'leak' && event === 'hold-inconclusive' ? 'outgassing' : verdict;
  const first =
    accounts.suspected ?? (fit && { meanPaPerS: fit.meanSlopePaPerS, steadyPaPerS: fit.slopePaPerS });
  const suspected = event === 'leak-suspected' ? first : undefined;
  return {
    data,
    wanted: SAFE_COMMANDS,
    event,
    result: told,
    notices,
    accounts: {
      ...accounts,
      hold:
        hold === undefined
          ? accounts.hold
          : {
              ...hold,
              verdict: told,
              detectionLimitKgPerYear: Math.max(hold.detectionLimitKgPerYear, hiddenKgPerYear),
            },
      suspected,
      highSideZeroPa: zeroPa(seen) ?? accounts.highSideZeroPa,
    },
  };
}

/** What the high-side gauge reads in a vacuum that the absolute sensor confirms. */
function zeroPa({ highSidePa, manifoldPa }: Seen): number | undefined {
  const known = highSidePa !== undefined && manifoldPa !== undefined && manifoldPa < ZERO_BELOW_PA;
  return known ? highSidePa - manifoldPa : undefined;
}

type Decision = {
  readonly event: StageEvent;
  readonly notices: readonly NoticeDraft[];
  /** A leak of this size may hide in what the oil gives off. */
  readonly hiddenKgPerYear?: number;
};

function decide(
  { fit, verdict }: Judged,
  hold: HoldAccount | undefined,
  accounts: Accounts,
  { plan }: StageInput,
  perYear: (slopePaPerS: number) => number,
): Decision {
  const slope = (hold?.slopePaPerS ?? 0).toFixed(3);
  const limit = (hold?.detectionLimitKgPerYear ?? perYear(plan.hold.slopeFloorPaPerS)).toFixed(1);
  if (verdict === 'tight') return { event: 'held-tight', notices: [] };
  if (verdict === 'inconclusive' || fit === undefined || hold === undefined) {
    const reason = hold === undefined ? 'no vacuum sensor gave a reading' : 'the pressure was too unsteady';
    return { event: 'hold-inconclusive', notices: [{ code: 'hold-inconclusive', with: { reason, limit } }] };
  }
  const exhausted = accounts.evacuations >= plan.hold.evacuations;
  if (verdict === 'leak') {
    const event = leakEvent(fit, accounts.suspected, exhausted);
    if (event === 'leak-found') {
      const rate = perYear(hold.slopePaPerS).toFixed(0);
      return { event, notices: [{ code: event, with: { slope, rate } }] };
    }
    if (event === 'leak-suspected') return { event, notices: [{ code: event, with: { slope } }] };
    const reason = 'the slope fell from one hold to the next, which a leak does not do';
    const hiddenKgPerYear = perYear(hold.slopePaPerS);
    const hidden = hiddenKgPerYear.toFixed(0);
    return { event, notices: [{ code: event, with: { reason, limit: hidden } }], hiddenKgPerYear };
  }
  const plateau = hold.plateauPa.toFixed(0);
  if (!exhausted) return { event: 'outgassed', notices: [{ code: 'hold-outgassed', with: { plateau } }] };
  const evacuations = String(accounts.evacuations);
  return {
    event: 'hold-inconclusive',
    notices: [{ code: 'hold-outgassing-persists', with: { evacuations, plateau } }],
  };
}

/**
 * What a straight rise means, given the first one that was suspected. Both the mean slope and the steady part of it must
 * have stayed: ice that warms gives the same mean again, deep oil nearly the same steady part.
 */
function leakEvent(
  fit: DecayFit,
  suspected: Accounts['suspected'],
  exhausted: boolean,
): 'leak-found' | 'leak-suspected' | 'hold-inconclusive' {
  if (suspected === undefined) return exhausted ? 'hold-inconclusive' : 'leak-suspected';
  const { meanSlopePaPerS, slopePaPerS, slopeSdPaPerS } = fit;
  const gross = meanSlopePaPerS >= GROSS_PA_PER_S;
  const unsure = SURE * slopeSdPaPerS;
  if (exhausted) {
    // One deviation more than half-way: a coarse sensor accuses the vehicle only when it shows a good deal.
    const agrees = AGREES_AT_LAST + (Math.SQRT2 * slopeSdPaPerS) / suspected.meanPaPerS;
    const stayed =
      meanSlopePaPerS >= agrees * suspected.meanPaPerS &&
      slopePaPerS >= AGREES_AT_LAST * suspected.steadyPaPerS;
    return stayed ? 'leak-found' : 'hold-inconclusive';
  }
  const tires =
    meanSlopePaPerS < AGREES * suspected.meanPaPerS - unsure ||
    slopePaPerS < AGREES * suspected.steadyPaPerS - unsure;
  if (tires) return gross ? 'leak-suspected' : 'hold-inconclusive';
  return gross ? 'leak-found' : 'leak-suspected';
}
