// What the interlocks remember: how long things have been so, and what a segment holds. Nothing of the sequence.
import type { Commands } from '../signals.ts';
import { type AirWatch, openAirWatch } from './air-watch.ts';
import { type ArrivalWatch, NOTHING_ARRIVES } from './arrival-watch.ts';
import { type DeliveryWatch, openDeliveryWatch } from './delivery-watch.ts';
import { type EngineWatch, openEngineWatch } from './engine-watch.ts';
import { type GivenWatch, NOTHING_GIVEN } from './given-watch.ts';
import { type LossWatch, NOT_WEIGHED } from './loss-watch.ts';
import { NOT_POURING, type PourWatch } from './pour-watch.ts';
import { NOT_SHUT, type SeatWatch, shutSince } from './seat-watch.ts';
import { NOT_VENTING, type VentWatch } from './vent-watch.ts';

export type Trip = { readonly row: string; readonly reason: string; readonly atMs: number };

/** Times since when something has been so without a break; absent while it is not so. */
export type Memory = {
  readonly lastScanMs: number;
  /** Since when the compressor has been off. A start of the controller counts as a stop: who knows what ran before. */
  readonly compressorOffSinceMs: number | undefined;
  readonly pumpOnSinceMs: number | undefined;
  readonly highOpenSinceMs: number | undefined;
  readonly lowOpenSinceMs: number | undefined;
  /**
   * Since when each has been told to be shut. Whoever starts finds them shut: the board drops every output when words stay
   * away, and then takes none before one with everything off.
   */
  readonly highShutSinceMs: number | undefined;
  readonly lowShutSinceMs: number | undefined;
  readonly chargeShutSinceMs: number | undefined;
  readonly vacuumShutSinceMs: number | undefined;
  readonly recoveryShutSinceMs: number | undefined;
  readonly drainShutSinceMs: number | undefined;
  readonly oilShutSinceMs: number | undefined;
  readonly dyeShutSinceMs: number | undefined;
  /** When the rig was last heard, and whether it is heard again after a silence in which its board may have dropped everything. */
  readonly heardAtMs: number | undefined;
  readonly heardAgain: boolean;
  readonly fanMovingSinceMs: number | undefined;
  readonly manifoldLiquid: boolean;
  readonly manifoldDrySinceMs: number | undefined;
  /** When the high side was last let in for a moment: liquid of the hose boils on in a manifold that is low already. */
  readonly hosePulsedAtMs: number | undefined;
  /**
   * Tank liquid was let into the closed manifold, or the high side of a running engine, and no way out has opened since. A
   * controller that starts does not know what lies in it.
   */
  readonly manifoldFed: boolean;
  /** When something last moved the tank's content or heated it. */
  readonly tankStirredAtMs: number;
  /** How long the purge valve has been open since the machine was switched on, and whether it is. */
  readonly purgedMs: number;
  readonly purging: boolean;
  readonly airWatch: AirWatch;
  readonly engineWatch: EngineWatch;
  readonly seatWatch: SeatWatch;
  readonly lossWatch: LossWatch;
  readonly pourWatch: PourWatch;
  readonly trickleWatch: PourWatch;
  readonly seepWatch: PourWatch;
  readonly deliveryWatch: DeliveryWatch;
  readonly arrivalWatch: ArrivalWatch;
  readonly givenWatch: GivenWatch;
  readonly ventWatch: VentWatch;
  readonly trip: Trip | undefined;
};

/** A valve that has been open so long has made its two sides one pressure (estimate). */
export const JOINED_MS = 1_000;
/** A valve told to shut has surely done so: dead times of 80 ms with a deviation of 25 ms and some jitter (estimate). */
export const SHUT_MS = 300;

/** @param tankRestedMs how long the tank is known to have rested before; nothing is known without it. */
export const openMemory = (nowMs: number, tankRestedMs = 0): Memory => ({
  lastScanMs: nowMs,
  compressorOffSinceMs: nowMs,
  pumpOnSinceMs: undefined,
  highOpenSinceMs: undefined,
  lowOpenSinceMs: undefined,
  highShutSinceMs: nowMs - SHUT_MS,
  lowShutSinceMs: nowMs - SHUT_MS,
  chargeShutSinceMs: nowMs - SHUT_MS,
  vacuumShutSinceMs: nowMs - SHUT_MS,
  recoveryShutSinceMs: nowMs - SHUT_MS,
  drainShutSinceMs: nowMs - SHUT_MS,
  oilShutSinceMs: nowMs - SHUT_MS,
  dyeShutSinceMs: nowMs - SHUT_MS,
  heardAtMs: undefined,
  heardAgain: false,
  fanMovingSinceMs: undefined,
  manifoldLiquid: true,
  manifoldDrySinceMs: undefined,
  hosePulsedAtMs: undefined,
  manifoldFed: true,
  tankStirredAtMs: nowMs - tankRestedMs,
  purgedMs: 0,
  purging: false,
  airWatch: openAirWatch(),
  engineWatch: openEngineWatch(nowMs),
  seatWatch: NOT_SHUT,
  lossWatch: NOT_WEIGHED,
  pourWatch: NOT_POURING,
  trickleWatch: NOT_POURING,
  seepWatch: NOT_POURING,
  deliveryWatch: openDeliveryWatch(),
  arrivalWatch: NOTHING_ARRIVES,
  givenWatch: NOTHING_GIVEN,
  ventWatch: NOT_VENTING,
  trip: undefined,
});

/** Nothing but a hose valve is open, and nothing drives. */
export const isMachineShut = (memory: Memory): boolean =>
  memory.chargeShutSinceMs !== undefined &&
  memory.recoveryShutSinceMs !== undefined &&
  memory.vacuumShutSinceMs !== undefined &&
  memory.drainShutSinceMs !== undefined &&
  memory.oilShutSinceMs !== undefined &&
  memory.dyeShutSinceMs !== undefined &&
  memory.compressorOffSinceMs !== undefined &&
  memory.pumpOnSinceMs === undefined &&
  !memory.purging;

const since = (on: boolean, sinceMs: number | undefined, nowMs: number): number | undefined =>
  on ? (sinceMs ?? nowMs) : undefined;

/** The check valve lets into the tank whatever comes through the recovery path. */
const stirsTank = ({ compressor, recoveryValve, chargeValve, tankHeater }: Commands): boolean =>
  compressor.on || recoveryValve.on || chargeValve.on || tankHeater.on;

/** The high side of a running engine feeds the manifold; with the engine at rest it is a way out. */
function isFed(
  memory: Memory,
  { chargeValve, highSideValve, lowSideValve, recoveryValve }: Commands,
): boolean {
  if (chargeValve.on) return !highSideValve.on;
  if (lowSideValve.on || recoveryValve.on) return false;
  return memory.engineWatch.engine === 'running'
    ? memory.manifoldFed || highSideValve.on
    : memory.manifoldFed && !highSideValve.on;
}

/** Open for less time than it takes to join. */
const wasPulsed = ({ highOpenSinceMs }: Memory, { highSideValve }: Commands, nowMs: number): boolean =>
  !highSideValve.on && nowMs - (highOpenSinceMs ?? Number.NEGATIVE_INFINITY) < JOINED_MS;

/** After judging: what was really commanded. */
export function noteCommands(
  memory: Memory,
  permitted: Commands,
  trip: Trip | undefined,
  nowMs: number,
): Memory {
  return {
    ...memory,
    lastScanMs: nowMs,
    compressorOffSinceMs: since(!permitted.compressor.on, memory.compressorOffSinceMs, nowMs),
    pumpOnSinceMs: since(permitted.vacuumPump.on, memory.pumpOnSinceMs, nowMs),
    highOpenSinceMs: since(permitted.highSideValve.on, memory.highOpenSinceMs, nowMs),
    lowOpenSinceMs: since(permitted.lowSideValve.on, memory.lowOpenSinceMs, nowMs),
    highShutSinceMs: since(!permitted.highSideValve.on, memory.highShutSinceMs, nowMs),
    lowShutSinceMs: since(!permitted.lowSideValve.on, memory.lowShutSinceMs, nowMs),
    chargeShutSinceMs: since(!permitted.chargeValve.on, memory.chargeShutSinceMs, nowMs),
    vacuumShutSinceMs: since(!permitted.vacuumValve.on, memory.vacuumShutSinceMs, nowMs),
    recoveryShutSinceMs: since(!permitted.recoveryValve.on, memory.recoveryShutSinceMs, nowMs),
    drainShutSinceMs: since(!permitted.separatorDrainValve.on, memory.drainShutSinceMs, nowMs),
    oilShutSinceMs: since(!permitted.oilValve.on, memory.oilShutSinceMs, nowMs),
    dyeShutSinceMs: since(!permitted.dyeValve.on, memory.dyeShutSinceMs, nowMs),
    manifoldLiquid: memory.manifoldLiquid || permitted.chargeValve.on,
    manifoldDrySinceMs: permitted.chargeValve.on ? undefined : memory.manifoldDrySinceMs,
    hosePulsedAtMs: wasPulsed(memory, permitted, nowMs) ? nowMs : memory.hosePulsedAtMs,
    manifoldFed: isFed(memory, permitted),
    tankStirredAtMs: stirsTank(permitted) ? nowMs : memory.tankStirredAtMs,
    purgedMs: memory.purging ? memory.purgedMs + Math.max(0, nowMs - memory.lastScanMs) : memory.purgedMs,
    purging: permitted.airPurgeValve.on,
    seatWatch: shutSince(memory.seatWatch, permitted, nowMs),
    trip: memory.trip ?? trip,
  };
}
