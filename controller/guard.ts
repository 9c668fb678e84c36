// The last word: wanted commands against the interlocks, and what that does to memory and sequence.

import { isFinished } from './chart-state.ts';
import { ROOM_K, SURE } from './constants.ts';
import type { Equipment } from './equipment.ts';
import { CREEP_TIME_S, type Weighing } from './estimates/masses.ts';
import { barometerPa, circuitPa, hoseGaugePa } from './estimates/pressures.ts';
import { liquidDensityKgPerM3 } from './estimates/saturation.ts';
import { netMassKg } from './estimates/scale.ts';
import type { Seen } from './estimates/seen.ts';
import { steadyHoses } from './estimates/update.ts';
import type { ArrivalInput } from './interlocks/arrival-watch.ts';
import { type BandInput, type Bands, classify, reclassify } from './interlocks/bands.ts';
import type { DeliveryInput } from './interlocks/delivery-watch.ts';
import { mayRun } from './interlocks/engine-watch.ts';
import { type GivenInput, mostGivenKg, mostKeptKg } from './interlocks/given-watch.ts';
import type { RestWeight } from './interlocks/loss-watch.ts';
import { type Memory, noteCommands, noteReadings, type Trip } from './interlocks/memory.ts';
import { noteWatches } from './interlocks/memory-watches.ts';
import { type Permission, permit, type Refusal } from './interlocks/permit.ts';
import type { PourWeight } from './interlocks/pour-watch.ts';
import { because, reasonOf, reasonOfRefusal } from './interlocks/reason.ts';
import { type Remembered, recall, sameRemembered } from './interlocks/remembered.ts';
import { INTERLOCKS } from './interlocks/table.ts';
import { NO_NOTICES, type NoticeDraft } from './notices.ts';
import type { OperatorEvent } from './operator.ts';
import { type Command, type Commands, SAFE_COMMANDS } from './signals.ts';
import type { ControllerState, Judged } from './state.ts';
import { follow } from './statechart.ts';

export type Guarded = {
  readonly state: ControllerState;
  readonly permitted: Commands;
  readonly notices: readonly NoticeDraft[];
};

/** Held back longer than this is worth telling: timers of a few seconds are not (estimate). */
const TELL_MS = 10_000;
/** Rows whose refusal the sequence expects and waits for. */
const EXPECTED: ReadonlySet<string> = new Set(['IL-02', 'IL-16']);

/** More than the compressor could draw of air at the barometer (estimate: 0.25 L/s at 1.2 kg/m³, and as much again). */
const DENSE_KG_PER_S = 6e-4;

const isDenseInflow = ({ estimates: { scale } }: ControllerState): boolean =>
  scale.trust === 'trusted' && scale.slowFlowKgPerS > DENSE_KG_PER_S;

/** So fast a scale of this class may creep after what has been moved since it was last weighed. */
const creepKgPerS = (kg: number, { counts, offsetKg }: Weighing, equipment: Equipment): number =>
  (equipment.scale.creepSd * Math.abs(netMassKg(counts, equipment) - offsetKg - kg)) / CREEP_TIME_S;

/** What the tank weighs, where nothing but refrigerant could change it. */
function restWeight(
  { estimates: { scale }, equipment, accounts }: ControllerState,
  seen: Seen,
  sensorTells: boolean,
): RestWeight | undefined {
  if (scale.trust !== 'trusted' || !steadyHoses(scale, seen)) return undefined;
  const kg = netMassKg(scale.counts, equipment) - scale.offsetKg - scale.hoseForceKgPerPa * scale.calmHosePa;
  return {
    kg,
    hoseSdKg: accounts.hoseForce.sdKgPerPa * scale.calmHosePa,
    noiseKg: equipment.scale.noiseKg,
    creepKgPerS: accounts.weighed === undefined ? 0 : creepKgPerS(kg, accounts.weighed, equipment),
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
  const hosePa = hoseGaugePa(seen);
  const kg = netMassKg(scale.counts, equipment) - hoseForce.kgPerPa * hosePa;
  return { kg, hosePa, forceSdKgPerPa: hoseForce.sdKgPerPa, calm: scale.trust === 'trusted' };
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

/** A stuck scale weighs nothing: its counts are as good as none. */
const bandInput = (
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

/** Who is asked to warm the vehicle may start its engine at any time, and says only when it stands again. */
const noteAsked = (memory: Memory, { prompt }: ControllerState, nowMs: number): Memory =>
  prompt?.id === 'warm-vehicle' ? { ...memory, engineWatch: mayRun(nowMs) } : memory;

type Judgement = {
  readonly noted: Memory;
  /** The one before when nothing has changed. */
  readonly judged: Judged;
  readonly trip: Permission['trip'];
};

/** What the interlocks say to a wanted word now; nothing is done about it. */
export function judge(
  state: ControllerState,
  seen: Seen,
  wanted: Commands,
  events: readonly OperatorEvent[],
  nowMs: number,
): Judgement {
  const read = noteAsked(noteReadings(state.memory, seen, isDenseInflow(state), events, nowMs), state, nowMs);
  const bands = reclassify(state.judged?.bands, bandInput(state, seen, wanted));
  const told = {
    rest: (sensorTells: boolean) => restWeight(state, seen, sensorTells),
    pour: () => pourWeight(state, seen),
    delivery: draws(state) || read.deliveryWatch.count !== undefined ? deliveryInput(state, seen) : undefined,
    arrival: arrivalInput(state, seen),
    given: givenInput(state, seen, bands),
  };
  const noted = noteWatches(read, told, nowMs);
  const minimumOffMs = state.equipment.compressor.minimumOffMs;
  const remembered = recalled(state.judged?.remembered, noted, nowMs, minimumOffMs);
  const last = state.judged;
  const same =
    last !== undefined && last.wanted === wanted && last.bands === bands && last.remembered === remembered;
  if (same) return { noted, judged: last, trip: undefined };
  const { permitted, refusals, trip } = permit(wanted, bands, remembered, state.fitting);
  return { noted, judged: { wanted, bands, remembered, permitted, refusals }, trip };
}

export function guard(
  state: ControllerState,
  wanted: Commands,
  events: readonly OperatorEvent[],
  nowMs: number,
): Guarded {
  const { seen } = state;
  if (seen === undefined) return { state, permitted: SAFE_COMMANDS, notices: NO_NOTICES };
  const { noted, judged, trip } = judge(state, seen, wanted, events, nowMs);
  if (trip === undefined || noted.trip !== undefined) {
    const memory = noteCommands(noted, judged.permitted, undefined, nowMs);
    return tellHeld({ ...state, memory, judged }, judged, nowMs);
  }
  return tripped({ ...state, judged }, noted, { ...trip, atMs: nowMs }, nowMs);
}

function recalled(
  before: Remembered | undefined,
  memory: Memory,
  nowMs: number,
  minimumOffMs: number,
): Remembered {
  const remembered = recall(memory, nowMs, minimumOffMs);
  return before !== undefined && sameRemembered(before, remembered) ? before : remembered;
}

/** Rows that find refrigerant gone past every weighing. */
const LOSES_TRACK: ReadonlySet<string> = new Set(['IL-41', 'IL-46']);

function tripped(state: ControllerState, noted: Memory, trip: Trip, nowMs: number): Guarded {
  const memory = noteCommands(noted, SAFE_COMMANDS, trip, nowMs);
  const { row, hazard, remedy } = reasonOf(trip.row);
  const figures = { row, reason: trip.reason, hazard, remedy };
  return {
    state: {
      ...state,
      memory,
      accounts: LOSES_TRACK.has(trip.row) ? { ...state.accounts, lostTrack: true } : state.accounts,
      chart: follow(state.chart, 'tripped'),
      haltedAtMs: isFinished(state.chart) ? state.haltedAtMs : (state.haltedAtMs ?? nowMs),
      prompt: undefined,
    },
    permitted: SAFE_COMMANDS,
    notices: [{ code: 'tripped', with: figures }],
  };
}

/** Something wanted and not permitted for long is a fact the operator needs. */
function tellHeld(state: ControllerState, { permitted, refusals }: Judged, nowMs: number): Guarded {
  const unexpected = refusals.length === 0 ? undefined : refusals.find(({ row }) => !EXPECTED.has(row));
  if (unexpected === undefined) {
    return {
      state: state.held === undefined ? state : { ...state, held: undefined },
      permitted,
      notices: NO_NOTICES,
    };
  }
  const held = state.held ?? { sinceMs: nowMs, told: false };
  if (held.told || nowMs - held.sinceMs < TELL_MS) {
    return { state: held === state.held ? state : { ...state, held }, permitted, notices: NO_NOTICES };
  }
  return {
    state: { ...state, held: { ...held, told: true } },
    permitted,
    notices: [heldNotice(unexpected, refusals)],
  };
}

function heldNotice(first: Refusal, refusals: readonly Refusal[]): NoticeDraft {
  const reason = reasonOfRefusal(first);
  const { row } = first;
  const outputs = refusals.filter((refusal) => refusal.row === row).map(({ output }) => output);
  return {
    code: reason.unknown === undefined ? 'held-by-interlock' : 'held-by-unknown',
    with: {
      row,
      outputs: [...new Set(outputs)].join(', '),
      because: because(reason),
      remedy: reason.remedy,
    },
  };
}

/** Every output is off, the cause of the trip can be read, and with the latch lifted nothing would trip at once. */
export function mayReset(state: ControllerState, nowMs: number): boolean {
  const { seen, equipment, memory, judged, fitting } = state;
  if (seen === undefined || (judged !== undefined && Object.values(judged.permitted).some(({ on }) => on))) {
    return false;
  }
  const bands = classify(bandInput(state, seen, SAFE_COMMANDS));
  const row = INTERLOCKS.find(({ id }) => id === memory.trip?.row);
  if (row?.reads.bands.some((band) => bands[band] === 'unknown')) return false;
  const remembered = recall({ ...memory, trip: undefined }, nowMs, equipment.compressor.minimumOffMs);
  return permit(SAFE_COMMANDS, bands, remembered, fitting).trip === undefined;
}
