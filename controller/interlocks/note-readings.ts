// What the interlocks remember, one scan later: what readings, scale and operator add before anything is judged.
import type { Seen } from '../estimates/seen.ts';
import type { OperatorEvent } from '../operator.ts';
import { watchAir } from './air-watch.ts';
import { watchEngine } from './engine-watch.ts';
import { isMachineShut, type Memory } from './memory.ts';
import { type Told, watchWeights } from './memory-watches.ts';
import { watchSeats } from './seat-watch.ts';
import { watchVent } from './vent-watch.ts';

/** A manifold this low for so long holds no liquid: saturation there is below −20 °C (estimate). */
const DRY_PA = 110_000;
const DRY_MS = 10_000;
/** What a hose let in for a moment is gone: liquid would have to be at -45 °C, and would not stay so cold (estimate). */
const DRAINED_PA = 35_000;
/** The board drops its outputs after 250 ms of silence, and then takes nothing before a word with everything off. */
const SILENCE_MS = 300;

const isHeardAgain = ({ heardAtMs: before }: Memory, { heardAtMs }: Seen): boolean =>
  (heardAtMs ?? Number.NaN) - (before ?? Number.NaN) >= SILENCE_MS;

/** What was let in, hose, vehicle and manifold have evened out through hose and valve core (estimate). */
const EVEN_MS = 10_000;

/** Nothing drives or feeds the manifold, and a hose has been open to it: a running engine draws through the low side. */
function isEvenedOut(memory: Memory, nowMs: number): boolean {
  const { highOpenSinceMs, lowOpenSinceMs, chargeShutSinceMs, engineWatch } = memory;
  if (highOpenSinceMs === undefined && lowOpenSinceMs === undefined) return false;
  const sinceMs = Math.max(highOpenSinceMs ?? 0, lowOpenSinceMs ?? 0, chargeShutSinceMs ?? nowMs);
  return (
    nowMs - sinceMs >= EVEN_MS &&
    (lowOpenSinceMs === undefined || engineWatch.engine === 'off') &&
    isMachineShut(memory)
  );
}

export type News = {
  readonly seen: Seen;
  /** More comes into the tank than the compressor could draw of air. */
  readonly denseInflow: boolean;
  readonly told: Told;
};

/** Before judging: what the readings and the operator add, all in one copy. */
export function noteReadings(
  memory: Memory,
  { seen, denseInflow, told }: News,
  events: readonly OperatorEvent[],
  nowMs: number,
): Memory {
  const fanMovingSinceMs = seen.fanFlow === 'tripped' ? (memory.fanMovingSinceMs ?? nowMs) : undefined;
  const manifoldPa = seen.manifoldPa ?? Number.POSITIVE_INFINITY;
  const manifoldDrySinceMs = manifoldPa < DRY_PA ? (memory.manifoldDrySinceMs ?? nowMs) : undefined;
  const dry = nowMs - (manifoldDrySinceMs ?? nowMs) >= DRY_MS;
  const manifoldLiquid = memory.manifoldLiquid && !dry;
  const hosePulsedAtMs = manifoldPa < DRAINED_PA ? undefined : memory.hosePulsedAtMs;
  const dried = nowMs - (hosePulsedAtMs ?? Number.NEGATIVE_INFINITY) >= DRY_MS;
  const manifoldDry = !manifoldLiquid && dried;
  const seatWatch = watchSeats(memory.seatWatch, seen, manifoldDry, nowMs);
  const ventInput = {
    closed: memory.seatWatch.shutSinceMs !== undefined,
    joined: isEvenedOut(memory, nowMs),
    dry: manifoldDry,
    pumpRuns: memory.pumpOnSinceMs !== undefined,
  };
  const weights = watchWeights(memory, { manifoldLiquid, seatWatch }, told, nowMs);
  const joined = memory.highOpenSinceMs !== undefined || memory.lowOpenSinceMs !== undefined;
  return {
    ...memory,
    heardAtMs: seen.heardAtMs ?? memory.heardAtMs,
    heardAgain: isHeardAgain(memory, seen),
    fanMovingSinceMs,
    manifoldDrySinceMs,
    hosePulsedAtMs,
    manifoldLiquid,
    airWatch: watchAir(memory.airWatch, seen, denseInflow, nowMs),
    engineWatch: watchEngine(memory.engineWatch, seen, joined, events, nowMs),
    seatWatch,
    ventWatch: watchVent(memory.ventWatch, seen, ventInput, nowMs),
    lossWatch: weights.lossWatch,
    pourWatch: weights.pourWatch,
    trickleWatch: weights.trickleWatch,
    seepWatch: weights.seepWatch,
    deliveryWatch: weights.deliveryWatch,
    arrivalWatch: weights.arrivalWatch,
    givenWatch: weights.givenWatch,
  };
}
