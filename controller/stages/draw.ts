// How the compressor draws, with the condenser's fan or without it when the tank is warmer than the room, and what it draws.
import { SURE } from '../constants.ts';
import {
  countDraw,
  type DrawCount,
  drawKgPerS,
  inCoilKg,
  mostInCondenserKg,
} from '../estimates/condenser.ts';
import { type Kept, keptAfterRun } from '../estimates/kept.ts';
import { circuitPa, hoseGaugePa } from '../estimates/pressures.ts';
import { isFlammable } from '../interlocks/bands.ts';
import type { Commands } from '../signals.ts';
import { counted, deliveredKg, forPorts, type StageInput, want } from './stage.ts';

type PerPorts = { readonly [ports in 1 | 2]: Commands };

const WITH_FAN = forPorts('recoveryValve', 'compressor');
const WITHOUT_FAN = forPorts('recoveryValve', 'compressor', 'fanStop');
/** Closer than this the coil drains by the flow's own heat (estimate). */
const WARMER_K = 1;

const ALONE = want('recoveryValve', 'compressor');
const ALONE_STILL = want('recoveryValve', 'compressor', 'fanStop');
const THROUGH_HIGH = want('highSideValve', 'recoveryValve', 'compressor');
const THROUGH_HIGH_STILL = want('highSideValve', 'recoveryValve', 'compressor', 'fanStop');

/** From the manifold, cut off from the hoses. */
export const drawAlone = (fanStopped: boolean): Commands => (fanStopped ? ALONE_STILL : ALONE);

/** The same while the high-side valve lets something in for a moment. */
export const drawOpened = (fanStopped: boolean, openMs: number): Commands =>
  counted(fanStopped ? THROUGH_HIGH_STILL : THROUGH_HIGH, 'highSideValve', openMs);

export const drawWith = (fanStopped: boolean): PerPorts => (fanStopped ? WITHOUT_FAN : WITH_FAN);

/**
 * A coil that stands colder than the tank fills with liquid instead of passing it on, and what lies there is neither in
 * the tank nor on the scale. Without its fan it warms above the tank within seconds. Not for flammable refrigerant.
 */
export function wantsFanStopped({ equipment, seen }: StageInput): boolean {
  const { tankTemperatureK, ambientK } = seen;
  if (tankTemperatureK === undefined || ambientK === undefined) return false;
  if (isFlammable(equipment.tank.refrigerant) || !equipment.fitted.includes('fanStop')) return false;
  return tankTemperatureK > ambientK + WARMER_K;
}

/** What the scale shows in the tank beyond the last weighing, whatever brought it. */
export const shownKg = (input: StageInput): number =>
  input.accounts.weighed === undefined ? 0 : -deliveredKg(input.accounts.weighed, input);

/** What the coil holds now, by what the run has drawn; it can hold no more than it has room for. */
export const coilKg = (count: DrawCount, input: StageInput): number =>
  Math.min(
    inCoilKg(count, { shownKg: shownKg(input), coilKg: input.accounts.kept.kg }),
    mostInCondenserKg(input.equipment),
  );

/** What the compressor draws now, by its displacement; unknown without the pressures and the room's temperature. */
export function drawnKgPerS({ seen, plan, equipment, accounts }: StageInput): number | undefined {
  const { manifoldPa, tankPa, ambientK } = seen;
  if (manifoldPa === undefined || tankPa === undefined || ambientK === undefined) return undefined;
  const { sweptM3PerS } = equipment.compressor;
  const draw = { suctionPa: manifoldPa, dischargePa: tankPa, ambientK, sweptM3PerS };
  return accounts.kept.share * drawKgPerS(plan.curve, draw);
}

type Suction = {
  readonly pa: number | undefined;
  readonly sdShare: number;
  /** With the hoses on it, so that their gauges must show the same. */
  readonly joined: boolean;
};

/** The manifold with the hoses joined to it. */
export const joinedSuction = ({ seen, plan }: StageInput, sdShare = 0): Suction => ({
  pa: circuitPa(seen, plan.ticket.ports),
  sdShare,
  joined: true,
});

/** How sure the mean over the logarithm is (estimate). */
const OVER_SPAN_SD = 0.2;

/**
 * The manifold while it is cut off from the hoses. Above the span of its sensor it is on its way down from where it stood,
 * and the mean over the logarithm of both stands for it; where it stood no higher it is hardly above.
 */
export function cutOffSuction({ seen, equipment }: StageInput, stoodPa = 0): Suction {
  if (!seen.manifoldOverSpan) return { pa: seen.manifoldPa, sdShare: 0, joined: false };
  const spanPa = equipment.pressure.manifoldSpanPa;
  return stoodPa > spanPa
    ? { pa: Math.sqrt(spanPa * stoodPa), sdShare: OVER_SPAN_SD, joined: false }
    : { pa: spanPa, sdShare: 0, joined: false };
}

/** Flow and valves part the sides by less (estimate). */
const APART_PA = 60_000;

const sidesApart = ({ seen: { highSidePa, lowSidePa }, equipment: { pressure } }: StageInput): boolean =>
  highSidePa !== undefined &&
  lowSidePa !== undefined &&
  Math.abs(highSidePa - lowSidePa) >
    APART_PA + SURE * Math.hypot(pressure.highSideSdPa, pressure.lowSideSdPa);

/** So far the gauge of a hose stands above the manifold that it is drawn through (estimate: 10 kPa at most). */
const FLOWS_PA = 20_000;

/** The absolute sensor has a value, and no gauge of a hose that is drawn on comes as near to it as flow and offsets explain. */
function gaugesDenied({ seen, plan, equipment: { pressure } }: StageInput): boolean {
  const { manifoldPa, highSidePa, lowSidePa } = seen;
  if (manifoldPa === undefined) return false;
  const denied = (pa: number | undefined, sdPa: number): boolean =>
    pa === undefined || Math.abs(pa - manifoldPa) > FLOWS_PA + SURE * sdPa;
  const low = plan.ticket.ports === 1 || denied(lowSidePa, pressure.lowSideSdPa);
  return low && denied(highSidePa, pressure.highSideSdPa);
}

/** Counts what this run of the compressor has drawn: by the pressure of what is joined to the manifold, unless given. */
export function counting(
  count: DrawCount,
  fanStopped: boolean,
  input: StageInput,
  suction = joinedSuction(input),
): DrawCount {
  const { plan, equipment, seen, nowMs, permitted } = input;
  return countDraw(count, {
    curve: plan.curve,
    nowMs,
    running: permitted.compressor.on,
    suctionPa: suction.pa,
    suctionSdShare: suction.sdShare,
    suctionByGauge: seen.manifoldPa === undefined,
    suctionApart: seen.manifoldPa === undefined && sidesApart(input),
    suctionDenied: suction.joined && gaugesDenied(input),
    tankPa: seen.tankPa,
    tankSdPa: equipment.pressure.tankSdPa,
    ambientK: seen.ambientK,
    temperatureSdK: equipment.temperatureSdK,
    sweptM3PerS: equipment.compressor.sweptM3PerS,
    condenserM3: equipment.compressor.condenserM3,
    fanStopped,
    shownKg: shownKg(input),
    hoseGaugePa: hoseGaugePa(seen),
    coilKg: input.accounts.kept.kg,
  });
}

/** What the condenser holds after a run of which `arrivedKg` has come into the tank. */
export function keptAfter(
  count: DrawCount,
  arrivedKg: number,
  { accounts, seen, equipment, estimates }: StageInput,
): Kept {
  const hosesPa = hoseGaugePa(seen);
  const fellPa = (count.hoseGaugePa ?? hosesPa) - hosesPa;
  const sdKg = accounts.hoseForce.sdKgPerPa * Math.abs(fellPa);
  const kept = keptAfterRun(count, { kg: arrivedKg, sdKg }, accounts.kept, equipment);
  // Counted by a gauge that is not to be believed, any draw may have filled the coil or left it empty.
  const word = count.suction?.gauge ?? 'none';
  const unknown = word === 'denied' || (word !== 'none' && estimates.joined.apartPa > 0);
  return unknown ? { ...kept, sdKg: mostInCondenserKg(equipment) / 2 } : kept;
}
