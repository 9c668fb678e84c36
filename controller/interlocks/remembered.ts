// What the interlocks are told of what is remembered: classes, as of readings.
import { suctionOf } from './air-watch.ts';
import { arrivalOf } from './arrival-watch.ts';
import { givenOf } from './given-watch.ts';
import { isFalling } from './loss-watch.ts';
import { JOINED_MS, type Memory, SHUT_MS } from './memory.ts';
import { seatsOf } from './seat-watch.ts';
import { ventOf } from './vent-watch.ts';

export const MEMORY = {
  trip: ['none', 'latched'],
  clock: ['steady', 'jumped'],
  compressor: ['running', 'rested', 'just-stopped'],
  pump: ['off', 'starting', 'up-to-speed'],
  highPath: ['joined', 'apart'],
  lowPath: ['joined', 'apart'],
  highSeat: ['shut', 'may-be-open'],
  lowSeat: ['shut', 'may-be-open'],
  chargeSeat: ['shut', 'may-be-open'],
  vacuumSeat: ['shut', 'may-be-open'],
  recoverySeat: ['shut', 'may-be-open'],
  drainSeat: ['shut', 'may-be-open'],
  oilSeat: ['shut', 'may-be-open'],
  dyeSeat: ['shut', 'may-be-open'],
  fan: ['proven', 'unproven'],
  suction: ['clear', 'steady-at-barometer'],
  manifoldHolds: ['no-liquid', 'liquid'],
  deadEnd: ['empty', 'fed'],
  tankRest: ['rested', 'stirred'],
  purge: ['some-left', 'spent'],
  engine: ['off', 'running', 'suspected'],
  seats: ['tight', 'leaks'],
  vent: ['shut', 'open'],
  restMass: ['steady', 'falling'],
  delivery: ['free', 'blocked'],
  arrival: ['refrigerant', 'air'],
  given: ['some-left', 'spent', 'unknown'],
} as const;
export type MemoryName = keyof typeof MEMORY;
export type Remembered = { readonly [M in MemoryName]: (typeof MEMORY)[M][number] };

/** Oil and rotor are up to speed (common practice 3–5 s). */
const PUMP_UP_MS = 3_000;
const FAN_PROVEN_MS = 2_000;
/** Untouched for so long, liquid, wall and thermometer of the tank are one temperature (estimate; the classical check waits 12 h: SAE J1989). */
const TANK_RESTED_MS = 7_200_000;
/** Some 25 g out of a tank at room temperature (estimate: 0.8 g/s through a 0.8 mm seat). */
const PURGE_MOST_MS = 30_000;
/** A scan later than this, or time running back, is as bad as a lost link. */
const JUMP_MS = 2_000;

const lasted = (sinceMs: number | undefined, nowMs: number, ms: number): boolean =>
  nowMs - (sinceMs ?? Number.POSITIVE_INFINITY) >= ms;

const seat = (shutSinceMs: number | undefined, nowMs: number): Remembered['highSeat'] =>
  lasted(shutSinceMs, nowMs, SHUT_MS) ? 'shut' : 'may-be-open';

export function recall(memory: Memory, nowMs: number, minimumOffMs: number): Remembered {
  const gapMs = nowMs - memory.lastScanMs;
  return {
    trip: memory.trip === undefined ? 'none' : 'latched',
    clock: gapMs >= 0 && gapMs <= JUMP_MS && !memory.heardAgain ? 'steady' : 'jumped',
    compressor:
      memory.compressorOffSinceMs === undefined
        ? 'running'
        : lasted(memory.compressorOffSinceMs, nowMs, minimumOffMs)
          ? 'rested'
          : 'just-stopped',
    pump:
      memory.pumpOnSinceMs === undefined
        ? 'off'
        : lasted(memory.pumpOnSinceMs, nowMs, PUMP_UP_MS)
          ? 'up-to-speed'
          : 'starting',
    highPath: lasted(memory.highOpenSinceMs, nowMs, JOINED_MS) ? 'joined' : 'apart',
    lowPath: lasted(memory.lowOpenSinceMs, nowMs, JOINED_MS) ? 'joined' : 'apart',
    highSeat: seat(memory.highShutSinceMs, nowMs),
    lowSeat: seat(memory.lowShutSinceMs, nowMs),
    chargeSeat: seat(memory.chargeShutSinceMs, nowMs),
    vacuumSeat: seat(memory.vacuumShutSinceMs, nowMs),
    recoverySeat: seat(memory.recoveryShutSinceMs, nowMs),
    drainSeat: seat(memory.drainShutSinceMs, nowMs),
    oilSeat: seat(memory.oilShutSinceMs, nowMs),
    dyeSeat: seat(memory.dyeShutSinceMs, nowMs),
    fan: lasted(memory.fanMovingSinceMs, nowMs, FAN_PROVEN_MS) ? 'proven' : 'unproven',
    suction: suctionOf(memory.airWatch, nowMs),
    manifoldHolds: memory.manifoldLiquid ? 'liquid' : 'no-liquid',
    deadEnd: memory.manifoldFed ? 'fed' : 'empty',
    tankRest: lasted(memory.tankStirredAtMs, nowMs, TANK_RESTED_MS) ? 'rested' : 'stirred',
    purge: memory.purgedMs < PURGE_MOST_MS ? 'some-left' : 'spent',
    engine: memory.engineWatch.engine,
    seats: seatsOf(memory.seatWatch, nowMs),
    vent: ventOf(memory.ventWatch),
    restMass:
      memory.pourWatch.pours ||
      memory.trickleWatch.pours ||
      memory.seepWatch.pours ||
      isFalling(memory.lossWatch)
        ? 'falling'
        : 'steady',
    delivery: memory.deliveryWatch.blocked ? 'blocked' : 'free',
    arrival: arrivalOf(memory.arrivalWatch),
    given: givenOf(memory.givenWatch),
  };
}

/** Named one by one, as `sameBands` is. */
export function sameRemembered(a: Remembered, b: Remembered): boolean {
  return (
    a.trip === b.trip &&
    a.clock === b.clock &&
    a.compressor === b.compressor &&
    a.pump === b.pump &&
    a.highPath === b.highPath &&
    a.lowPath === b.lowPath &&
    a.highSeat === b.highSeat &&
    a.lowSeat === b.lowSeat &&
    a.chargeSeat === b.chargeSeat &&
    a.vacuumSeat === b.vacuumSeat &&
    a.recoverySeat === b.recoverySeat &&
    a.drainSeat === b.drainSeat &&
    a.oilSeat === b.oilSeat &&
    a.dyeSeat === b.dyeSeat &&
    a.fan === b.fan &&
    a.suction === b.suction &&
    a.manifoldHolds === b.manifoldHolds &&
    a.deadEnd === b.deadEnd &&
    a.tankRest === b.tankRest &&
    a.purge === b.purge &&
    a.engine === b.engine &&
    a.seats === b.seats &&
    a.vent === b.vent &&
    a.restMass === b.restMass &&
    a.delivery === b.delivery &&
    a.arrival === b.arrival &&
    a.given === b.given
  );
}
