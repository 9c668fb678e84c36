// What follows from a hold: evacuate again, go on, or stop; and what the record says of it.
import { ZERO_CELSIUS_K } from '../constants.ts';
import {
  agrees,
  type Circumstances,
  causeOf,
  type GasSeen,
  gasSeen,
  type HoldCause,
  type HoldVerdict,
  isGross,
  isHigh,
  isSaturated,
  isSharp,
  isVacuumLost,
  mayBeLeak,
  type Rise,
  riseOf,
  verdictOf,
} from '../estimates/hold-verdict.ts';
import { leakKgPerYear } from '../estimates/leak.ts';
import { isBarometric } from '../estimates/pressures.ts';
import type { Seen } from '../estimates/seen.ts';
import type { NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { StageEvent } from '../stage-events.ts';
import type { Accounts, HoldAccount } from '../state.ts';
import type { HoldData } from './data-vacuum.ts';
import { vacuumDoubtPa } from './evacuate.ts';
import { isOpened, type StageInput, type StageStep } from './stage.ts';

/** Vehicle volume: single evaporator for the best estimate of a leak, a large one for what may hide (estimates). */
const VEHICLE_M3 = 2.5e-3;
const LARGE_VEHICLE_M3 = 3.5e-3;
/** A thermal vacuum sensor repeats to about this share of its reading (estimate). */
const THERMAL_RESOLUTION = 0.002;
/** A vacuum this good may zero the high-side gauge (estimate: well below its class). */
const ZERO_BELOW_PA = 5_000;

/**
 * A leak does not tire from hold to hold; oil that holds refrigerant deep down gives off some 8 % less after half an hour
 * more (the simulator's own figure, sump time 5 h). Where the hold itself could not show whether the rise tires, a third
 * one must agree, for by then oil has lost a sixth of its slope.
 */
const AGREES = 0.96;
const AGREES_AT_LAST = 0.93;
/** A slope that has fallen below this share is another thing than what was suspected. */
const SAME = 0.8;

export type Judged = {
  readonly verdict: HoldVerdict;
  readonly rise?: Rise;
  readonly cause?: HoldCause;
  readonly gas: GasSeen;
  /** It has come, or will come, to a pressure that a dry system does not have. */
  readonly high: boolean;
  /** It has come to the pressure of the air outside, or on its way there higher than anything is given off. */
  readonly vacuumLost: boolean;
};

/** No oil and no water brings a hold so far: a gross leak, or tank pressure (estimate). */
export const BACK_PA = 20_000;

export function judge(data: HoldData, intervalS: number, input: StageInput): Judged {
  const { plan, equipment, seen } = input;
  const opened = isOpened(input);
  const { thermalPa, manifoldPa } = data;
  const absolute = riseOf({
    samplesPa: manifoldPa,
    intervalS,
    resolutionPa: equipment.pressure.manifoldResolutionPa,
  });
  const lastPa = thermalPa?.at(-1) ?? 0;
  const thermal =
    thermalPa && riseOf({ samplesPa: thermalPa, intervalS, resolutionPa: THERMAL_RESOLUTION * lastPa });
  const rise = thermal ?? absolute;
  const doubtPa = vacuumDoubtPa(thermal !== undefined, equipment);
  const at: Circumstances = {
    limits: { ...plan.hold, limitPa: plan.hold.limitPa + doubtPa },
    final: data.extended,
    opened,
    gas: gasSeen(thermal, absolute, opened),
    barometerPa: seen.barometerPa,
    saturated:
      thermal !== undefined && seen.ambientK !== undefined && isSaturated(thermal.endPa, seen.ambientK),
  };
  const verdict = verdictOf(rise, at);
  const { gas } = at;
  if (rise === undefined) return { verdict, gas, high: false, vacuumLost: false };
  // A small hole fills the system slower and slower: its curve alone looks like something that is given off.
  const vacuumLost = isVacuumLost(rise, at) || rise.endPa > BACK_PA;
  return {
    verdict: vacuumLost ? 'leak' : verdict,
    gas,
    high: isHigh(rise, at),
    vacuumLost,
    rise,
    cause: causeOf(rise, at, seen.ambientK, thermal !== undefined),
  };
}

type Conclusion = {
  readonly event: StageEvent;
  /** When it is not what this hold alone looked like. */
  readonly verdict?: HoldVerdict;
  readonly notices: readonly NoticeDraft[];
};

/**
 * Water left in a cold system evaporates, cools, and holds less pressure by the minute, while a leak adds to it: an absolute
 * sensor sees the sum, a thermal one the water. So many times the slope may hide there (estimate).
 */
const COLD_K = ZERO_CELSIUS_K + 10;
const HIDES = 2;

function hidesBehindWater({ thermalPa }: HoldData, { seen }: StageInput): number {
  const cold = seen.ambientK === undefined || seen.ambientK < COLD_K;
  return thermalPa === undefined && cold ? HIDES : 1;
}

export function conclude(data: HoldData, input: StageInput, judged: Judged): StageStep<HoldData> {
  const { plan, accounts, seen } = input;
  const { rise } = judged;
  const hiddenPaPerS = Math.max(rise?.mostPaPerS ?? 0, plan.hold.slopeFloorPaPerS);
  const limitKgPerYear = perYear(hiddenPaPerS * hidesBehindWater(data, input), LARGE_VEHICLE_M3, input);
  const { event, notices, verdict = judged.verdict } = decide(judged, input, limitKgPerYear);
  const hold: HoldAccount | undefined = rise && {
    verdict,
    ...(verdict === 'outgassing' && judged.cause !== undefined ? { cause: judged.cause } : {}),
    slopePaPerS: rise.slopePaPerS,
    // Where a curve leads to that has no plateau is nowhere.
    plateauPa: judged.vacuumLost ? rise.endPa : toldPlateauPa(data, rise, input),
    // A leak that is called was seen: what would have been seen is what noise leaves.
    detectionLimitKgPerYear:
      verdict === 'leak'
        ? perYear(leastSeenPaPerS(judged, rise, input), LARGE_VEHICLE_M3, input)
        : limitKgPerYear,
  };
  const again = event === 'leak-suspected' || event === 'outgassed';
  const suspected = again && rise !== undefined ? suspicion(rise, accounts) : undefined;
  return {
    data,
    wanted: SAFE_COMMANDS,
    event,
    result: verdict,
    notices,
    accounts: {
      ...accounts,
      hold,
      suspected,
      highSideZeroPa: zeroPa(seen) ?? accounts.highSideZeroPa,
    },
  };
}

/** What bends on its way to the pressure of the room is no noise. */
const leastSeenPaPerS = ({ vacuumLost }: Judged, { slopeSdPaPerS }: Rise, { plan }: StageInput): number =>
  Math.max(vacuumLost ? 0 : 3 * slopeSdPaPerS, plan.hold.slopeFloorPaPerS);

function perYear(slopePaPerS: number, vehicleM3: number, { plan, equipment }: StageInput): number {
  const { highVolumeM3, lowVolumeM3, manifoldVolumeM3 } = equipment.hoses;
  return leakKgPerYear(slopePaPerS, vehicleM3 + highVolumeM3 + lowVolumeM3 + manifoldVolumeM3, plan.curve);
}

/** The zero of the manifold sensor hides what is below it. */
const toldPlateauPa = ({ thermalPa }: HoldData, { plateauPa }: Rise, { equipment }: StageInput): number =>
  thermalPa === undefined ? Math.max(plateauPa, equipment.pressure.manifoldSdPa) : plateauPa;

/** What the high-side gauge reads in a vacuum that the absolute sensor confirms. */
function zeroPa({ highSidePa, manifoldPa }: Seen): number | undefined {
  const known = highSidePa !== undefined && manifoldPa !== undefined && manifoldPa < ZERO_BELOW_PA;
  return known ? highSidePa - manifoldPa : undefined;
}

function decide(judged: Judged, input: StageInput, limitKgPerYear: number): Conclusion {
  const { verdict, rise } = judged;
  const limit = limitKgPerYear.toFixed(1);
  if (verdict === 'tight') return { event: 'held-tight', notices: [] };
  if (rise === undefined) return { event: 'hold-inconclusive', notices: [{ code: 'hold-blind' }] };
  if (verdict === 'inconclusive') {
    const reason = 'the pressure was too unsteady';
    return { event: 'hold-inconclusive', notices: [{ code: 'hold-inconclusive', with: { reason, limit } }] };
  }
  if (judged.vacuumLost) {
    const end = rise.endPa.toFixed(0);
    const as = isBarometric(rise.endPa, input.seen.barometerPa)
      ? 'that of the air outside as nearly as this sensor tells'
      : 'more than oil or water gives off';
    return { event: 'leak-found', notices: [{ code: 'vacuum-lost', with: { end, as } }] };
  }
  return verdict === 'leak' ? leaking(rise, input, limit) : givingOff(judged, rise, input, limit);
}

function givingOff({ cause, gas, high }: Judged, rise: Rise, input: StageInput, limit: string): Conclusion {
  const { plan, accounts } = input;
  const { suspected } = accounts;
  const steady = suspected !== undefined && mayBeLeak(rise, gas) && agrees(rise, suspected, AGREES);
  if (steady && rise.slopePaPerS > plan.hold.worstSlopePaPerS) return found(rise, input);
  const plateau = rise.plateauPa.toFixed(0);
  const slope = rise.slopePaPerS.toFixed(3);
  // A little does no harm; and a system that was never open gives off the refrigerant that it will be charged with.
  const harmless = rise.slopePaPerS <= plan.hold.worstSlopePaPerS || (cause === 'oil' && !isOpened(input));
  if (harmless && !high)
    return {
      event: 'outgassing-accepted',
      notices: [{ code: 'hold-outgassing-accepted', with: { slope, limit, ...sourceOf(cause) } }],
    };
  if (accounts.evacuations < plan.hold.evacuations) {
    const code = cause === 'ice' ? 'hold-ice' : cause === 'water' ? 'hold-water' : 'hold-outgassed';
    return { event: 'outgassed', notices: [{ code, with: { plateau } }] };
  }
  const evacuations = String(accounts.evacuations);
  return {
    event: 'outgassing-accepted',
    notices: [{ code: 'hold-outgassing-persists', with: { evacuations, plateau } }],
  };
}

const sourceOf = (cause: HoldCause | undefined): { readonly as: string; readonly first: string } =>
  cause === 'water' || cause === 'ice'
    ? {
        as: 'as the last of the moisture does that an open system has taken up',
        first: 'Change the receiver-drier if the system has stood open for long.',
      }
    : { as: 'as oil does that gives off what it holds', first: 'Nothing to do.' };

/** What a later slope is held to: the last one, or where that is not sharp the first of those that are much the same. */
const suspicion = (rise: Rise, { suspected }: Accounts): number =>
  suspected !== undefined && !isSharp(rise) && rise.slopePaPerS >= SAME * suspected
    ? suspected
    : rise.slopePaPerS;

const found = (rise: Rise, input: StageInput): Conclusion => ({
  event: 'leak-found',
  verdict: 'leak',
  notices: [
    {
      code: 'leak-found',
      with: {
        slope: rise.slopePaPerS.toFixed(3),
        rate: perYear(rise.slopePaPerS, VEHICLE_M3, input).toFixed(0),
      },
    },
  ],
});

/** A straight rise is a leak when the hold after another evacuation agrees. */
function leaking(rise: Rise, input: StageInput, limit: string): Conclusion {
  const { accounts, plan } = input;
  const slope = rise.slopePaPerS.toFixed(3);
  const { suspected } = accounts;
  const suspect: Conclusion = {
    event: 'leak-suspected',
    notices: [{ code: 'leak-suspected', with: { slope } }],
  };
  const tired: Conclusion = {
    event: 'hold-inconclusive',
    verdict: 'outgassing',
    notices: [
      {
        code: 'hold-inconclusive',
        with: { reason: 'the slope fell from one hold to the next, which a leak does not do', limit },
      },
    ],
  };
  const left = plan.hold.evacuations - accounts.evacuations;
  // What is suspected late, or for the first time behind something else, has one evacuation more to be confirmed.
  if (suspected === undefined || rise.slopePaPerS < SAME * suspected) return left < 0 ? tired : suspect;
  const sure = rise.course === 'straight' || isGross(rise, plan.hold);
  const stayed = agrees(rise, suspected, AGREES);
  if (sure && stayed) return found(rise, input);
  if (left > 0) return stayed || isGross(rise, plan.hold) ? suspect : tired;
  // One deviation more than half-way: a coarse sensor accuses the vehicle only when it shows a good deal.
  const least = AGREES_AT_LAST * suspected + Math.SQRT2 * rise.slopeSdPaPerS;
  return rise.slopePaPerS >= least ? found(rise, input) : tired;
}
