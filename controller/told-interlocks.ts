// What the interlocks and their watches are told of readings, estimates and commands.
import { ROOM_K, SURE } from './constants.ts';
import type { Equipment } from './equipment.ts';
import { CREEP_TIME_S, type Weighing } from './estimates/masses.ts';
import { barometerPa, circuitPa, hoseGaugePa } from './estimates/pressures.ts';
import { liquidDensityKgPerM3 } from './estimates/saturation.ts';
import { netMassKg } from './estimates/scale.ts';
import type { Seen } from './estimates/seen.ts';
import { steadyHoses } from './estimates/update.ts';
import type { ArrivalInput } from './interlocks/arrival-watch.ts';
import type { BandInput, Bands } from './interlocks/bands.ts';
import type { DeliveryInput } from './interlocks/delivery-watch.ts';
import { type GivenInput, mostGivenKg, mostKeptKg } from './interlocks/given-watch.ts';
import type { RestWeight } from './interlocks/loss-watch.ts';
import type { Told } from './interlocks/memory-watches.ts';
import type { PourWeight } from './interlocks/pour-watch.ts';
import { type Command, type Commands, SAFE_COMMANDS } from './signals.ts';
import type { ControllerState } from './state.ts';

/** More than the compressor could draw of air at the barometer (estimate: 0.25 L/s at 1.2 kg/m³, and as much again). */
const DENSE_KG_PER_S = 6e-4;

export const isDenseInflow = ({ estimates: { scale } }: ControllerState): boolean =>
  scale.trust === 'trusted' && scale.slowFlowKgPerS > DENSE_KG_PER_S;

/** A scale that creeps by more of what was moved, within half an hour, is fit for nothing (estimate). */
const WORST_CREEP = 0.02;

/** So fast dew dries off a tank of 0.45 m² that a heater keeps at 45 °C, by free convection (estimate). */
const DRIES_KG_PER_S = 6.2e-5;

type Creeps = { readonly usualKgPerS: number; readonly worstKgPerS: number };
const NO_CREEP: Creeps = { usualKgPerS: 0, worstKgPerS: 0 };

/** So fast a scale may creep after what has been moved since it was last weighed: one of its class, and a bad one after a charge. */
function creeps(kg: number, { counts, offsetKg }: Weighing, equipment: Equipment): Creeps {
  const gaveKg = netMassKg(counts, equipment) - offsetKg - kg;
  return {
    usualKgPerS: (equipment.scale.creepSd * Math.abs(gaveKg)) / CREEP_TIME_S,
    worstKgPerS: (WORST_CREEP * Math.max(gaveKg, 0)) / CREEP_TIME_S,
  };
}

/** What the tank weighs, where nothing but refrigerant could change it. */
function restWeight(
  { estimates: { scale }, equipment, accounts, judged }: ControllerState,
  seen: Seen,
  sensorTells: boolean,
): RestWeight | undefined {
  if (scale.trust !== 'trusted' || !steadyHoses(scale, seen)) return undefined;
  const kg = netMassKg(scale.counts, equipment) - scale.offsetKg - scale.hoseForceKgPerPa * scale.calmHosePa;
  const creep = accounts.weighed === undefined ? NO_CREEP : creeps(kg, accounts.weighed, equipment);
  const driesKgPerS = judged?.permitted.tankHeater.on === true ? DRIES_KG_PER_S : 0;
  return {
    kg,
    hoseSdKg: accounts.hoseForce.sdKgPerPa * scale.calmHosePa,
    noiseKg: equipment.scale.noiseKg,
    creepKgPerS: creep.usualKgPerS,
    worstOwnKgPerS: creep.worstKgPerS + driesKgPerS,
    sealedPa: sensorTells ? seen.manifoldPa : undefined,
  };
}

/** As the raw scale shows it: a filter takes a valve that pours though it is told to be shut for somebody's hand. */
function pourWeight(
  { estimates: { scale }, equipment, accounts: { hoseForce } }: ControllerState,
  seen: Seen,
): PourWeight | undefined {
  if (seen.scaleCounts === undefined || scale.trust === 'not-read' || scale.trust === 'stuck')
    return undefined;
  return {
    kg: netMassKg(scale.counts, equipment),
    hosePa: hoseGaugePa(seen),
    forceKgPerPa: hoseForce.kgPerPa,
    forceSdKgPerPa: hoseForce.sdKgPerPa,
    calm: scale.trust === 'trusted',
  };
}

const draws = ({ judged }: ControllerState): boolean => judged?.permitted.compressor.on === true;

const staysOpen = ({ on, offAfterMs }: Command): boolean => on && offAfterMs === undefined;

/** What the compressor draws from, and where it should arrive. */
function deliveryInput(state: ControllerState, seen: Seen): DeliveryInput {
  const { plan, equipment, estimates, judged } = state;
  const { compressor, highSideValve, lowSideValve, fanStop } = judged?.permitted ?? SAFE_COMMANDS;
  // Little is drawn from the manifold alone, or from a hose let in for a moment.
  const joined = staysOpen(highSideValve) || staysOpen(lowSideValve);
  return {
    curve: plan.curve,
    running: compressor.on && joined && equipment.tank.contaminated !== true,
    suctionPa: circuitPa(seen, plan.ticket.ports),
    suctionSdShare: 0,
    tankPa: seen.tankPa,
    tankSdPa: equipment.pressure.tankSdPa,
    ambientK: seen.ambientK,
    temperatureSdK: equipment.temperatureSdK,
    sweptM3PerS: equipment.compressor.sweptM3PerS,
    condenserM3: equipment.compressor.condenserM3,
    fanStopped: fanStop.on || seen.fanFlow === 'clear',
    hoseGaugePa: hoseGaugePa(seen),
    tankKg: estimates.scale.trust === 'trusted' ? estimates.scale.massKg : undefined,
  };
}

/** What arrives there; in a foreign tank nothing is known of what lies in it. */
function arrivalInput(state: ControllerState, seen: Seen): ArrivalInput | undefined {
  const { plan, equipment, estimates } = state;
  if (!draws(state) || equipment.tank.contaminated === true) return undefined;
  const { trust, massKg } = estimates.scale;
  const tankK = seen.tankTemperatureK ?? ROOM_K;
  return {
    tankPa: seen.tankPa,
    tankKg: trust === 'trusted' ? massKg : undefined,
    roomM3: equipment.tank.waterCapacityM3 - massKg / liquidDensityKgPerM3(plan.curve, tankK),
    tankK,
  };
}

/** What has left the tank, where it is known, and all that may. */
function givenInput(state: ControllerState, seen: Seen, { manifold }: Bands): GivenInput {
  const { plan, equipment, estimates, accounts, judged } = state;
  const { highSideValve, lowSideValve, compressor, recoveryValve, chargeValve } =
    judged?.permitted ?? SAFE_COMMANDS;
  const joined = staysOpen(highSideValve) || staysOpen(lowSideValve);
  return {
    tankKg: estimates.scale.trust === 'trusted' ? estimates.scale.massKg : undefined,
    empty: joined && manifold === 'vacuum',
    holds: joined && manifold !== 'vacuum' && manifold !== 'unknown',
    pressed: (seen.highSidePa ?? 0) > barometerPa(seen) + SURE * equipment.pressure.highSideSdPa,
    feeds: chargeValve.on || state.memory.chargeShutSinceMs === undefined,
    draws: compressor.on || recoveryValve.on,
    mostKg: mostGivenKg(
      plan.ticket.nominalChargeKg,
      equipment,
      accounts.hoseForce.sdKgPerPa,
      plan.curve,
      seen.ambientK ?? ROOM_K,
    ),
    keptKg: mostKeptKg(equipment),
  };
}

/** What the watches ask for: what the tank weighs only where they look at it. */
export const toldOf = (state: ControllerState, seen: Seen, bands: Bands): Told => ({
  rest: (sensorTells) => restWeight(state, seen, sensorTells),
  pour: () => pourWeight(state, seen),
  delivery:
    draws(state) || state.memory.deliveryWatch.count !== undefined ? deliveryInput(state, seen) : undefined,
  arrival: arrivalInput(state, seen),
  given: givenInput(state, seen, bands),
});

/** A stuck scale weighs nothing: its counts are as good as none. */
export const bandInput = (
  { plan, equipment, estimates: { scale } }: ControllerState,
  seen: Seen,
  wanted: Commands,
): BandInput => ({
  seen,
  equipment,
  ticket: plan.ticket,
  curve: plan.curve,
  scaleTrust: scale.trust,
  scaleCounts: seen.scaleCounts === undefined || scale.trust === 'stuck' ? undefined : scale.counts,
  scaleMassKg: scale.massKg,
  purges: wanted.airPurgeValve.on,
});
